"""The other days of the timetable: asked about when they come, as long as the school was set up a short while ago."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from checklists.book import Book
from checklists.calendar import calendar_of
from checklists.daybook.entries import Began
from checklists.files.daybook_folder import load
from checklists.first_start.asking_day import DayAsked
from checklists.plan.records import Plan

SCHOOL_DAYS_ASKED = 15
"""School days since the school was set up: by then everything else is changed where the plan is."""


def is_unsaid(book: Book, day: date) -> bool:
    """Whether nobody has said yet who comes on a date, in the first weeks of a school that was set up on screen."""
    listed = book.day(day)
    if not listed.school_day or not listed.day_name or listed.day_name in book.plan.timetable or listed.visits:
        return False
    return _is_new(book, day)


def _is_new(book: Book, day: date) -> bool:
    begun = min(book.told_dates, default=None)
    if (
        begun is None
        or day < begun
        or calendar_of(book.plan.school).school_days_between(begun, day) > SCHOOL_DAYS_ASKED
    ):
        return False
    return any(isinstance(entry, Began) for entry in load(book.folder, begun).record.entries)


def first_unsaid(book: Book, days: Sequence[date]) -> date | None:
    """The first of these dates of which nobody has said who comes."""
    return next((each for each in days if is_unsaid(book, each)), None)


def say_day(plan: Plan, name: str) -> str:
    """A timetable day as people call it: "Tue", "day B"."""
    return f"day {name}" if plan.school.rotation.kind == "cycle" else name


def later_day_asked(plan: Plan, name: str) -> DayAsked:
    """A day of the timetable as it is asked about, with the classes and lessons there are."""
    called = say_day(plan, name)
    there = plan.timetable.get(name, {})
    free = (each for each in plan.school.bells[0].periods if each.name not in there)
    return DayAsked(
        name,
        called[0].upper() + called[1:],
        tuple((each.name, f"{each.start}-{each.end}") for each in free),
        {each.id: each.room for each in plan.classes},
        tuple(grade for grade, lessons in plan.teaching.items() if lessons),
    )
