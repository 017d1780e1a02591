"""A day changed, as situations say it: what it makes of the list holds after a crash, and undo takes all of it back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.lines.records import Day, Decision
from tests.days import after_the_battery_died, at
from tests.schools import MONDAY


@contextmanager
def changed(book: Book, on: date = MONDAY, **said: Any) -> Iterator[Day]:
    """The list of a changed day. At the end it is held against the disk, and the change is taken back."""
    before = book.day(on)
    book.do(on, Changed(at=at("6:10", on), **said))
    after = book.day(on)
    yield after
    copy = Path(f"{book.folder}-after-the-battery-died")
    number = sum(1 for _ in copy.parent.glob(f"{copy.name}*"))
    again = after_the_battery_died(book, into=copy.with_name(f"{copy.name}-{number}"))
    assert again.day(on) == after
    again.release()
    book.undo(on)
    assert book.day(on) == before


def decision_of(day: Day, class_id: str) -> Decision:
    """What is to be decided about the visit of a class."""
    (found,) = (each for each in day.decisions if each.visit.endswith(f" {class_id}"))
    return found


def times_of(day: Day, class_id: str) -> tuple[str, str]:
    """When a visit begins and ends: ("9:50", "10:20")."""
    visit = next(each for each in day.visits if each.class_id == class_id)
    begin, end = (f"{minute // 60}:{minute % 60:02}" for minute in (visit.start, visit.end))
    return begin, end


def coming(day: Day) -> list[str]:
    """The classes that are visited, in order of time."""
    return [visit.class_id for visit in day.visits]
