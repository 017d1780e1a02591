"""Short forms the screens share."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import TYPE_CHECKING

from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import minutes_until
from checklists.lines.records import Day, Visit
from checklists.words import clock, minute_of_day, say_date

if TYPE_CHECKING:
    from checklists.route.departure import Departure


def visits_text(visits: Iterable[Visit]) -> str:
    """ "V1 V3-V5": runs of three and more are drawn together."""
    numbers = sorted(visit.number for visit in visits)
    said: list[str] = []
    while numbers:
        run = 1
        while run < len(numbers) and numbers[run] == numbers[0] + run:
            run += 1
        said.extend([f"V{numbers[0]}-V{numbers[run - 1]}"] if run >= 3 else [f"V{number}" for number in numbers[:run]])
        numbers = numbers[run:]
    return " ".join(said)


def sentence(words: str) -> str:
    """With a capital in front and a full stop behind."""
    return f"{words[:1].upper()}{words[1:]}."


def ready_text(short: int) -> str:
    """The one word for what has nothing open: "ready", or "ready, 1 short"."""
    return f"ready, {short} short" if short else "ready"


def span_text(minutes: int) -> str:
    """ "11 min"; from two hours on "7 h 32"."""
    return f"{minutes // 60} h {minutes % 60:02d}" if minutes >= 120 else f"{minutes} min"


def leave_text(day: Day, marks: Marks, now: datetime, departure: Departure, *, is_closed: bool) -> str:
    """When she leaves the store next, left, or that the day is closed: the same words on every screen of a day.

    Nothing once no further stop at the store comes.
    """
    if is_closed:
        return "closed"
    if marks.left is not None and departure.says_left(marks):
        return f"left at {clock(minute_of_day(marks.left.at))}"
    leave_by = departure.leave_by(day, marks)
    if leave_by is None:
        return "" if day.visits else "no visits"
    leave = f"{'leave ahead' if leave_by.is_ahead else 'leave'} by {clock(leave_by.minute)}"
    if now.date() != day.date:
        return leave
    left = minutes_until(day, leave_by.minute, minute_of_day(now))
    return f"{leave}, " + (f"{span_text(left)} left" if left >= 0 else f"{span_text(-left)} ago")


def turned_text(today: date, due: date | None) -> str:
    """ "It is Tue 6 Oct now: d shows it"; "" where midnight has not passed with the window open."""
    if due is None:
        return ""
    return f"It is {say_date(today)} now" + (": d shows it" if due == today else f", d: {say_date(due)}")
