"""Orders that come in part, or of the wrong thing. Situations T39 and T40; quantities: common practice, no source."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.daybook.entries import Delivered, Ordered
from checklists.daybook.stock_now import Stock, stock_now
from checklists.files.plan_folder import read_plan
from tests.commandline.running import Ran, monday_lines, on_monday, trundle
from tests.days import TUESDAY, after_the_battery_died, at, close, opened, opened_again, teach_all
from tests.schools import (
    MONDAY,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    reference_school,
    reference_supplies,
    small_school,
)

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri")


def white_paper_school(folder: Path, *, on_hand: int = 120, **habits: Any) -> Path:
    """Every day 24 and 22 children take a sheet of white each: 46 a day, and 46 + 5 = 51 have to be there."""
    drawing = [a_lesson(f"drawing-{n}", [a_part("draw", [an_item("white-12x18")])]) for n in range(40)]
    return small_school(
        folder,
        timetable={day: {"P1": "3-B", "P2": "3-K"} for day in WEEKDAYS},
        teaching={"3": [each["id"] for each in drawing]},
        lessons=drawing,
        supplies=[
            a_supply(
                "white-12x18",
                "white paper 12x18",
                kind="paper",
                shelf="P1",
                pack=50,
                on_hand=on_hand,
                counted=date(2026, 9, 12),
            ),
        ],
        **habits,
    )


def orders(data: Path, on: str = "2026-10-05") -> dict[str, Any]:
    return trundle("orders", "--json", "--date", on, "--at", "15:20", data=data).fields


def the_due(data: Path, on: str = "2026-10-05") -> dict[str, Any]:
    (due,) = orders(data, on)["due"]
    assert isinstance(due, dict)
    return due


def words(ran: Ran) -> str:
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines())
    return " ".join(ran.out.split())


# --------------------------------------------------------------------------- T39 eight of twelve packs come


@pytest.fixture
def eight_of_twelve(tmp_path: Path) -> Path:
    """120 sheets of white are there, 12 packs of 50 were ordered, 8 come."""
    data = white_paper_school(tmp_path)
    assert on_monday("order", "white", "paper", "12", "--expected", "2026-10-05", data=data).status == 0
    assert on_monday("delivered", "white", "paper", "8", data=data, at="11:50").status == 0
    return data


def test_what_came_is_on_hand_and_the_rest_stays_due(eight_of_twelve: Path) -> None:
    due = the_due(eight_of_twelve)
    assert (due["packs"], due["due"], due["pack"], due["on_hand"], due["about"]) == (12, 4, 50, 520, True)
    assert due["counted"] == "2026-09-12"


def test_a_delivery_says_where_it_goes_what_there_is_now_and_what_is_to_be_claimed(tmp_path: Path) -> None:
    data = white_paper_school(tmp_path)
    on_monday("order", "white-12x18", "12", data=data)
    said = words(on_monday("delivered", "white-12x18", "8", data=data))
    assert "white paper 12x18: 8 packs of 50 came, to shelf P1." in said
    assert "on hand about 520, counted Sat 12 Sep." in said
    assert "4 packs of 50 still due; claim by Thu 15 Oct." in said  # ten days after the delivery


def test_the_day_it_runs_out_moves_with_what_came(tmp_path: Path) -> None:
    """120 last for Mon and Tue and leave 28 for Wed; 520 last ten more days: of 520 - 11 x 46 = 14 Tue 20 cannot do."""
    data = white_paper_school(tmp_path)
    on_monday("order", "white-12x18", "12", data=data)
    assert the_due(data)["runs_out"] == "2026-10-07"
    on_monday("delivered", "white-12x18", "8", data=data)
    assert the_due(data)["runs_out"] == "2026-10-20"


def test_what_is_due_is_not_ordered_twice(eight_of_twelve: Path) -> None:
    """Over 21 school days 20 x 46 + 51 = 971 are needed: 451 more, ten packs, of which four are due."""
    (wanted,) = orders(eight_of_twelve)["to_order"]
    assert (wanted["supply"], wanted["packs"], wanted["runs_out"]) == ("white-12x18", 6, "2026-10-20")
    assert (wanted["order_by"], wanted["too_late"]) == ("2026-09-29", True)  # 15 school days before


def test_with_a_shorter_lead_the_last_day_to_order_is_said(tmp_path: Path) -> None:
    data = white_paper_school(tmp_path, on_hand=520)
    school = data / "school.toml"
    school.write_text(school.read_text("utf-8") + "\n[habits]\nlead_school_days = 8\n", "utf-8")
    (wanted,) = orders(data)["to_order"]
    assert (wanted["runs_out"], wanted["order_by"], wanted["too_late"]) == ("2026-10-20", "2026-10-08", False)
    assert "order by Thu 8 Oct" in words(on_monday("orders", data=data))


def test_four_more_packs_settle_the_order(eight_of_twelve: Path) -> None:
    assert on_monday("delivered", "white-12x18", "4", data=eight_of_twelve, at="12:00").status == 0
    found = orders(eight_of_twelve)
    assert found["due"] == []
    assert found["to_order"][0]["on_hand"] == 720


def test_undo_takes_a_delivery_and_an_order_back(eight_of_twelve: Path) -> None:
    undone = words(on_monday("undo", data=eight_of_twelve, at="12:00"))
    assert "Taken back: white paper 12x18: 8 packs came" in undone
    due = the_due(eight_of_twelve)
    assert (due["due"], due["on_hand"], due["claim_by"]) == (12, 120, None)
    words(on_monday("undo", data=eight_of_twelve, at="12:00"))
    assert orders(eight_of_twelve)["due"] == []


def test_an_order_that_will_not_come_is_let_go(eight_of_twelve: Path) -> None:
    said = words(on_monday("order", "white-12x18", "--let-go", data=eight_of_twelve, at="12:00"))
    assert "4 packs of 50 not waited for any more" in said
    assert orders(eight_of_twelve)["due"] == []
    again = on_monday("order", "white-12x18", "--let-go", data=eight_of_twelve, at="12:01")
    assert (again.status, again.err) == (2, "No white paper 12x18 is on order.\n")


def test_closing_keeps_what_is_due_and_takes_off_what_was_used(eight_of_twelve: Path) -> None:
    for visit in ("V1", "V2"):
        on_monday("report", visit, "--as-planned", data=eight_of_twelve, at="15:00")
    on_monday("close", data=eight_of_twelve, at="15:10")
    due = the_due(eight_of_twelve, "2026-10-06")
    assert (due["due"], due["on_hand"], due["since"], due["late"]) == (4, 520 - 46, "2026-10-05", True)
    assert trundle("check", data=eight_of_twelve).status == 0


def test_a_delivery_noted_for_a_closed_day_carries_through(tmp_path: Path) -> None:
    book = opened(white_paper_school(tmp_path))
    book.do(MONDAY, Ordered(at=at("7:50"), supply="white-12x18", packs=12))
    for day in (MONDAY, TUESDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.do(MONDAY, Delivered(at=at("16:00", TUESDAY), supply="white-12x18", packs=8))
    after = opened_again(book).closing_of(TUESDAY)
    assert after.on_hand["white-12x18"] == 120 + 400 - 2 * 46
    assert [(each.due, each.claim_by) for each in after.orders] == [(4, date(2026, 10, 15))]
    assert book.check_chain() == ()


def test_an_order_is_on_the_disk_when_it_is_shown(tmp_path: Path) -> None:
    book = opened(white_paper_school(tmp_path / "school"))
    book.do(MONDAY, Ordered(at=at("7:50"), supply="white-12x18", packs=12))
    book.do(MONDAY, Delivered(at=at("7:55"), supply="white-12x18", packs=8))

    def stock(of: Any) -> Stock:
        return stock_now(of.plan, of.day(MONDAY), of.marks(MONDAY), of.opening(MONDAY))

    left = after_the_battery_died(book, into=tmp_path / "died")
    assert stock(left) == stock(book)
    assert (stock(left).on_hand["white-12x18"], stock(left).due("white-12x18")) == (520, 4)


def test_a_count_after_the_delivery_has_it_in_it_and_one_before_has_not(tmp_path: Path) -> None:
    data = white_paper_school(tmp_path)
    on_monday("count", "white-12x18", "100", data=data, at="7:30")
    on_monday("delivered", "white-12x18", "2", data=data, at="7:40")
    assert orders(data)["to_order"][0]["on_hand"] == 200
    on_monday("count", "white-12x18", "190", data=data, at="7:50")
    found = orders(data)["to_order"][0]
    assert (found["on_hand"], found["about"]) == (190, False)
    assert "on hand 190, counted today" in words(on_monday("orders", data=data))


def test_what_was_out_is_what_came(tmp_path: Path) -> None:
    """She had said that it is out, whatever the number was: two packs are all there is on the shelf."""
    data = white_paper_school(tmp_path)
    on_monday("low", "white-12x18", "--level", "out", data=data, at="7:30")
    assert orders(data)["to_order"][0]["level"] == "out"
    on_monday("delivered", "white-12x18", "2", data=data, at="7:40")
    found = orders(data)["to_order"][0]
    assert (found["on_hand"], found["level"]) == (100, "")


# ------------------------------------------------------------------------------- T40 the wrong needles come


@pytest.fixture
def plastic_needles(tmp_path: Path) -> Path:
    """20 metal needles for the 25 of 3-K and 2 spare; 60 were ordered, and 60 plastic ones come."""
    supplies = [*reference_supplies(), a_supply("plastic-needle", "plastic needle", kind="tool", shelf="K5", on_hand=0)]
    data = reference_school(
        tmp_path,
        supplies=supplies,
        contents={"stitching": {"blunt-needle": 20}, "cart": {"scissors": 30}},
    )
    assert on_monday("order", "blunt-needle", "60", data=data, at="7:30").status == 0
    assert (
        on_monday("delivered", "plastic-needle", "60", "--instead-of", "blunt needle", data=data, at="11:50").status
        == 0
    )
    return data


def test_what_was_ordered_stays_due_and_is_to_be_claimed_in_ten_days(plastic_needles: Path) -> None:
    due = the_due(plastic_needles)
    assert (due["supply"], due["due"], due["claim_by"]) == ("blunt-needle", 60, "2026-10-15")
    assert due["came_instead"] == "plastic-needle"
    page = words(on_monday("orders", data=plastic_needles))
    assert "blunt needle: 60, ordered Mon 5 Oct, plastic needle came instead, claim by Thu 15 Oct" in page


def test_the_metal_line_stays_short(plastic_needles: Path) -> None:
    line = monday_lines(plastic_needles)["blunt-needle"]
    assert (line["need"], line["has"], line["add"]) == (27, 20, 7)


def test_what_came_is_a_supply_of_its_own(plastic_needles: Path) -> None:
    close_all(plastic_needles)
    book = opened(plastic_needles, today=TUESDAY)
    assert book.opening(TUESDAY).on_hand["plastic-needle"] == 60
    assert "blunt-needle" not in book.opening(TUESDAY).on_hand
    assert [(each.supply, each.due) for each in book.opening(TUESDAY).orders] == [("blunt-needle", 60)]
    book.release()


def close_all(data: Path) -> None:
    book = opened(data)
    teach_all(book, MONDAY)
    close(book)
    book.release()


def test_undo_gives_back_the_order_without_a_claim(plastic_needles: Path) -> None:
    assert "plastic needle: 60 came in place of blunt needle" in words(
        on_monday("undo", data=plastic_needles, at="12:00")
    )
    assert the_due(plastic_needles)["claim_by"] is None


def test_the_days_to_claim_in_are_hers_to_set_from_ten_to_thirty(tmp_path: Path) -> None:
    data = white_paper_school(tmp_path)
    school = data / "school.toml"
    written = school.read_text("utf-8")
    school.write_text(f"{written}\n[habits]\nclaim_days = 30\n", "utf-8")
    on_monday("order", "white-12x18", "12", data=data)
    assert "claim by Wed 4 Nov" in words(on_monday("delivered", "white-12x18", "8", data=data))
    school.write_text(f"{written}\n[habits]\nclaim_days = 5\n", "utf-8")
    (problem,) = read_plan(data).problems
    assert "claim_days" in str(problem)
    assert "10 to 30" in str(problem)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("order", "white", "paper"), "is not a whole number"),
        (("order", "white-12x18", "0"), "Say how many packs"),
        (("order", "wite-12x18", "4"), "Did you mean white-12x18?"),
        (("order", "white-12x18", "4", "--expected", "2026-10-01"), "is over on Mon 5 Oct"),
        (("delivered", "white-12x18", "4", "--instead-of", "white-12x18"), "is what came"),
        (("delivered", "white-12x18"), "Behind trundle delivered type"),
    ],
)
def test_an_order_that_cannot_be_is_said_and_nothing_noted(tmp_path: Path, typed: tuple[str, ...], told: str) -> None:
    data = white_paper_school(tmp_path)
    ran = on_monday(*typed, data=data)
    assert ran.status == 2
    assert told in ran.err
    assert orders(data)["due"] == []


def test_something_in_place_of_what_nobody_ordered_is_refused(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    ran = on_monday("delivered", "clay-portion", "4", "--instead-of", "clay mat", data=data)
    assert ran.status == 2
    assert "No clay mat is on order" in ran.err
