"""Filling containers ahead: for the rest of the week or of the cycle, so that a box is filled once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec import structs

from checklists.calendar import Calendar
from checklists.daybook.entries import Fill
from checklists.lines.ahead import days_ahead
from checklists.lines.containers import FOLDER_SUPPLY
from checklists.lines.gathering import needs_of_day
from checklists.lines.merge import lines_from
from checklists.lines.need import Need
from checklists.lines.reasoning import Reasoning
from checklists.lines.records import Because, Line, Visit
from checklists.words import say_date


def school_days_filled(calendar: Calendar, day: date, fill: Fill) -> int:
    """How many school days after ``day`` are filled for: to the end of its week, or of its cycle."""
    if fill == "day" or not calendar.is_school_day(day):
        return 0
    days = calendar.school.rotation.days
    count = 0
    for following in calendar.school_days_after(day):
        if fill == "cycle" and days:
            if calendar.day_name(following) == days[0]:
                break
        elif following.isocalendar()[:2] != day.isocalendar()[:2]:
            break
        count += 1
    return count


def lines_filled_ahead(
    reasoning: Reasoning,
    day: date,
    visits: Sequence[Visit],
    needs: Sequence[Need],
    today: Sequence[Line],
    fill: Fill,
) -> tuple[Line, ...]:
    """Today's lines with what the coming visits of the span need more, and lines that only these need, in one order.

    Each class goes on by one part a visit. The spare is once on the total that is filled at once. Folders and catch-up
    are for the day they are needed on.
    """
    count = school_days_filled(reasoning.calendar, day, fill)
    later_visits: list[Visit] = []
    later_needs: list[Need] = []
    for ahead in days_ahead(reasoning, day, visits, count):
        judged = ahead.reasoning.judge(ahead.date, ahead.visits)
        found, _ = needs_of_day(ahead.reasoning, ahead.date, judged, with_owed=False)
        named = {visit.key: f"{say_date(ahead.date)} {visit.key}" for visit in ahead.visits}
        later_visits += [
            structs.replace(visit, key=named[visit.key], number=len(visits) + len(later_visits) + n)
            for n, visit in enumerate(ahead.visits, 1)
        ]
        later_needs += [
            structs.replace(need, visit=named[need.visit], critical=False, forbidden="")
            for need in found
            if need.supply != FOLDER_SUPPLY and not need.forbidden
        ]
    if not later_needs:
        return tuple(today)
    known = {line.key: line for line in today}
    together = lines_from(reasoning.plan, reasoning.state, [*visits, *later_visits], [*needs, *later_needs])
    now = {visit.key for visit in visits}
    return tuple(_both(known.get(line.key), line, now) for line in together)


def _both(today: Line | None, together: Line, now: set[str]) -> Line:
    later = tuple(key for key in together.visits if key not in now)
    if today is None:
        return structs.replace(
            together,
            need=0,
            ahead=together.need,
            visits=(),
            later=later,
            critical=False,
            uses=(),
            because=tuple(_later(together.because)),
        )
    more = together.need - today.need
    if more <= 0:
        return structs.replace(today, number=together.number)
    return structs.replace(today, number=together.number, ahead=more, later=later)


def _later(because: Sequence[Because]) -> Iterator[Because]:
    for each in because:
        when = f"{each.visits[0]}: " if each.visits else ""
        yield structs.replace(each, text=f"{when}{each.text}", visits=())
