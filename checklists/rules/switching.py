"""Switching a rule off and on again: for whom, until when, why. From what is typed to an entry, and to words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta

from checklists.plan.records import Plan
from checklists.rules.records import Rule, SwitchedOff
from checklists.typed.dates import date_of, date_parts
from checklists.words import say_date

SAFETY = "Local rules, the nurse and the building's safety person decide, not this list."
_LONGEST_REASON = 400


class CannotSwitch(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """A switching off that cannot be; the message says why."""


def switched_off(
    rule: Rule,
    *,
    class_id: str = "",
    lesson: str = "",
    until: date | None = None,
    reason: str = "",
    since: date | None = None,
) -> SwitchedOff:
    """The entry, written on ``since``. Raises CannotSwitch where a safety rule has no reason."""
    reason = " ".join(reason.split())[:_LONGEST_REASON]
    if rule.safety and not reason:
        raise CannotSwitch("A safety rule is switched off only with a reason.")
    return SwitchedOff(rule=rule.id, class_id=class_id, lesson=lesson, until=until, reason=reason, since=since)


def is_over(off: SwitchedOff, day: date) -> bool:
    """Whether the rule applies again because its last day without it is past."""
    return off.until is not None and off.until < day


def say_scope(off: SwitchedOff, plan: Plan) -> str:
    """ "everywhere", "for 3-B until Fri 30 Oct"."""
    title = plan.title_of_lesson(off.lesson)
    said = [f"for {off.class_id}"] if off.class_id else []
    said += [f"in {title}"] if off.lesson else []
    said = said or ["everywhere"]
    said += [f"until {say_date(off.until)}"] if off.until is not None else []
    return " ".join(said)


def offs_of(rule: str, off: Iterable[SwitchedOff], day: date) -> tuple[SwitchedOff, ...]:
    """What switches a rule off and is not over."""
    return tuple(each for each in off if each.rule == rule and not is_over(each, day))


def day_typed(text: str, today: date) -> date:
    """The day that was typed: "2026-10-30", "30 oct", "oct 30", "10/30" (month and day), or "30", the next 30th.

    Without a year the next such day from ``today`` on. Raises CannotSwitch.
    """
    typed = " ".join(text.casefold().replace(".", " ").replace(",", " ").split())
    found = _day_of(typed, today)
    if found is None:
        raise CannotSwitch(f'"{text.strip()}" is not a day. Type it like 30 oct, 10/30 or 2026-10-30.')
    if found < today:
        raise CannotSwitch(f"{say_date(found)} is past.")
    return found


def _day_of(typed: str, today: date) -> date | None:
    """The date; without a year, or as a day of the month alone, the next such day."""
    parts = date_parts(re.sub(r"^(\d{1,2}) ?[/-] ?(\d{1,2})$", r"\1/\2", typed))
    month: int | None = None
    if parts is not None and parts.year is not None:
        return date_of(parts.year, parts.month, parts.day)
    if parts is not None:
        month, day = parts.month, parts.day
    elif re.fullmatch(r"\d{1,2}", typed):
        day = int(typed)
    else:
        return None
    each = today
    for _ in range(366):
        if each.day == day and month in (None, each.month):
            return each
        each += timedelta(1)
    return None
