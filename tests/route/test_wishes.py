"""Wishes that make sense at a visit or a stop; what is said of each beforehand is what comes of it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.route.pins import Pin
from checklists.route.replay import replay
from checklists.route.wishes import may_be_for_good, route_if, step_of, wishes_at_stop, wishes_at_visit
from tests.days import MONDAY, opened
from tests.schools import reference_school

SIX_HALF_SLOTS = {"cart": {"half_slots": 6, "standing": {"scissors": 30}}}


def offered(book: Book) -> list[Pin]:
    day, route = book.day(MONDAY), book.route(MONDAY)
    assert route.told is not None
    found = [pin for n in range(len(day.visits)) for pin in wishes_at_visit(day, route, n)]
    found += [pin for stop in route.told.stops for pin in wishes_at_stop(day, route, stop.before)]
    return list(dict.fromkeys(found))


@pytest.mark.parametrize(("hour", "minute"), [(7, 41), (8, 50), (11, 20)])
def test_what_is_said_of_a_wish_beforehand_is_what_comes_of_it(tmp_path: Path, hour: int, minute: int) -> None:
    at = datetime(2026, 10, 5, hour, minute)
    with opened(reference_school(tmp_path, school=SIX_HALF_SLOTS)) as book:
        pins = offered(book)
        assert len(pins) > 10
        for pin in pins:
            day, marks, route = book.day(MONDAY), book.marks(MONDAY), book.route(MONDAY)
            step = step_of(book.plan, day, marks, route, pin, at, back=False, for_good=False)
            expected = route_if(book.plan, day, marks, route, step).plan
            book.do(MONDAY, *step.entries)
            after = book.route(MONDAY)
            assert after.plan == expected
            assert after.plan is None or replay(after.problem, after.plan).faults == ()
            book.undo(MONDAY)


@pytest.mark.parametrize("at", [datetime(2026, 10, 5, 7, 41), datetime(2026, 10, 5, 8, 50)])
def test_for_good_it_does_to_the_day_what_it_does_said_for_the_day(tmp_path: Path, at: datetime) -> None:
    with opened(reference_school(tmp_path, school=SIX_HALF_SLOTS)) as book:
        plan, day, marks, route = book.plan, book.day(MONDAY), book.marks(MONDAY), book.route(MONDAY)
        for pin in offered(book):
            today, for_good = (
                route_if(plan, day, marks, route, step_of(plan, day, marks, route, pin, at, back=False, for_good=each))
                for each in (False, True)
            )
            assert for_good.plan == today.plan


def test_for_good_takes_back_what_the_day_has_said_of_the_same(tmp_path: Path) -> None:
    at = datetime(2026, 10, 5, 7, 41)
    with opened(reference_school(tmp_path)) as book:
        book.do(MONDAY, Changed(at=at, stops={"P2": "never"}))
        pin = Pin("stops", "P2", "always")
        step = step_of(
            book.plan, book.day(MONDAY), book.marks(MONDAY), book.route(MONDAY), pin, at, back=False, for_good=True
        )
        assert step.school is not None
        assert step.school.route.stops == {"P2": "always"}
        assert step.entries == (Changed(at=at, stops={"P2": ""}),)


def test_in_a_long_break_she_is_at_the_store_and_no_stop_is_asked_about(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        about = {pin.about for pin in offered(book) if pin.kind == "stops"}
        assert about == {"P1", "P2", "P3", "P5", "P6"}


def test_what_is_sharp_or_hot_is_not_asked_to_ride_for_it_always_does(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        never_left = {each.id for each in book.route(MONDAY).problem.containers if not each.may_be_left}
        assert never_left
        rides = {pin.about for pin in offered(book) if pin.how == "always" and pin.kind == "rides"}
        assert rides
        assert rides.isdisjoint(never_left)


def test_only_boxes_and_kits_are_the_same_ones_every_day(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        pin = Pin("rides", "box-3", "always")
        assert may_be_for_good(book.plan, pin)
        assert not may_be_for_good(book.plan, structs.replace(pin, about="catch-up 3-B"))
