"""A wish for the route put into an open book, or taken out of it again: into the day, into the plan, or both."""

from __future__ import annotations

from datetime import date

from checklists.book import Book, NotSaved
from checklists.plan.records import School
from checklists.route.pins import Pin, put_pin_back
from checklists.route.wishes import WishStep


def keep_wish(book: Book, day: date, step: WishStep) -> None:
    """All of it is on disk when it returns, or none. Raises NotSaved.

    The day first: what she has gone by so far is kept from the route as it was.
    """
    if step.entries:
        book.do(day, *step.entries)
    if step.school is None:
        return
    try:
        book.change_school(step.school)
    except NotSaved:
        if step.entries:
            book.undo(day)
        raise


def take_wish_back(book: Book, day: date, step: WishStep, before: School, pin: Pin) -> None:
    """What a step for good has done, as the newest step of the day. Raises NotSaved."""
    book.change_school(put_pin_back(book.plan.school, before, pin))
    if step.entries:
        book.undo(day)
