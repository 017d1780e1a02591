"""When to leave the store, on every page that says so: with the kit still to be fetched, and once it was."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.day_change import compare_days
from checklists.daybook.entries import Stands
from checklists.daybook.state import Place
from checklists.pages.as_json import day_as_json, quiet_as_json
from checklists.pages.changed_day import change_page
from checklists.pages.morning import morning_page, quiet_page
from tests.days import at, opened
from tests.schools import FRIDAY_BEFORE, MONDAY, SATURDAY_BEFORE, in_the_evening, reference_school


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """The reference school on Monday morning; the watercolour kit stayed in Room 11, two minutes away."""
    folder = in_the_evening(reference_school(tmp_path), places={"watercolour": Place("11", FRIDAY_BEFORE, "P5")})
    return opened(folder)


def all_pages(book: Book) -> list[str]:
    day, marks, departure = book.day(MONDAY), book.marks(MONDAY), book.departure(MONDAY)
    quiet = book.day(SATURDAY_BEFORE)
    change = compare_days(book.plan, day, day, marks)
    following = quiet_as_json(book.plan, quiet, book.departure(SATURDAY_BEFORE), day, marks, book.leave_by(MONDAY))[
        "next"
    ]
    assert isinstance(following, dict)
    return [
        morning_page(book.plan, day, marks, 7 * 60 + 30, departure),
        quiet_page(book.plan, quiet, day, marks, book.leave_by(MONDAY)),
        change_page(book.plan, day, change, "as planned", (), {}, (), book.leave_by(MONDAY)),
        f"by {day_as_json(book.plan, day, marks, None, departure)['leave_by']}",
        f"by {following['leave_by']}",
    ]


def test_while_a_kit_stands_in_a_room_its_fetching_counts(book: Book) -> None:
    # Common practice, no source: 8:00 less 2 walking, 4 setting up, 2 of slack, and 2 there and 2 back.
    assert all("by 7:48" in page for page in all_pages(book))


def test_once_it_was_fetched_there_are_four_minutes_more(book: Book) -> None:
    book.do(MONDAY, Stands(at=at("7:30"), container="watercolour", place="store"))
    assert all("by 7:52" in page for page in all_pages(book))


def test_minutes_to_leave_follow_as_well(book: Book) -> None:
    day = book.day(MONDAY)
    departure = book.departure(MONDAY)
    assert day_as_json(book.plan, day, book.marks(MONDAY), 7 * 60 + 40, departure)["minutes_to_leave"] == 8
    book.do(MONDAY, Stands(at=at("7:30"), container="watercolour", place="store"))
    assert day_as_json(book.plan, day, book.marks(MONDAY), 7 * 60 + 40, departure)["minutes_to_leave"] == 12


def test_what_is_said_beside_the_list_stands_under_notes(book: Book) -> None:
    page = morning_page(book.plan, book.day(MONDAY), book.marks(MONDAY), None, book.departure(MONDAY))
    after = page.split("NOTES", 1)[1]
    assert "2-R has 6 critical lines" in after
