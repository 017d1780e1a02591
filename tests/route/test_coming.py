"""The routes of the coming cycle: which days there is something to see to, and what; numbers worked out by hand."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.route.coming import ComingRoute, coming_routes
from tests.schools import MONDAY, Entry, reference_school, small_school

NEXT_MONDAY_A = date(2026, 10, 14)  # six school days after 5 October; the 12th is a holiday


def a_cart(half_slots: int) -> dict[str, Entry]:
    return {"cart": {"half_slots": half_slots, "standing": {"scissors": 30}}}


def on_monday(folder: Path) -> ComingRoute:
    with Book.open(folder, today=MONDAY) as book:
        (coming,) = coming_routes(book, MONDAY)
    return coming


def test_with_a_cart_of_4_half_slots_monday_is_late_twice_and_needs_a_stop_and_three_boxes_ahead(
    tmp_path: Path,
) -> None:
    """The worked example with 10 minutes before school, the usual time for leaving ahead.

    Legs V1-V2, V3-V4, V5-V7. V1-V2 need boxes K and 1 and the watercolour kit: 5 half slots, so a box goes ahead.
    V3-V4 need Box 3 and the stitching kit: 3. V5-V7 need boxes 2, 4 and 5 and two kits: 8, so two boxes go ahead.
    Late: V1 to V2 is a walk of 1 with no time between the bells, V5 to V6 one of 4. The stop after V2 takes
    1 + 2 + 2 = 5 minutes, and there are 5.
    """
    coming = on_monday(reference_school(tmp_path, school=a_cart(4)))
    assert [(way.visit, -way.spare, way.by_store) for way in coming.late] == [(1, 1, False), (5, 4, False)]
    assert [(stop.before, stop.minutes) for stop in coming.stops] == [(2, 5)]
    ahead = [(stop.before, len(trip.containers)) for stop in coming.leaving_ahead for trip in stop.trips]
    assert ahead == [(0, 1), (4, 1), (4, 1)]
    assert coming.fits and not coming.is_well and coming.would_help is None


def test_with_a_cart_of_8_half_slots_all_rides_and_only_the_two_ways_are_late(tmp_path: Path) -> None:
    coming = on_monday(reference_school(tmp_path))
    assert sum(-way.spare for way in coming.late) == 5
    assert not coming.stops and not coming.leaving_ahead


def test_a_day_that_does_not_fit_has_the_first_thing_that_would_help(tmp_path: Path) -> None:
    """V1 needs a box and a kit, 3 half slots; the cart takes 2."""
    coming = on_monday(reference_school(tmp_path, school=a_cart(2)))
    assert not coming.fits
    assert coming.would_help == coming.route.changes[0]
    assert coming.late == coming.stops == coming.leaving_ahead == ()


def test_a_cycle_is_looked_through_from_the_day_on_and_days_without_visits_are_left_out(tmp_path: Path) -> None:
    """Visits on day A alone: from Tuesday, day B, on it comes after five days, on the last of the six."""
    with Book.open(reference_school(tmp_path), today=MONDAY) as book:
        found = [each.day.date for each in coming_routes(book, date(2026, 10, 6))]
    assert found == [NEXT_MONDAY_A]


def test_where_the_timetable_goes_by_weekdays_it_is_five_school_days(tmp_path: Path) -> None:
    """Visits on Mondays and Thursdays; from Thursday on: that day, and Monday. The next Thursday is the sixth day."""
    with Book.open(small_school(tmp_path), today=MONDAY) as book:
        found = [each.day.date for each in coming_routes(book, date(2026, 10, 8))]
    assert found == [date(2026, 10, 8), date(2026, 10, 12)]


def test_a_day_on_which_everything_rides_in_time_is_well(tmp_path: Path) -> None:
    """Box 3 alone, and 5 minutes from Room 12 to Room 14; a walk nobody has said is no longer than by the store."""
    with Book.open(small_school(tmp_path), today=MONDAY) as book:
        assert [each.is_well for each in coming_routes(book, MONDAY)] == [True, True]


def test_what_was_told_of_a_coming_day_is_in_its_route(tmp_path: Path) -> None:
    """Without 1-P nothing is late on the way from V1: 45 minutes lie between K-M and 3-B."""
    with Book.open(reference_school(tmp_path), today=MONDAY) as book:
        book.do(MONDAY, Changed(at=datetime(2026, 10, 5, 7, 41), away=("1-P",)))
        (coming,) = coming_routes(book, MONDAY)
    assert [(coming.day.visits[way.visit].class_id, -way.spare) for way in coming.late] == [("4-D", 4)]
