"""The coming school days of an open book, each with the list it will have if the days before it go as planned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.book import Book
from checklists.lines.records import Day


def days_from(book: Book, first: date, school_days: int) -> Iterator[Day]:
    """The list of ``first``, school day or not, and of so many school days after it, fewer at the end of the year."""
    day = book.day(first)
    yield day
    for _ in range(school_days):
        if day.next_school_day is None:
            return
        day = book.day(day.next_school_day)
        yield day
