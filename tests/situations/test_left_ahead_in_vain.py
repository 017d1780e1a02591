"""A class falls out, goes elsewhere or is taught something else after its box was left ahead: where is it now?

Monday of the reference school with a cart of two slots: Box K is left ahead in Room 4 for V1 before school, Box 2 in
Room 11 and Box 5 in Room 23 in the planning period. Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed, LeftStore, Stands
from checklists.pages.cart_sheet_words import say_behind, say_stop
from checklists.sheets import sheet_of
from tests.days import at, opened
from tests.schools import MONDAY, reference_school


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path, school={"cart": {"half_slots": 4, "standing": {"scissors": 30}}}))


def behind(book: Book) -> set[tuple[str, str]]:
    told = book.route(MONDAY).told
    assert told is not None
    return set(told.behind)


def test_before_she_has_gone_with_it_nothing_stands_anywhere(book: Book) -> None:
    book.do(MONDAY, Changed(at=at("7:35"), away=("K-M",)))
    assert "box-K" not in {container for container, _ in behind(book)}


def test_once_she_has_left_it_is_fetched_after_school(book: Book) -> None:
    book.do(MONDAY, LeftStore(at=at("7:50")))
    book.do(MONDAY, Changed(at=at("7:55"), away=("K-M",)))
    assert ("box-K", "4") in behind(book)
    assert "Box K from Room 4" in say_behind(sheet_of(book, MONDAY, at("7:56")))


def test_what_she_says_of_its_place_is_what_counts(book: Book) -> None:
    book.do(MONDAY, LeftStore(at=at("7:50")))
    book.do(MONDAY, Changed(at=at("7:55"), away=("K-M",)))
    book.do(MONDAY, Stands(at=at("7:56"), container="box-K", place="store"))
    assert "box-K" not in {container for container, _ in behind(book)}


def test_where_the_class_has_gone_to_another_room_it_is_fetched_first(book: Book) -> None:
    """V7 is in Room 12 now and Box 5 in Room 23: said at 13:20, when the planning period is over."""
    book.do(MONDAY, Changed(at=at("13:20"), rooms={"P7 5-H": "12"}))
    told = book.route(MONDAY).told
    assert told is not None
    assert [stop.fetch for stop in told.stops if stop.fetch] == [(("box-5", "23", 8),)]
    assert ("box-5", "23") not in behind(book)
    stops = sheet_of(book, MONDAY, at("13:21")).stops
    assert ("FETCH", "Box 5 from Room 23, 8 min") in [part for stop in stops for part in say_stop(stop)]
