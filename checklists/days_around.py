"""The days around today, each in a word: closed, not closed with what nobody has told, still to come."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import islice
from typing import Literal

from msgspec import Struct

from checklists.book import Book
from checklists.daybook.reports import is_untold
from checklists.lines.day import calendar_for

DAYS_BACK = 60
"""School days before today that are listed."""
DAYS_AHEAD = 10

Standing = Literal["closed", "not closed", "to come", "lost"]


class DayStanding(Struct, frozen=True):
    """One school day. ``untold`` are visits of it that nobody has told of, where it was not closed."""

    date: date
    day_name: str
    standing: Standing
    untold: int = 0
    is_begun: bool = False
    """Whether anything was said of a day still to come."""


def days_around(book: Book, today: date) -> tuple[DayStanding, ...]:
    """School days from the first told one, at most ``DAYS_BACK`` ago, to ``DAYS_AHEAD`` after today, in order."""
    return (*sorted(_before(book, today), key=lambda each: each.date), *_from(book, today))


def _before(book: Book, today: date) -> Iterator[DayStanding]:
    calendar = calendar_for(book.plan, book.opening(today), today, book.marks(today).changes)
    begin = min(book.told_dates, default=today)
    lost = [DayStanding(each, "", "lost") for each in calendar.lost if begin <= each < today]
    yield from lost
    for each in islice(calendar.school_days_before(today), DAYS_BACK):
        if each < begin:
            return
        if book.is_closed(each):
            yield DayStanding(each, calendar.day_name(each), "closed")
        else:
            visits = [visit for visit in book.day(each).visits if visit.moves_on and visit.steps]
            untold = sum(is_untold(visit, book.marks(each)) for visit in visits)
            yield DayStanding(each, calendar.day_name(each), "not closed", untold)


def _from(book: Book, today: date) -> Iterator[DayStanding]:
    calendar = calendar_for(book.plan, book.opening(today), today, book.marks(today).changes)
    coming = [*([today] if calendar.is_school_day(today) else []), *calendar.school_days_after(today)]
    for each in coming[: DAYS_AHEAD + 1]:
        standing: Standing = "closed" if book.is_closed(each) else "to come"
        yield DayStanding(each, calendar.day_name(each), standing, is_begun=each in book.told_dates)
