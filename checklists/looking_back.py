"""How it stands, from an open book: two states are looked at and no day in between."""

from __future__ import annotations

from datetime import date

from checklists.book import Book
from checklists.daybook.look_back import LookBack, look_back
from checklists.daybook.state import State


def how_it_stands(book: Book, on: date) -> LookBack:
    """At the end of ``on`` where that day is closed, else as it opened with what the days before it left."""
    is_closed = book.is_closed(on)
    now = book.closing_of(on) if is_closed else book.opening(on)
    begun, first_day = book.begun, book.plan.school.first_day
    if begun is None or begun > on:
        return look_back(book.plan, now, now, None, on, at_the_end=is_closed)
    if begun < first_day <= on:  # the year began with every class at its first lesson
        return look_back(book.plan, State(), now, first_day, on, at_the_end=is_closed)
    return look_back(book.plan, book.opening(begun), now, begun, on, at_the_end=is_closed)
