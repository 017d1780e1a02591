"""Where in its day there is time for a task: before school, in a break at the store, after school."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from msgspec import structs

from checklists.lines.records import Task
from checklists.plan.records import Bells, Break
from checklists.taught_periods import is_meal
from checklists.words import clock, minute_of

BEFORE_SCHOOL = "before school"
AFTER_SCHOOL = "after school"


def placed_tasks(tasks: Sequence[Task], today: date, bells_today: Bells, regular: Bells) -> tuple[Task, ...]:
    """The tasks with the place each has in the day it is due on; what was due before has its place today.

    A break takes as many minutes as it has, in the order of the tasks; what is left over is for after school. What
    today's own visits need cannot wait for a break.
    """
    free: dict[tuple[date, str], int] = {}
    found: list[Task] = []
    for task in tasks:
        on = max(task.due, today)
        bells = bells_today if on == today else regular
        place = BEFORE_SCHOOL if task.for_date <= on else _place(task, on, bells.breaks, free)
        found.append(structs.replace(task, place=place))
    return tuple(found)


def _place(task: Task, on: date, breaks: Sequence[Break], free: dict[tuple[date, str], int]) -> str:
    for each in sorted(breaks, key=lambda one: minute_of(one.start)):
        key = on, each.start
        left = free.setdefault(key, minute_of(each.end) - minute_of(each.start))
        if task.minutes <= left and not is_meal(each):
            free[key] = left - task.minutes
            return f"{each.name}, {clock(minute_of(each.start))}"
    return AFTER_SCHOOL
