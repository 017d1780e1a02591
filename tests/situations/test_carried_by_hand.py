"""The elevator is out, there is no cart, the planning period is lost: what is carried, when, what moves. T42.

Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.daybook.state import Place
from tests.commandline.running import on_monday
from tests.days import at, opened
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    Entry,
    a_class,
    a_kit,
    a_lesson,
    a_part,
    a_room,
    a_supply,
    an_item,
    in_the_evening,
    reference_school,
    reference_supplies,
)
from tests.situations.changing import changed, coming, decision_of
from tui.notices import all_notices

WORDS = "13.4 kg, 2 trips, 11 min against 0 min: not possible at 13:15 without leaving ahead at 11:45"


def clay_school(folder: Path, *, locked: bool = False, **more: Any) -> Path:
    """2-R in P5 and 4-D in P6 in room 21 upstairs: 29 portions of 340 g, 26 mats of 60 g, tools of 0.8 kg, box 1.2."""
    clay = [an_item("clay-portion", critical=True), an_item("clay-mat"), an_item("clay-tools", per="class")]
    rubbings = a_lesson("leaf-rubbings", [a_part("rub the leaves", [an_item("white-9x12")])])
    tools: Entry = a_supply("clay-tools", kind="tool", grams=800)
    classes = [a_class("2-R", room="11", students=23), a_class("4-D", room="21", students=26)]
    plan: dict[str, Any] = {
        "classes": classes,
        "timetable": {"A": {"P5": "2-R", "P6": "4-D"}},
        "teaching": {"2": ["leaf-rubbings"], "4": ["owls"]},
        "supplies": [*reference_supplies(), tools],
        "lessons": [
            a_lesson("owls", [a_part("pinch", clay)], kits=["clay"], dry_version="leaf-rubbings"),
            rubbings,
        ],
        "boxes": [{"grade": "4"}],
        "kits": [a_kit("clay", {"clay-mat": 30}, empty_grams=0)],
        "school": {
            "rooms": [a_room("11"), a_room("21", upstairs=True, can_be_locked=locked)],
            "walks": [
                {"between": ["store", "11"], "minutes": 2},
                {"between": ["store", "21"], "minutes": 4},
                {"between": ["11", "21"], "minutes": 4},
            ],
        },
        **more,
    }
    return reference_school(folder, **plan)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(clay_school(tmp_path / "school"))


def test_without_the_elevator_it_is_said_what_two_trips_take(book: Book) -> None:
    with changed(book, elevator_out=True) as day:
        decision = decision_of(day, "4-D")
        assert WORDS in decision.text
        assert "only if it can be locked, and sharp things never" in decision.text
        assert not decision.stops
        assert [each.label for each in decision.offers] == [
            "teach Leaf Rubbings",
            "carry it all the same",
            "4-D is not visited",
        ]
    assert book.day(MONDAY).decisions == ()


def test_where_the_room_can_be_locked_it_may_be_left_there_ahead(tmp_path: Path) -> None:
    book = opened(clay_school(tmp_path / "school", locked=True))
    with changed(book, elevator_out=True) as day:
        ahead = next(each for each in decision_of(day, "4-D").offers if each.label.startswith("leave it ahead"))
        assert ahead.label == "leave it ahead in planning, 11:45"
        book.do(MONDAY, ahead.change)
        after = book.day(MONDAY)
        assert after.decisions == ()
        (check,) = (each for each in after.checks if "Carry what 4-D needs" in each.what)
        assert "to Room 21 in planning, 11:45: 13.4 kg, 2 trips, 12 min" in check.what
        assert (check.critical, check.at) == (True, "store")
        book.undo(MONDAY)


@pytest.mark.parametrize("label", ["teach Leaf Rubbings", "carry it all the same", "4-D is not visited"])
def test_each_way_out_settles_it(book: Book, label: str) -> None:
    with changed(book, elevator_out=True) as day:
        offer = next(each for each in decision_of(day, "4-D").offers if each.label == label)
        book.do(MONDAY, offer.change)
        after = book.day(MONDAY)
        told = [each for each in after.decisions if "13.4 kg" in each.text]
        assert told == []
        assert ("4-D" in coming(after)) == (label != "4-D is not visited")
        assert any("13.4 kg" in each.what for each in after.cautions) == (label == "carry it all the same")
        book.undo(MONDAY)


def test_in_a_lost_planning_period_nothing_can_be_left_ahead(book: Book) -> None:
    with changed(book, elevator_out=True, planning_lost=True) as day:
        text = decision_of(day, "4-D").text
        assert "not possible at 13:15." in text
        assert "ahead" not in text


def test_without_a_cart_every_room_has_its_own_walk(book: Book) -> None:
    with changed(book, no_cart=True) as day:
        assert {visit.class_id: visit.by_hand for visit in day.visits} == {"2-R": 2, "4-D": 4}
        assert "13.4 kg, 2 trips, 14 min against 0 min" in decision_of(day, "4-D").text


def test_the_first_way_is_part_of_when_to_leave(tmp_path: Path) -> None:
    book = opened(clay_school(tmp_path / "school", timetable={"A": {"P6": "4-D"}}))
    usual = book.day(MONDAY).leave_by
    assert usual == 13 * 60 + 15 - 4 - 4 - 2  # walk, setting up, slack
    with changed(book, elevator_out=True) as day:
        assert day.leave_by == 13 * 60 + 15 - (12 - 3) - 4 - 2  # up, down, up
        assert any("13.4 kg, 2 trips, 9 min against 350 min" in each.what for each in day.cautions)


def test_a_room_downstairs_needs_no_elevator(book: Book) -> None:
    with changed(book, elevator_out=True) as day:
        assert {visit.class_id: visit.by_hand for visit in day.visits} == {"2-R": 0, "4-D": 3}


def test_a_task_in_a_lost_planning_period_moves_to_after_school(tmp_path: Path) -> None:
    cut = [{"what": "cut strips", "minutes": 20, "days_before": 1}]
    lessons = [a_lesson("owls", [a_part("pinch", [an_item("white-9x12")], preps=cut)])]
    timetable = {"B": {"P6": "4-D"}, "A": {"P5": "2-R"}}
    teaching = {"4": ["owls"], "2": ["owls"]}
    book = opened(clay_school(tmp_path / "school", lessons=lessons, timetable=timetable, teaching=teaching))
    places = [each.place for each in book.day(MONDAY).tasks if each.class_id == "4-D"]
    assert places == ["planning, 11:45"]
    with changed(book, planning_lost=True) as day:
        assert [each.place for each in day.tasks if each.class_id == "4-D"] == ["after school"]


def test_all_of_it_by_command(tmp_path: Path) -> None:
    data = clay_school(tmp_path, locked=True)
    said = " ".join(on_monday("change", "--elevator-out", "yes", data=data).out.split())
    assert WORDS in said
    answered = on_monday("answer", "V2 4-D By hand to", "leave it ahead", data=data)
    assert answered.status == 0
    assert "left in the room ahead" in answered.out
    assert "Carry what 4-D needs to Room 21" in " ".join(on_monday("morning", data=data).out.split())
    assert "elevator works" in on_monday("change", "--elevator-out", "no", data=data).out
    assert "no planning period" in on_monday("change", "--planning-lost", "yes", data=data).out


def test_saying_it_twice_is_one_change(book: Book) -> None:
    with changed(book, elevator_out=True) as day:
        book.do(MONDAY, Changed(at=at("7:00"), elevator_out=True))
        assert book.day(MONDAY) == day
        book.undo(MONDAY)


# ------------------------------------------------------------------------- the decision, the route and the sheet agree


@pytest.mark.parametrize("said", [{"elevator_out": True}, {"no_cart": True}])
def test_the_route_takes_the_minutes_and_comes_to_the_verdict_of_the_decision(
    tmp_path: Path, said: dict[str, bool]
) -> None:
    with opened(reference_school(tmp_path / "school")) as book, changed(book, **said) as day:
        route = book.route(MONDAY)
        assert route.told is not None and route.carried
        for one in route.carried:
            way = route.told.ways[one.visit.number - 1]
            if not one.visit.is_first:
                assert (way.minutes, way.spare) == (one.minutes, one.visit.gap_before - one.minutes)
            decided = [each.text for each in day.decisions if each.key == f"by hand/{one.visit.key}"]
            assert (way.spare < 0) == bool(decided)
            assert all(f"{one.minutes} min against {one.visit.gap_before} min" in text for text in decided)


def test_what_is_left_ahead_by_hand_is_on_the_route_and_on_the_sheet(tmp_path: Path) -> None:
    data = clay_school(tmp_path, locked=True, timetable={"A": {"P3": "2-R", "P6": "4-D"}})
    on_monday("change", "--elevator-out", "yes", data=data)
    with opened(data) as book:
        (one,) = book.route(MONDAY).carried
        book.do(MONDAY, Changed(at=at("7:40"), left_ahead={one.visit.key: True}))
        route = book.route(MONDAY)
        assert route.told is not None and route.told.ways[1].spare >= 0
    page = " ".join(on_monday("route", data=data).out.split())
    at_lunch = page.partition("AFTER V1")[2].partition("V2 13:15")[0]
    assert "Carry ahead by hand in planning, 11:45: Clay kit and Box 4 to Room 21, 13.4 kg, 2 trips, 12 min" in (
        at_lunch.replace("Box 4 and Clay kit", "Clay kit and Box 4")
    )
    assert "carried there ahead" in page and "Carry back" in page.partition("AFTER SCHOOL")[2]
    sheet = " ".join(on_monday("sheet", data=data).out.split())
    assert "in Room 21, 12 min." in sheet.partition("LEAVE AHEAD")[2]
    assert "(stands there)" in sheet or "stands there)" in sheet
    assert "AFTER SCHOOL fetch" in sheet


def test_without_a_cart_every_stop_says_what_is_carried_and_what_comes_back(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    told = " ".join(on_monday("change", "--no-cart", "yes", data=data).out.split())
    assert "By hand to Room 9" in told
    page = on_monday("route", data=data).out
    stop = " ".join(page.partition("AFTER V1")[2].partition("V2 8:45")[0].split())
    assert "Bring back: Box K and Watercolour kit" in stop and "By hand: Box 1," in stop and "1 trip." in stop
    assert "half slots" not in page and "Nothing comes off or on" not in page
    sheet = " ".join(on_monday("sheet", data=data).out.split())
    assert "BRING BACK Box K and Watercolour kit. BY HAND Box 1," in sheet
    assert "nothing beside what stands on the cart" not in sheet
    assert "AFTER SCHOOL fetch Box 5 from Room 23" in sheet
    carried = {each["visit"]: each for each in on_monday("route", "--json", data=data).fields["by_hand"]}
    assert carried["P2 1-P"]["containers"] == ["box-1"] and carried["P2 1-P"]["trips"] == 1


def test_there_is_one_truth_about_whether_a_visit_to_be_decided_is_packed(book: Book, tmp_path: Path) -> None:
    data = clay_school(tmp_path / "again")
    on_monday("change", "--elevator-out", "yes", data=data)
    for page in ("morning", "sheet"):
        said = " ".join(on_monday(page, data=data).out.split())
        assert "Packed meanwhile as planned" in said, page
        assert "Nothing is packed for it until" not in said, page


def test_what_is_carried_and_stands_in_a_room_is_fetched_for_its_visit(tmp_path: Path) -> None:
    data = in_the_evening(reference_school(tmp_path), places={"printing": Place("11", FRIDAY_BEFORE, "P5")})
    on_monday("change", "--no-cart", "yes", data=data)
    page = on_monday("route", data=data).out
    assert "Printing kit from Room 11" in page.partition("V5 12:30")[0]
    assert "Printing kit" not in page.partition("AFTER SCHOOL")[2]


def test_no_caution_says_that_there_is_no_time_for_a_way_that_the_route_takes(tmp_path: Path) -> None:
    """1-P comes right after K-M: with the cart its things ride along; without it she goes by the store, and is late."""
    data, words = reference_school(tmp_path), "No time for the store before 1-P"
    assert words in " ".join(on_monday("morning", data=data).out.split())
    assert any(words in each["what"] for each in on_monday("morning", "--json", data=data).fields["cautions"])
    with opened(data) as book:
        assert any(words in each.text for each in all_notices(book, book.day(MONDAY), book.marks(MONDAY)))
    said = " ".join(on_monday("change", "--no-cart", "yes", data=data).out.split())
    assert words not in said
    assert words not in " ".join(on_monday("morning", data=data).out.split())
    assert all(words not in each["what"] for each in on_monday("morning", "--json", data=data).fields["cautions"])
    with opened(data) as book:
        assert all(words not in each.text for each in all_notices(book, book.day(MONDAY), book.marks(MONDAY)))
    assert "LATE" in on_monday("route", data=data).out.partition("V2 8:45")[2].partition("\n")[0]
