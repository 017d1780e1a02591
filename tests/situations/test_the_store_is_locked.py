"""The store is locked until 7:55. Situation T48; numbers of the reference school, common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.lines.records import Decision
from checklists.route.problem import Leg
from checklists.route.stops import Way, way_of
from checklists.taught_periods import bells_on
from checklists.words import clock
from tests.commandline.running import on_monday
from tests.days import after_the_battery_died, at, close, opened, teach_all
from tests.schools import MONDAY, reference_school
from tests.tui.desk import at_desk


@pytest.fixture
def locked(tmp_path: Path) -> Book:
    """Locked until 7:55: from there to Room 4 and set up she is ready at 8:01, V1 begins at 8:00."""
    rubbings = {"habits": {"filler": "leaf-rubbings"}}
    book = opened(reference_school(tmp_path / "school", school=rubbings))
    book.do(MONDAY, Changed(at=at("7:26"), store_opens="7:55"))
    return book


def decided(book: Book) -> tuple[Decision, ...]:
    return book.day(MONDAY).decisions


def test_leave_by_moves_and_what_can_ride_without_the_store_is_listed(locked: Book) -> None:
    assert locked.day(MONDAY).leave_by == 7 * 60 + 55
    (decision,) = decided(locked)
    assert decision.text.startswith("The store opens at 7:55, 1 min too late for V1 K-M.")
    assert "30 scissors" in decision.text
    assert not decision.stops
    assert [offer.label for offer in decision.offers] == [
        "teach Leaf Rubbings",
        "leave it as it is",
        "K-M is not visited",
    ]


@pytest.mark.parametrize("choice", [0, 1, 2])
def test_each_way_out_settles_it_and_the_class_moves_on_only_where_its_own_part_was_taught(
    locked: Book, choice: int
) -> None:
    locked.do(MONDAY, decided(locked)[0].offers[choice].change)
    assert decided(locked) == ()
    teach_all(locked, MONDAY)
    close(locked, MONDAY)
    progress = locked.closing_of(MONDAY).progress["K-M"]
    moved_on = (progress.lesson, progress.part) != ("striped-fish", 2)
    assert moved_on is (choice == 1)


def test_a_store_that_opens_early_enough_asks_nothing(locked: Book) -> None:
    locked.do(MONDAY, Changed(at=at("7:27"), store_opens="7:40"))
    assert decided(locked) == ()
    assert locked.day(MONDAY).leave_by == 7 * 60 + 52


def test_it_is_there_after_the_battery_died_and_undone_it_is_not(locked: Book, tmp_path: Path) -> None:
    with after_the_battery_died(locked, into=tmp_path / "again") as again:
        assert len(decided(again)) == 1
        again.undo(MONDAY)
        assert decided(again) == ()
        assert again.day(MONDAY).leave_by == 7 * 60 + 52


def test_by_command_and_taken_back(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = " ".join(on_monday("change", "--store-from", "7:55", data=data).out.split())
    assert "the store opens at 7:55" in said and "Leave the store by 7:55" in said
    assert on_monday("change", "--store-from", "usual", data=data).status == 0
    assert on_monday("morning", "--json", data=data).fields["leave_by"] == "7:52"
    assert on_monday("change", "--store-from", "soon", data=data).status == 2


async def test_on_screen_in_six_keys(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t o 7 5 5 enter")
        assert "The store opens at 7:55" in desk.screen
        await desk.press("b")
        assert "leave by 7:55" in desk.screen


# ------------------------------------------------------------- the minutes there are, and what the route makes of it


def test_nothing_leaves_the_store_before_it_is_open_with_a_small_cart(tmp_path: Path) -> None:
    """Whenever it opens: what is left ahead before 7:52 fits between the two, and no stop is over before it."""
    with opened(
        reference_school(tmp_path / "school", school={"cart": {"half_slots": 4, "standing": {"scissors": 30}}})
    ) as book:
        usual = book.leave_by(MONDAY)
        assert usual is not None and usual.is_ahead and usual.minute < 7 * 60 + 52
        for opens in range(7 * 60 + 30, 8 * 60 + 40, 3):
            book.do(MONDAY, Changed(at=at("7:26"), store_opens=clock(opens)))
            leave = book.leave_by(MONDAY)
            assert leave is not None and (leave.minute >= opens), clock(opens)
            told = book.route(MONDAY).told
            assert told is not None
            ahead = sum(trip.minutes for trip in told.stops[0].trips)
            assert ahead <= max(0, 7 * 60 + 52 - opens)
            assert all(stop.leave_by >= opens for stop in way_on(book).stops)
            book.undo(MONDAY)


@pytest.mark.parametrize(("opens", "late"), [("7:58", 0), ("7:59", 1), ("8:20", 22)])
def test_who_comes_too_late_from_it_is_late_on_the_route_as_the_decision_says(
    tmp_path: Path, opens: str, late: int
) -> None:
    """From the store to Room 4 two minutes, the bell at 8:00; four more to set up."""
    with opened(reference_school(tmp_path / "school")) as book:
        free = book.route(MONDAY).plan
        book.do(MONDAY, Changed(at=at("7:26"), store_opens=opens))
        route = book.route(MONDAY)
        assert free is not None and route.plan is not None and route.told is not None
        assert route.plan.cost.late == free.cost.late + late
        assert route.told.ways[0].spare == -late
        (decision,) = decided(book)
        assert f"{late + 4} min too late for V1 K-M" in decision.text
        assert (f"{late} min LATE at the door" in decision.text) == (late > 0)


def test_to_a_visit_that_is_over_nothing_comes_and_the_way_goes_by_the_store_after_it(tmp_path: Path) -> None:
    """V1 ends at 8:45: she goes there without the store, and is there once it opens, two minutes of handling more."""
    with opened(reference_school(tmp_path / "school")) as book:
        book.do(MONDAY, Changed(at=at("7:26"), store_opens="8:50"))
        route = book.route(MONDAY)
        assert route.plan is not None and route.told is not None
        assert route.plan.legs[0] == Leg(0, 0, ())
        assert route.told.ways[0].spare == 0
        assert route.told.ways[1].spare == -(8 * 60 + 50 + 2 + 1 - (8 * 60 + 45))
        first, second = decided(book)
        assert first.text.startswith("The store opens at 8:50, when V1 K-M is over.")
        assert "12 min too late for V2 1-P: 8 min LATE at the door, and 4 to set up." in second.text
        leave = book.leave_by(MONDAY)
        assert leave is not None and leave.words == "Leave by 7:52, while the store is locked"


def test_minutes_count_from_the_opening_and_too_few_for_packing_are_said(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = " ".join(on_monday("change", "--store-from", "7:50", data=data).out.split())
    assert "The store opens at 7:50, 2 minutes before you leave: packing takes about" in said
    page = " ".join(on_monday("morning", data=data).out.split())
    assert "Leave the store by 7:52: 2 minutes from 7:50" in page
    assert "The store opens at 7:50, 2 minutes before you leave: packing takes about" in page
    fields = on_monday("morning", "--json", data=data).fields
    assert (fields["store_opens"], fields["minutes_to_leave"]) == ("7:50", 2)
    assert on_monday("route", "--json", data=data).fields["problem"]["opens"] == "7:50"


def test_what_to_type_stands_under_what_is_to_be_decided(tmp_path: Path) -> None:
    said = on_monday("change", "--store-from", "8:20", data=reference_school(tmp_path)).out
    decide, _, rest = said.partition("\nDECIDE -")[2].partition("\nTHE ROUTE -")
    assert "22 min LATE at the door" in " ".join(decide.split())
    assert "trundle answer" in decide and "trundle answer" not in rest


def way_on(book: Book) -> Way:
    return way_of(book.plan, bells_on(book.plan, book.marks(MONDAY).changes), book.day(MONDAY), book.route(MONDAY))
