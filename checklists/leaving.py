"""What is open before she leaves the store: what goes with her now first, what waits for a later stop at the end."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from msgspec import structs

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.marks import Marks
from checklists.daybook.matters import Choice, OpenMatter
from checklists.daybook.remedies import labels_of
from checklists.route.departure import Departure, entries_to_leave
from checklists.words import minute_of_day


def open_before_leaving(
    book: Book, on: date, marks: Marks, at: datetime, *, short: bool = False, labels: bool = True, is_today: bool = True
) -> tuple[OpenMatter, ...]:
    """Everything open, each with its answers; ``when`` says at which stop its container leaves. ``short``: few words.

    Without ``labels`` what a remedy comes to is not worked out. ``is_today``: ``at`` is a time of the clock, so that
    the stop that comes next counts.
    """
    day = book.day(on)
    departure = book.departure(on, minute_of_day(at) if is_today else None)
    said = labels_of(book.plan, day, marks, book.opening(on), short=short) if labels else None
    found = [*_to_leave(departure, marks, at), *before_leaving(day, marks, at, said, departure.waits)]
    later = {each: group.when for group in departure.groups for each in group.containers}
    timed = (structs.replace(each, when=each.when or later.get(each.container, "")) for each in found)
    order = list(dict.fromkeys(["", *(group.when for group in departure.groups), *departure.waits.values()]))
    return tuple(sorted(timed, key=lambda each: (order.index(each.when), not each.critical)))


def _to_leave(departure: Departure, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    for each in departure.to_leave:
        if not departure.is_left(each, marks):
            left = Choice("it stands there", entries_to_leave(each, at))
            yield OpenMatter(each.key, "Leave ahead", each.words, critical=True, choices=(left,))
