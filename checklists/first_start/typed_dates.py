"""The dates of a school year as they are typed: which year is meant, and days off with stretches, 12/21-1/1."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from checklists.first_start.question import NotTaken
from checklists.plan.records import DayOff
from checklists.typed.dates import date_of, date_parts
from checklists.words import say_date, say_full_date

_HOW = "as 8/24, 24 Aug or 2026-08-24"
MOST_DAYS_OFF = 60

Choose = Callable[[int, int], date | None]
"""From month and day to the date that is meant; None where there is none."""


def date_near(today: date) -> Choose:
    """Of the years around today the one that brings a first day of school nearest, not more than half a year ahead."""

    def choose(month: int, day: int) -> date | None:
        found = [each for n in (-1, 0, 1) if (each := date_of(today.year + n, month, day)) is not None]
        return max((each for each in found if each <= today + timedelta(183)), default=None)

    return choose


def date_after(first: date) -> Choose:
    """The first such date later than ``first``."""

    def choose(month: int, day: int) -> date | None:
        found = (date_of(first.year + n, month, day) for n in (0, 1))
        return next((each for each in found if each is not None and each > first), None)

    return choose


def read_date(text: str, choose: Choose) -> date:
    """The date typed; without a year the one ``choose`` gives. Raises NotTaken."""
    parts = date_parts(text)
    if parts is None:
        raise NotTaken(f"No date yet: type it {_HOW}.")
    year, month, day = parts
    found = date_of(year, month, day) if year is not None else choose(month, day)
    if found is None or not 2000 <= found.year <= 2200:
        raise NotTaken(f"There is no such day: type it {_HOW}, the month before the day.")
    return found


def read_days_off(text: str, first: date, last: date) -> tuple[DayOff, ...]:
    """Dates and stretches of days off in a school year, apart by commas. Raises NotTaken for the first that is none."""

    def choose(month: int, day: int) -> date | None:
        found = [each for year in {first.year, last.year} if (each := date_of(year, month, day)) is not None]
        return next((each for each in sorted(found) if first <= each <= last), next(iter(found), None))

    days = [_read_stretch(each, choose) for each in _pieces(text)]
    if len(days) > MOST_DAYS_OFF:
        raise NotTaken(f"More than {MOST_DAYS_OFF} days off are brought in from a file later.")
    for each in days:
        for day in (each.first, each.last or each.first):
            if not first <= day <= last:
                raise NotTaken(
                    f"{say_full_date(day)} is outside the school year, {say_date(first)} to {say_full_date(last)}."
                )
    return tuple(sorted(days, key=lambda each: each.first))


def _pieces(text: str) -> list[str]:
    """Single dates and stretches: apart by commas, or by spaces where every piece begins with a digit."""
    pieces = [each.strip() for each in re.split(r"[,;]", text) if each.strip()]
    if len(pieces) == 1 and not re.search(r"[A-Za-z]", text):
        pieces = re.sub(r"\s*[-–]\s*", "-", pieces[0]).split()
    return pieces


def _read_stretch(text: str, choose: Choose) -> DayOff:
    if date_parts(text) is not None:
        return DayOff(read_date(text, choose))
    for found in re.finditer(r"\s+to\s+|\s*[-–]\s*", text):
        before, after = text[: found.start()], text[found.end() :]
        if date_parts(before) is None:
            continue
        begin = read_date(before, choose)
        if after.isdecimal() and 1 <= int(after) <= 31 and len(after) < 3:
            after = f"{begin.month}/{after}"
        if date_parts(after) is None:
            continue
        end = read_date(after, choose)
        if end < begin:
            raise NotTaken(f"{say_date(end)} comes before {say_date(begin)}.")
        return DayOff(begin, end)
    raise NotTaken(f'"{text[:20]}" is no date yet: type 9/7 or 12/21-1/1, apart by commas.')
