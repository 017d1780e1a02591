"""One date as people type it: 8/24, 24 Aug, Aug 24 2026, 2026-08-24, 0824; the month before the day.

Several dates in the text of a list are found by ``bringing_in/dates.py``.
"""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WEEKDAY = re.compile(r"(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,? ")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_SLASHED = re.compile(r"(\d{1,2})[/.](\d{1,2})(?:[/.](\d{4}|\d{2}))?")
_FOUR = re.compile(r"(\d{2})(\d{2})")
_DAY_MONTH = re.compile(r"(\d{1,2})\.? ?([a-z]{3,9})\.?,? ?(\d{4})?")
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.? ?(\d{1,2})(?:,? ?(\d{4}))?")


class DateParts(NamedTuple):
    """``year`` is None where none was typed. There may be no such day."""

    year: int | None
    month: int
    day: int


def date_parts(text: str) -> DateParts | None:
    """What was typed; None: that is no date."""
    text = text.strip().casefold()
    if begin := _WEEKDAY.match(text):
        text = text[begin.end() :]
    if found := _ISO.fullmatch(text):
        return DateParts(int(found[1]), int(found[2]), int(found[3]))
    if found := _SLASHED.fullmatch(text):
        year = int(found[3]) if found[3] else None
        return DateParts(year + 2000 if year is not None and year < 100 else year, int(found[1]), int(found[2]))
    if found := _FOUR.fullmatch(text):
        return DateParts(None, int(found[1]), int(found[2]))
    if found := _DAY_MONTH.fullmatch(text):
        day, name, year_said = found[1], found[2], found[3]
    elif found := _MONTH_DAY.fullmatch(text):
        name, day, year_said = found[1], found[2], found[3]
    else:
        return None
    if name[:3] not in MONTHS:
        return None
    return DateParts(int(year_said) if year_said else None, MONTHS.index(name[:3]) + 1, int(day))


def date_of(year: int, month: int, day: int) -> date | None:
    """The date; None where there is no such day."""
    try:
        return date(year, month, day)
    except ValueError:
        return None
