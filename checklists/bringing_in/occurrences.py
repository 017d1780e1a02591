"""On which dates an event of a calendar takes place: its repetitions, those added, those left out.

Source: RFC 5545 section 3.8.5. The rules are expanded by dateutil; what iCalendar says otherwise is done here. The
start counts as the first repetition even where its own rule leaves it out, and dates left out have been counted before.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from itertools import islice

from msgspec import Struct

from checklists.bringing_in.understood import NotReadable

MOST_REPETITIONS = 20_000
"""Beyond so many the rest is left out: a day each for fifty years."""
DAYS = frozenset(("DAILY", "WEEKLY", "MONTHLY", "YEARLY"))
_REPAIR = "Enter its dates one by one, or take it out of the calendar."


class Repeats(Struct, frozen=True):
    """When an event begins, in the time of its own place, and how it comes again.

    ``rules`` are the values of its RRULE properties. An event of whole days begins at midnight.
    """

    start: datetime
    rules: tuple[str, ...] = ()
    added: tuple[datetime, ...] = ()
    left_out: tuple[datetime, ...] = ()
    left_out_days: tuple[date, ...] = ()
    """Dates without a time of day on which nothing of it takes place."""


def starts_of(event: Repeats, last: date) -> tuple[datetime, ...]:
    """Every beginning up to the end of ``last``, in order. Raises NotReadable where a rule cannot be read."""
    end = datetime.combine(last, time.max)
    found = {event.start, *event.added}
    for rule in event.rules:
        found.update(islice(_by_rule(rule, event.start, end), MOST_REPETITIONS))
    gone, gone_days = set(event.left_out), set(event.left_out_days)
    return tuple(sorted(each for each in found if each <= end and each not in gone and each.date() not in gone_days))


def _by_rule(text: str, start: datetime, end: datetime) -> Iterator[datetime]:
    """The beginnings by one rule, the start first whatever the rule says; ends by its own count or at ``end``."""
    parts = dict(part.split("=", 1) for part in text.upper().split(";") if "=" in part)
    if parts.get("FREQ") not in DAYS:
        raise NotReadable("It comes again in a way that is not by days, weeks, months or years.", _REPAIR)
    if parts.get("INTERVAL", "1").strip("0") == "":
        raise NotReadable("It comes again after no time at all.", _REPAIR)
    until, count = min(_until(parts.pop("UNTIL", ""), end), end), parts.pop("COUNT", "")
    rest = ";".join(f"{name}={value}" for name, value in parts.items())
    from dateutil.rrule import rrulestr

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            dates = iter(rrulestr(f"{rest};UNTIL={until:%Y%m%dT%H%M%S}", dtstart=start))
        most = int(count) if count else None
    except (ValueError, TypeError, AttributeError, KeyError):
        raise NotReadable(f'How it comes again cannot be read: "{text[:80]}".', _REPAIR) from None
    if most is not None and most < 1:
        raise NotReadable("It comes again less than once.", _REPAIR)
    yield start
    after = (each for each in dates if each != start)
    yield from islice(after, None if most is None else most - 1)


def _until(text: str, end: datetime) -> datetime:
    """The last moment that a rule names, in the time of the place; a date alone is that whole day."""
    if not text:
        return end
    try:
        if "T" in text:
            return datetime.strptime(text.rstrip("Z"), "%Y%m%dT%H%M%S")
        return datetime.combine(datetime.strptime(text, "%Y%m%d"), time.max).replace(microsecond=0)
    except ValueError:
        raise NotReadable(f'Until when it comes again cannot be read: "{text[:40]}".', _REPAIR) from None


def days_of(start: datetime, length: timedelta) -> tuple[date, date]:
    """The first and the last day of one taking place. One that ends at midnight ends on the day before."""
    last = start + max(length, timedelta(microseconds=1)) - timedelta(microseconds=1)
    return start.date(), last.date()
