"""A day that was lost with its letter: what was packed for it, to be kept until the letter comes again or unpacked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from checklists.calendar import calendar_of
from checklists.daybook.entries import AnyEntry, TakenOut, Ticked
from checklists.daybook.marks import Marks
from checklists.daybook.state import Carried, State
from checklists.lines.containers import FOLDER
from checklists.lines.records import Matter
from checklists.plan.records import Plan
from checklists.words import say_date


def letter_comes_again(plan: Plan, lost: date, opening: State) -> date | None:
    """When the timetable day of a date comes again that was lost, where letters stay with their dates; else None."""
    rotation = plan.school.rotation
    if rotation.kind != "cycle" or rotation.lost_day != "fixed":
        return None
    earlier = tuple(each for each in opening.lost_days if each != lost)
    calendar = calendar_of(plan.school, earlier, opening.announced)
    name = calendar.day_name(lost)
    return next((day for day in calendar.school_days_after(lost) if name and calendar.day_name(day) == name), None)


def packed_for_nothing(plan: Plan, day: date, marks: Marks, opening: State) -> Iterator[Carried]:
    """The one question that stays of a lost day for which something was packed."""
    if marks.changes is None or not marks.changes.no_school:
        return
    again = letter_comes_again(plan, day, opening)
    packed: dict[str, int] = {}
    for key, mark in marks.lines.items():
        container, supply, *kit = key.split("/")
        in_pail = bool(kit) and kit[0].startswith("pail ")
        if mark.count and not supply.startswith(FOLDER) and (not kit or in_pail):
            packed[f"{container}/{supply}"] = packed.get(f"{container}/{supply}", 0) + mark.count
    if again is not None and packed:
        what = f"Packed for {say_date(day)}: keep for {say_date(again)} or unpack?"
        yield Carried(f"packed/{day.isoformat()}", "packed", what, day, packed=packed, keep_for=again)


def unpacked(matter: Matter, at: datetime) -> tuple[AnyEntry, ...]:
    """What today does not need of it goes back on the shelf."""
    entries: list[AnyEntry] = []
    for what, (count, left) in matter.packed.items():
        container, _, supply = what.partition("/")
        entries.append(TakenOut(at=at, container=container, supply=supply, count=count, left=left))
    return (*entries, Ticked(at=at, matter=matter.key))
