"""Days for tests: a school opened, moments of a day, and what she says about visits, by small functions."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from pathlib import Path
from shutil import copytree
from typing import Any

from msgspec import structs

from checklists.book import Book
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import Changed, CountedSharps, OutcomeKind, Packed, Reported
from checklists.daybook.matters import OpenMatter
from checklists.daybook.opening import first_state
from checklists.files.plan_folder import read_plan
from checklists.lines.day import day_on
from checklists.lines.records import Day, Line, Visit
from tests.schools import MONDAY

TUESDAY = date(2026, 10, 6)
WEDNESDAY = date(2026, 10, 7)
THURSDAY = date(2026, 10, 8)
FRIDAY = date(2026, 10, 9)
NEXT_MONDAY = date(2026, 10, 12)
TUESDAY_13 = date(2026, 10, 13)
"""Day F of the reference school: a school day without visits."""
NEXT_THURSDAY = date(2026, 10, 15)
NEXT_DAY_A = date(2026, 10, 14)
"""Wed 14 Oct 2026: the next day A of the reference school."""
THURSDAY_22 = date(2026, 10, 22)
"""The day A after that."""


def at(clock: str = "7:41", day: date = MONDAY) -> datetime:
    """A moment of a day, "7:41"."""
    hours, minutes = clock.split(":")
    return datetime.combine(day, time(int(hours), int(minutes)))


def opened(folder: Path, today: date = MONDAY) -> Book:
    """The book of a folder, open for writing."""
    book = Book.open(folder, today=today)
    assert book.writable, book.why_read_only
    return book


def opened_again(book: Book, today: date | None = None) -> Book:
    """The same folder, closed properly and opened again."""
    book.release()
    return opened(book.folder, today or book.today)


def after_the_battery_died(book: Book, *, into: Path) -> Book:
    """The folder as it stands on the disk at this moment, nothing folded or closed, opened from a copy of it."""
    copytree(book.folder, into, ignore=lambda _, names: [name for name in names if "lock" in name])
    return opened(into, book.today)


def day_of(folder: Path, *, on: date = MONDAY, change: Changed | None = None, **state: Any) -> Day:
    """A day of a school, Mon 5 Oct 2026, opening with ``state`` over the start of the year; nothing is written."""
    read = read_plan(folder)
    assert read.plan is not None, read.problems
    assert read.rules is not None
    return day_on(read.plan, read.rules, structs.replace(first_state(read.plan), **state), on, change)


def visit_of(day: Day, class_id: str) -> Visit:
    """The visit of a class."""
    return next(visit for visit in day.visits if visit.class_id == class_id)


def lines_of(day: Day, supply: str, *, catch_up_for: str = "") -> list[Line]:
    """Ordinary lines of a supply, or those of a class's catch-up kit."""
    return [line for line in day.lines if line.supply == supply and line.catch_up_for == catch_up_for]


def line_of(day: Day, supply: str, *, catch_up_for: str = "") -> Line:
    """The one line of a supply."""
    found = lines_of(day, supply, catch_up_for=catch_up_for)
    assert len(found) == 1, f"{len(found)} lines of {supply}"
    return found[0]


def needs_by_supply(day: Day, catch_up_for: str = "") -> dict[str, int]:
    """Supply -> need of the ordinary lines, or of a class's catch-up kit."""
    return {line.supply: line.need for line in day.lines if line.catch_up_for == catch_up_for}


def packed(line: Line, count: int | None = None, clock: str = "7:41", day: date = MONDAY) -> Packed:
    """A line packed in full, or ``count`` of it."""
    return Packed(at=at(clock, day), line=line.key, count=line.need if count is None else count)


def reported(visit: Visit, outcome: OutcomeKind = "done", *, clock: str = "15:05", **more: Any) -> Reported:
    """A visit reported; nobody was missing unless it is said."""
    return Reported(at=at(clock), visit=visit.key, outcome=outcome, **{"absences_known": True, **more})


def counted(visit: Visit, out: int, back: int, supply: str = "scissors") -> CountedSharps:
    """A sharp supply of a visit counted out and back."""
    return CountedSharps(at=at("15:04"), visit=visit.key, supply=supply, out=out, back=back)


def teach(book: Book, day: date, class_id: str, outcome: OutcomeKind = "done", **more: Any) -> None:
    """Report one class of a day."""
    visit = visit_of(book.day(day), class_id)
    book.do(day, Reported(at=at("15:05", day), visit=visit.key, outcome=outcome, **{"absences_known": True, **more}))


def teach_all(book: Book, day: date, *, but: tuple[str, ...] = ()) -> None:
    """Report every class of a day as done with nobody missing, and every sharp as back."""
    for visit in book.day(day).visits:
        if visit.class_id not in but:
            teach(book, day, visit.class_id)
    count_all_back(book, day)


def count_all_back(book: Book, day: date) -> None:
    """Every sharp and own tool of the day, out and back."""
    listed = book.day(day)
    for line in listed.lines:
        for use in line.uses if line.counted else ():
            out = round(use.amount)
            count = CountedSharps(at=at("15:06", day), visit=use.visit, supply=line.supply, out=out, back=out)
            book.do(day, count)


def close(book: Book, day: date = MONDAY, clock: str = "15:10") -> tuple[str, ...]:
    """Close a day in the afternoon."""
    return book.close(day, at(clock, day))


def asked_at_the_end(book: Book, day: date) -> dict[str, OpenMatter]:
    """Every question of a day's end by its key; none is asked twice."""
    matters = at_day_end(book.plan, book.day(day), book.marks(day), at("15:00", day))
    found = {each.key: each for each in matters}
    assert len(found) == len(matters), "something is asked twice"
    return found


def choose(book: Book, day: date, key: str, label: str) -> None:
    """Give one of the answers to a question of a day's end."""
    choices = {each.label: each.entries for each in asked_at_the_end(book, day)[key].choices}
    book.do(day, *choices[label])


def days_from(first: date, count: int) -> list[date]:
    """Dates one after the other, weekends included."""
    return [first + timedelta(n) for n in range(count)]
