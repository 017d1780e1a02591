"""The coming school days of an open book, each with the list it will have if the days before it go as planned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from copy import deepcopy
from datetime import date

from msgspec import Struct

from checklists.book import Book
from checklists.daybook.children import as_told
from checklists.daybook.closing import close_day
from checklists.daybook.marks import Marks
from checklists.daybook.state import State
from checklists.lines.day import day_on
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet

NOTHING_TOLD = Marks()


def days_from(book: Book, first: date, school_days: int) -> Iterator[Day]:
    """The list of ``first``, school day or not, and of so many school days after it, fewer at the end of the year."""
    day = book.day(first)
    yield day
    for _ in range(school_days):
        if day.next_school_day is None:
            return
        day = book.day(day.next_school_day)
        yield day


class Outlook(Struct, frozen=True):
    """All that the days from ``first`` on follow from, apart from the book: nothing done meanwhile changes it."""

    plan: Plan
    rules: RuleSet
    first: date
    opening: State
    told: Mapping[date, Marks]
    """What was told of these days so far."""


@contextmanager
def seen_from(book: Book, first: date) -> Iterator[None]:
    """For the while as if it were ``first``, where that is over by the clock: what comes after has not happened yet."""
    today = book.today
    book.today = min(today, first)
    try:
        yield
    finally:
        book.today = today


def outlook_from(book: Book, first: date) -> Outlook:
    """The outlook from a day on, or from today where that is later: what is over is not to come any more."""
    first = max(first, book.today)
    told = {day: deepcopy(book.marks(day)) for day in book.told_dates if day >= first}
    return Outlook(book.plan, book.rules, first, book.opening(first), told)


def days_as_planned(outlook: Outlook) -> Iterator[Day]:
    """The list of every day to the end of the year, the same as the book's own, but each day closed only once.

    A book goes through all days before the one that is asked for, so that a year takes it a hundred times as long.
    """
    plan, state, on = outlook.plan, outlook.opening, outlook.first
    told_later = sorted(outlook.told)
    while True:
        marks = outlook.told.get(on, NOTHING_TOLD)
        day = day_on(plan, outlook.rules, as_told(plan, on, marks, state), on, marks.changes)
        yield day
        if day.school_day or on in outlook.told:
            state = close_day(plan, day, marks, state, as_planned=True)
        coming = [each for each in told_later if each > on][:1] + ([day.next_school_day] if day.next_school_day else [])
        if not coming:
            return
        on = min(coming)
