"""Bell schedules from a few numbers: the first bell, how long a period is, how many there are, lunch, planning."""

from __future__ import annotations

import re

from msgspec import Struct

from checklists.first_start.question import NotTaken
from checklists.plan.records import Bells, Break, Period
from checklists.typed.times import EARLIEST, minute_typed
from checklists.words import clock

MOST_PERIODS = 12
LATEST = 20 * 60
"""A school day that ends later is a slip of the fingers."""
DELAY, DELAYED_LENGTH, EARLY_END, LEAST_LENGTH = 120, 30, 12 * 60, 15
"""Minutes. A delayed opening is of two hours, its periods of 30 min; an early dismissal is at noon. Common practice, no
source."""
LUNCH = "lunch"


class DayShape(Struct, frozen=True):
    """How a regular day goes, in minutes since midnight. ``lunch`` is its start and end; ``planning`` a period."""

    first_bell: int = 480
    length: int = 45
    between: int = 5
    periods: int = 7
    lunch: tuple[int, int] | None = None
    planning: int = 0
    """Number of the period that is planning on every day; 0: none."""


def read_time(text: str, earliest: int = EARLIEST) -> int:
    """Minutes since midnight of "8:20", "820", "8", "1:15 pm". An hour before ``earliest`` is one of the afternoon."""
    minute = minute_typed(text, earliest)
    if minute is None:
        raise NotTaken("No time yet: type it as 8:20 or 820.")
    return minute


def read_lunch(text: str, shape: DayShape) -> tuple[int, int] | None:
    """Start and end of lunch: "11:15-11:45", "1115 30", "11:15" for half an hour; None for "none"."""
    if text.casefold() in ("none", "no", "-"):
        return None
    parts = [each for each in re.split(r"\s*(?:-|–|to|\s)\s*", text.strip()) if each]
    if len(parts) not in (1, 2):
        raise NotTaken("No lunch yet: type it as 11:15-11:45, 11:15 30, or none.")
    start = read_time(parts[0])
    if len(parts) == 1:
        end = start + 30
    elif parts[1].isdecimal() and len(parts[1]) < 3 and int(parts[1]) > 12:
        end = start + int(parts[1])
    else:
        end = read_time(parts[1])
    if not 10 <= end - start <= 120:
        raise NotTaken(f"From {clock(start)} to {clock(end)}? Lunch is of 10 to 120 minutes.")
    if start < shape.first_bell:
        raise NotTaken(f"{clock(start)} is before the first bell, {clock(shape.first_bell)}.")
    if end > LATEST:
        raise NotTaken(f"Lunch would end after {clock(LATEST)}.")
    return start, end


def usual_lunch(shape: DayShape) -> tuple[int, int]:
    """Half an hour after the period in the middle."""
    half = (shape.periods + 1) // 2
    start = shape.first_bell + half * shape.length + (half - 1) * shape.between
    return start, start + 30


def period_times(shape: DayShape) -> tuple[tuple[str, int, int], ...]:
    """Every period of the regular day, planning included: name, start, end. None of them runs into lunch."""
    times, at = [], shape.first_bell
    for number in range(1, shape.periods + 1):
        if shape.lunch is not None and at < shape.lunch[1] and at + shape.length > shape.lunch[0]:
            at = shape.lunch[1]
        times.append((f"P{number}", at, at + shape.length))
        at += shape.length + shape.between
    return tuple(times)


def end_of_day(shape: DayShape) -> int:
    """When the last period ends."""
    return period_times(shape)[-1][2]


def say_times(shape: DayShape, most: int = 4) -> str:
    """ "8:00-8:45, 8:50-9:35 … 14:00-14:45"."""
    times = [f"{clock(start)}-{clock(end)}" for _, start, end in period_times(shape)]
    return ", ".join(times) if len(times) <= most else f"{', '.join(times[: most - 1])} … {times[-1]}"


def bells_of(shape: DayShape) -> tuple[Bells, ...]:
    """The regular schedule, the delayed one and, where the day begins early enough, that of an early dismissal."""
    made = [_bells("regular", shape, period_times(shape), shape.lunch)]
    delayed = _delayed(shape)
    if max(end_of_day(delayed), delayed.lunch[1] if delayed.lunch is not None else 0) <= 24 * 60 - 1:
        made.append(_bells("delayed opening", shape, period_times(delayed), delayed.lunch))
    early = _early(shape)
    if early:
        made.append(_bells("early dismissal", shape, early, None))
    return tuple(made)


def _delayed(shape: DayShape) -> DayShape:
    """Two hours later, shorter periods, lunch after the same period and as long as ever; over no later than usual.

    Where not even the shortest periods would fit, it ends later.
    """
    away = shape.lunch[1] - shape.lunch[0] if shape.lunch is not None else 0
    left = end_of_day(shape) - shape.first_bell - DELAY - away - (shape.periods - 1) * shape.between
    length = min(shape.length, DELAYED_LENGTH, max(LEAST_LENGTH, left // shape.periods))
    later = DayShape(shape.first_bell + DELAY, length, shape.between, shape.periods)
    if shape.lunch is None:
        return later
    before = sum(start < shape.lunch[0] for _, start, _ in period_times(shape))
    start = later.first_bell + before * length + max(0, before - 1) * shape.between
    lunch = start, start + shape.lunch[1] - shape.lunch[0]
    return DayShape(later.first_bell, length, shape.between, shape.periods, lunch)


def _early(shape: DayShape) -> tuple[tuple[str, int, int], ...]:
    """All periods up to noon, each as much shorter; those for which no time is left do not take place."""
    minutes = EARLY_END - shape.first_bell
    length = max(LEAST_LENGTH, min(shape.length, (minutes + shape.between) // shape.periods - shape.between))
    times = period_times(DayShape(shape.first_bell, length, shape.between, shape.periods))
    return tuple(each for each in times if each[2] <= EARLY_END)


def _bells(name: str, shape: DayShape, times: tuple[tuple[str, int, int], ...], lunch: tuple[int, int] | None) -> Bells:
    planning = f"P{shape.planning}"
    breaks = [(LUNCH, *lunch)] if lunch is not None else []
    breaks += [("planning", start, end) for period, start, end in times if period == planning]
    return Bells(
        name,
        tuple(Period(period, clock(start), clock(end)) for period, start, end in times if period != planning),
        tuple(Break(called, clock(start), clock(end)) for called, start, end in sorted(breaks, key=lambda b: b[1])),
    )
