"""Which dates are school days, and which timetable day each of them is.

A school day is a date of the year that is planned to be one (Monday to Friday, no day off). A *lost* day was planned
and did not take place. Weekday rotation names days after the weekday; a cycle advances on school days, and after a lost
day it slides, stays fixed to its dates, or slides until somebody announces a day.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import lru_cache

from msgspec import Struct

from checklists.plan.records import DayOff, School

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri")


@lru_cache(maxsize=8)
def _planned_days(first: date, last: date, days_off: tuple[DayOff, ...]) -> tuple[date, ...]:
    off: set[date] = set()
    for each in days_off:
        day, end = max(each.first, first), min(each.last or each.first, last)
        while day <= end:
            off.add(day)
            day += timedelta(1)
    span = ((last - first).days + 1) if first <= last else 0
    dates = (first + timedelta(n) for n in range(span))
    return tuple(each for each in dates if each.weekday() < 5 and each not in off)


class Calendar(Struct, frozen=True):
    """The school year with what became of it so far. ``planned`` is in order of date."""

    school: School
    planned: tuple[date, ...]
    lost: frozenset[date]
    announced: dict[date, str]

    def is_school_day(self, day: date) -> bool:
        """Whether school takes place on that date, as far as known."""
        at = bisect_left(self.planned, day)
        return at < len(self.planned) and self.planned[at] == day and day not in self.lost

    def why_no_school(self, day: date) -> str:
        """The reason in words; empty for a school day."""
        if self.is_school_day(day):
            return ""
        if day in self.lost:
            return "school did not take place"
        if not self.school.first_day <= day <= self.school.last_day:
            return "outside the school year"
        if day.weekday() >= 5:
            return "weekend"
        named = (each for each in self.school.days_off if each.first <= day <= (each.last or each.first))
        return next((each.reason for each in named if each.reason), "day off")

    def school_days_after(self, day: date) -> Iterator[date]:
        """School days later than ``day``, in order, to the end of the year."""
        for at in range(bisect_right(self.planned, day), len(self.planned)):
            if self.planned[at] not in self.lost:
                yield self.planned[at]

    def school_days_before(self, day: date) -> Iterator[date]:
        """School days earlier than ``day``, the latest first."""
        for at in range(bisect_left(self.planned, day) - 1, -1, -1):
            if self.planned[at] not in self.lost:
                yield self.planned[at]

    def next_school_day(self, day: date) -> date | None:
        """The first school day later than ``day``; None after the last one."""
        return next(self.school_days_after(day), None)

    def add_school_days(self, day: date, count: int) -> date | None:
        """The school day ``count`` school days after ``day`` (before it, where negative).

        With 0: ``day`` itself or, where that is none, the next school day. None beyond the ends of the year.
        """
        if count < 0:
            return next((each for n, each in enumerate(self.school_days_before(day), 1) if n == -count), None)
        if count == 0:
            return day if self.is_school_day(day) else self.next_school_day(day)
        return next((each for n, each in enumerate(self.school_days_after(day), 1) if n == count), None)

    def school_days_between(self, first: date, last: date) -> int:
        """How many school days lie after ``first`` up to and including ``last``; 0 where ``last`` is not later."""
        span = self.planned[bisect_right(self.planned, first) : bisect_right(self.planned, last)]
        return len(span) - sum(each in self.lost for each in span) if self.lost else len(span)

    def day_name(self, day: date) -> str:
        """The timetable day of a date: "Mon", or the day of the cycle. Empty where there is no school."""
        if not self.is_school_day(day):
            return ""
        rotation = self.school.rotation
        if rotation.kind == "weekdays":
            return self.announced.get(day, WEEKDAYS[day.weekday()])
        if not rotation.days:
            return ""
        if rotation.lost_day == "fixed":
            return self.announced.get(day, rotation.days[bisect_left(self.planned, day) % len(rotation.days)])
        # Counted from the day of which it was announced, or the first; where that one was lost, its letter comes next.
        said = {each: name for each, name in self.announced.items() if name in rotation.days}
        heard = max((each for each in said if self.school.first_day <= each <= day), default=self.school.first_day)
        start = rotation.days.index(said.get(heard, rotation.days[0]))
        since = self.school_days_between(heard - timedelta(1), day) - 1
        return rotation.days[(start + since) % len(rotation.days)]


def school_days_left(school: School, today: date) -> int:
    """Planned school days of the year after today."""
    return calendar_of(school).school_days_between(today, school.last_day)


def is_year_ending(school: School, today: date, school_days: int = 10) -> bool:
    """Whether the year has at most so many school days after today: the next one is to be thought of."""
    return school_days_left(school, today) <= school_days and today >= school.first_day


def calendar_of(school: School, lost: tuple[date, ...] = (), announced: Mapping[str, str] | None = None) -> Calendar:
    """The calendar of a school with its lost days and the cycle days announced so far (ISO date -> day)."""
    return Calendar(
        school=school,
        planned=_planned_days(school.first_day, school.last_day, school.days_off),
        lost=frozenset(lost),
        announced={date.fromisoformat(day): name for day, name in (announced or {}).items()},
    )
