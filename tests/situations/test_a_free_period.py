"""A class is away in the middle of the morning: the period is free, and she spends it at the store.

Monday of the reference school with a cart of two slots; without V2 1-P there are 50 minutes between V1 and V3. Common
practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.pages.cart_sheet_words import say_stop
from checklists.sheets import sheet_of
from tests.days import at, opened
from tests.schools import MONDAY, reference_school


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path, school={"cart": {"half_slots": 4, "standing": {"scissors": 30}}}))


def without(book: Book, *classes: str) -> None:
    book.do(MONDAY, Changed(at=at("7:30"), away=classes))


def test_the_free_period_is_a_time_at_the_store_like_a_break(book: Book) -> None:
    without(book, "1-P")
    route = book.route(MONDAY)
    assert [session.after for session in route.problem.sessions] == [0, 1, 3]
    assert route.plan is not None and route.plan.cost.stops == 0
    assert book.departure(MONDAY).groups[1].when == "after V1, free period"


def test_its_minutes_are_what_the_way_by_the_store_leaves_and_no_more_than_in_a_break(book: Book) -> None:
    without(book, "1-P")  # 9:35 - 8:45 = 50, less 2 + 2 + 2 by the store from Room 4 to Room 12: 44, at most 30
    assert book.route(MONDAY).problem.sessions[1].minutes == 30


def test_nothing_is_carried_to_a_room_before_school_for_what_comes_after_it(book: Book) -> None:
    without(book, "1-P")
    early = {each for trip in book.departure(MONDAY).to_leave for each in trip.containers}
    assert early <= {"box-K"}


def test_five_minutes_between_two_classes_are_no_free_period(book: Book) -> None:
    assert [session.after for session in book.route(MONDAY).problem.sessions] == [0, 4]


def test_the_sheet_calls_it_a_free_period(book: Book) -> None:
    without(book, "1-P")
    told = [part for stop in sheet_of(book, MONDAY, at("7:31")).stops for part in say_stop(stop)]
    assert any("free period" in text for label, text in told if label == "STORE")


def test_never_by_the_store_after_a_visit_holds_for_a_break_as_well(book: Book) -> None:
    """She eats with the class of V4 and stays there: what V5 needs must be along from the stop before."""
    before = book.route(MONDAY)
    book.do(MONDAY, Changed(at=at("7:30"), stops={"P4": "never"}))
    after = book.route(MONDAY)
    assert before.plan is not None and 4 in {leg.first for leg in before.plan.legs}
    assert after.plan is None or 4 not in {leg.first for leg in after.plan.legs}
