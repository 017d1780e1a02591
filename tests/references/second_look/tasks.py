"""What is to be prepared for the parts of a day: when it falls due and how long it takes."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from tests.references.second_look.calendar import school_days
from tests.references.second_look.plan import Table
from tests.references.second_look.visits import Record, effects_of

Tasks = dict[tuple[str, str, int], list[tuple[date, int]]]
"""(class, lesson, part) -> due and minutes of each preparation for it, and of what follows from the part before."""


def tasks_for(plan: Table, visits: list[Table], day: date, record: Record) -> Tasks:
    """Once for a class and a part, however often it comes on the day."""
    days = [each for each in school_days(plan, record["lost"]) if each <= day]
    found: Tasks = {}
    for visit in visits:
        for step in visit["steps"]:
            this = (visit["class"], *step)
            if this not in found:
                due = {before: days[-1 - before] for before in range(len(days))}
                asked = asked_for(plan, visit, step, day)
                before = [(due.get(n, day), ceil(minutes)) for days, n, minutes in asked if not days and n >= 0]
                found[this] = sorted([*before, *after_the_part_before(plan, visit, step, day, record)])
    return {this: tasks for this, tasks in found.items() if tasks}


def after_the_part_before(
    plan: Table, visit: Table, step: tuple[str, int], day: date, record: Record
) -> list[tuple[date, int]]:
    """What falls due so many school days after the part that the class did last: the kiln."""
    place = visit["place"]
    done = place["taught on"]
    if visit["instead"] or done is None or step != (place["lesson"], place["part"]) or step[1] < 2:
        return []
    due = []
    for days, before, minutes in asked_for(plan, visit, (step[0], step[1] - 1), day):
        left = [each for each in school_days(plan, record["lost"]) if each >= done + timedelta(days)]
        if (days or before < 0) and -before < len(left):
            due.append((left[-before], ceil(minutes)))
    return due if all(each <= day for each, _ in due) else []  # else it is for a visit that is still to come


def asked_for(plan: Table, visit: Table, step: tuple[str, int], day: date) -> list[tuple[int, int, Fraction]]:
    """What the part says itself, and what rules say of it: days after, school days before, minutes.

    With days after the part, or school days below nothing, it is due after it: so many days, then so many school days.
    """
    part = plan["lessons"][step[0]]["parts"][step[1] - 1]
    asked = [(0, int(prep.get("days_before", 1)), Fraction(prep.get("minutes", 5))) for prep in part.get("preps", ())]
    for _, kind, _, task in effects_of(plan, visit, step, day):
        if kind == "tasks":
            each = Fraction(task.get("minutes_each", 0)) * visit["students"]
            minutes = Fraction(task.get("minutes", 5)) + each
            asked.append((int(task.get("after_days", 0)), int(task.get("days_before", 1)), minutes))
    return asked
