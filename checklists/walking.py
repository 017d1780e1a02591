"""The minutes of a walk said while a day goes on: the plan has them from then on, and what is over stays as it was."""

from __future__ import annotations

import contextlib
from datetime import date, datetime

from checklists.book import Book, NotSaved
from checklists.plan.records import School


def keep_walk(book: Book, day: date, school: School, at: datetime) -> None:
    """Write the school with a walk. Where that gives the day under way another route, it keeps what has begun.

    Raises NotSaved, and then nothing is changed.
    """
    from checklists.route.begun import route_to_keep
    from checklists.route.day_route import is_same_way

    before = book.route(day)
    kept = route_to_keep(book.day(day), book.marks(day), before, at)
    book.change_school(school)
    if kept is not None and not is_same_way(before.plan, book.route(day).plan):
        with contextlib.suppress(NotSaved):  # the walk is saved; the route is the best one anew then
            book.do(day, kept)
