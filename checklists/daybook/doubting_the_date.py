"""Whether the date of the computer can be right: a clock that is wrong opens a list nobody needs.

Practice: asked where the last step is more than five school days back, or in the future. Nothing is held up by it.
"""

from __future__ import annotations

from datetime import date, datetime

from msgspec import Struct

from checklists.calendar import Calendar
from checklists.words import say_date, say_full_date

MOST_SCHOOL_DAYS = 5
"""School days without a step that nobody wonders about. Common practice, no source."""


class Doubt(Struct, frozen=True):
    """What is to be asked of the date. ``is_wrong``: steps are still to come, so that it cannot be right."""

    text: str
    is_wrong: bool = False


def doubt_of_date(today: date, last_step: datetime, calendar: Calendar) -> Doubt | None:
    """The doubt of a date; None where there is none. ``last_step``: datetime.min where nothing was ever done."""
    if last_step == datetime.min:
        return None
    last = last_step.date()
    if last > today:
        when = f"{say_full_date(last)}, which is still to come"
        asked = f"Today is {say_full_date(today)}?"
        return Doubt(f"{asked} The last step was made on {when}: look at the computer's clock.", is_wrong=True)
    missed = calendar.school_days_between(last, today)
    if missed <= MOST_SCHOOL_DAYS:
        return None
    return Doubt(f"Today is {say_date(today)}? The last step was made on {say_date(last)}, {missed} school days ago.")
