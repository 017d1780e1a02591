"""Which book and which day a request is about."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta

from checklists.book import Book
from checklists.commandline.folder import folder_of
from checklists.commandline.request import Request
from checklists.words import minute_of_day

_DAYS_BACK = 14


@contextmanager
def open_book(request: Request, *, write: bool = False) -> Iterator[Book]:
    """The book of the request's folder, given back afterwards whatever happens."""
    book = Book.open(folder_of(request), write=write, today=request.now.date())
    try:
        yield book
    finally:
        book.release()


def day_to_look_at(request: Request, book: Book) -> date:
    """The date that was asked for, else today, school day or not."""
    return _asked_for(request, book) or request.now.date()


def day_to_pack(request: Request, book: Book) -> date:
    """The date that was asked for, else today or, without visits today, the next day that has some."""
    return _asked_for(request, book) or day_with_visits(book, request.now.date())


def day_to_close(request: Request, book: Book) -> date:
    """The date that was asked for, else today or, without visits today, the last day that had some."""
    asked = _asked_for(request, book)
    today = request.now.date()
    if asked is not None:
        return asked
    for back in range(_DAYS_BACK):
        earlier = today - timedelta(back)
        if book.day(earlier).visits:
            return earlier
    return today


def day_with_visits(book: Book, start: date) -> date:
    """``start`` if it has visits, else the next day that has; ``start`` where there is none. Today stays today."""
    today = book.today
    try:
        return book.list_date(start)
    finally:
        book.today = today


def _asked_for(request: Request, book: Book) -> date | None:
    if request.tomorrow:
        return day_with_visits(book, request.now.date() + timedelta(1))
    return request.date


def minute_on(request: Request, day: date) -> int | None:
    """The minute of the day now, None where ``day`` is another one."""
    return minute_of_day(request.now) if request.now.date() == day else None


def moment_on(request: Request, day: date) -> datetime:
    """The moment to note with what is said about ``day``: that date, the clock's time, whole seconds."""
    return datetime.combine(day, request.now.time().replace(microsecond=0))
