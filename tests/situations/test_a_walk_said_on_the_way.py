"""She finds out on the way how long a walk takes and says so: what is over stays as it was, the plan has the walk.

Monday of the reference school, common practice, no source: from 12:30 on one leg, V5 in Room 11, V6 in 21, V7 in 23.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.files.daybook_folder import load
from checklists.plan.walk_notes import say_walk
from checklists.walking import keep_walk
from tests.days import at, opened
from tests.schools import MONDAY, reference_school


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path))


def legs(book: Book) -> list[tuple[int, int]]:
    plan = book.route(MONDAY).plan
    assert plan is not None
    return [(leg.first, leg.last) for leg in plan.legs]


def say(book: Book, time: str) -> None:
    """From Room 11 to Room 21 it is 9 minutes, more than by the store."""
    keep_walk(book, MONDAY, say_walk(book.plan, "11", "21", 9), at(time))


def test_before_school_the_best_route_goes_by_it(book: Book) -> None:
    assert legs(book) == [(0, 3), (4, 6)]
    say(book, "7:35")
    assert legs(book) == [(0, 3), (4, 4), (5, 6)]
    assert load(book.folder, MONDAY).record.entries == ()


def test_on_the_way_there_no_stop_that_is_past_is_made(book: Book) -> None:
    say(book, "13:35")  # V6 has begun
    assert legs(book) == [(0, 3), (4, 6)]
    assert book.plan.walk_minutes[frozenset(("11", "21"))] == 9


def test_undo_takes_back_what_she_said_of_the_day_and_not_that(book: Book) -> None:
    book.do(MONDAY, Changed(at=at("7:30"), no_mess=True))
    say(book, "13:35")
    assert book.undo(MONDAY) == "the day changed: a day without mess"
