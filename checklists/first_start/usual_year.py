"""A usual school year of the United States: first and last day, days off. Only defaults; she types her own over them.

Federal holidays. Source: 5 U.S.C. 6103(a) for the days; 6103(b) and Executive Order 11582 for a Saturday or Sunday,
taken on the Friday before or the Monday after. 180 days of school, Thanksgiving of 2 days, winter of 10, spring of 5,
and when the year begins: common practice, no source; every district says its own.
"""

from __future__ import annotations

from datetime import date, timedelta

from checklists.calendar import calendar_of
from checklists.plan.records import Bells, DayOff, School

SCHOOL_DAYS = 180
MOST_DAYS = 400
"""From the first to the last day of a year."""


def _nth(year: int, month: int, weekday: int, n: int) -> date:
    """The n-th such weekday of a month; counted from its end where negative."""
    if n > 0:
        first = date(year, month, 1)
        return first + timedelta((weekday - first.weekday()) % 7 + 7 * (n - 1))
    last = date(year + month // 12, month % 12 + 1, 1) - timedelta(1)
    return last - timedelta((last.weekday() - weekday) % 7 + 7 * (-n - 1))


def _observed(day: date) -> date:
    return day + timedelta({5: -1, 6: 1}.get(day.weekday(), 0))


def federal_holidays(year: int) -> tuple[tuple[date, str], ...]:
    """The federal holidays of a calendar year as they are observed, in order."""
    return (
        (_observed(date(year, 1, 1)), "New Year's Day"),
        (_nth(year, 1, 0, 3), "Birthday of Martin Luther King, Jr."),
        (_nth(year, 2, 0, 3), "Washington's Birthday"),
        (_nth(year, 5, 0, -1), "Memorial Day"),
        (_observed(date(year, 6, 19)), "Juneteenth"),
        (_observed(date(year, 7, 4)), "Independence Day"),
        (_nth(year, 9, 0, 1), "Labor Day"),
        (_nth(year, 10, 0, 2), "Columbus Day"),
        (_observed(date(year, 11, 11)), "Veterans Day"),
        (_nth(year, 11, 3, 4), "Thanksgiving Day"),
        (_observed(date(year, 12, 25)), "Christmas Day"),
    )


def usual_days_off(first: date, last: date) -> tuple[DayOff, ...]:
    """The usual days off between two dates, in order; a holiday within a longer break is part of it."""
    breaks: list[DayOff] = []
    for year in range(first.year - 1, last.year + 1):
        thanksgiving = _nth(year, 11, 3, 4)
        christmas = date(year, 12, 25)
        winter = christmas - timedelta(christmas.weekday()) if christmas.weekday() < 6 else christmas + timedelta(1)
        spring = _nth(year, 4, 0, 1)
        breaks += [
            DayOff(spring, spring + timedelta(4), "Spring break"),
            DayOff(thanksgiving, thanksgiving + timedelta(1), "Thanksgiving"),
            DayOff(winter, winter + timedelta(11), "Winter break"),
        ]
    days = [each for each in breaks if each.last is not None and each.first <= last and each.last >= first]
    for year in range(first.year, last.year + 1):
        for day, name in federal_holidays(year):
            if first <= day <= last and not any(each.first <= day <= (each.last or each.first) for each in days):
                days.append(DayOff(day, reason=name))
    within = (
        DayOff(max(each.first, first), min(each.last, last) if each.last is not None else None, each.reason)
        for each in days
    )
    return tuple(sorted(within, key=lambda each: each.first))


def usual_first_day(today: date) -> date:
    """The last Monday of August of the school year that is going on, or of the next one."""
    year = today.year - 1 if today.month < 8 else today.year
    first = _nth(year, 8, 0, -1)
    return first if today <= usual_last_day(first) else _nth(year + 1, 8, 0, -1)


def usual_last_day(first: date) -> date:
    """The 180th day of school with the usual days off."""
    end = first + timedelta(MOST_DAYS)
    return _school_days(first, end, usual_days_off(first, end))[SCHOOL_DAYS - 1]


def _school_days(first: date, last: date, off: tuple[DayOff, ...]) -> tuple[date, ...]:
    return calendar_of(year_of(first, last, off)).planned


def year_of(first: date, last: date, off: tuple[DayOff, ...]) -> School:
    """A school of which no more is known than its year."""
    return School(1, "", first, last, (Bells("regular"),), off)


def school_days_from(first: date, last: date, off: tuple[DayOff, ...], today: date) -> int:
    """How many school days the year has from today on."""
    return sum(day >= today for day in _school_days(first, last, off))
