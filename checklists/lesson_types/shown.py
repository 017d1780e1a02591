"""A lesson type as a class would meet it: each part with everything it takes, the rules' own things among it."""

from __future__ import annotations

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from checklists.calendar import calendar_of
from checklists.daybook.state import Progress, State
from checklists.files.plan_folder import compiled_rules
from checklists.lesson_types.shipped import LessonType
from checklists.lesson_types.starting import what_enters
from checklists.lines.day import day_on
from checklists.lines.reasoning import Reasoning
from checklists.lines.records import Day, Line, Step
from checklists.plan.plan_files import PlanFiles, plan_of
from checklists.plan.records import Bells, Classes, Part, Period, Plan, Room, School, SchoolClass, grade_number
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile

CHILDREN, TABLES = 24, 6
"""The class that every type is shown for. Common practice, no source: the usual third grade."""
GRADE = "3"
_MONDAY = date(2026, 10, 5)
_SCHOOL = School(
    format=1,
    name="",
    first_day=date(2026, 8, 31),
    last_day=date(2027, 6, 11),
    bells=(Bells("regular", (Period("P1", "8:00", "8:45"),)),),
)


class PartShown(Struct, frozen=True):
    """A part with what it takes."""

    part: Part
    lines: tuple[Line, ...]
    """Everything to have along, spares included."""
    tasks: tuple[tuple[str, int], ...]
    """What is to be prepared or done after, and its minutes."""
    cautions: tuple[str, ...]
    days_after: int
    """Days from this part to the next at the earliest, from a Monday with no day off in between; 0: the next day."""


def usual_grade(kind: LessonType) -> str:
    """The grade a type is shown for: the third, or the one nearest to it that the type is for."""
    return (
        GRADE
        if GRADE in kind.grades
        else min(kind.grades, key=lambda each: abs(grade_number(each) - grade_number(GRADE)))
    )


def parts_shown(kind: LessonType, grade: str = "", *, sink: bool | None = True) -> tuple[PartShown, ...]:
    """Every part for 24 children at 6 tables; nothing of the boxes is packed yet."""
    grade = grade or usual_grade(kind)
    plan = _plan_with(kind, grade, sink)
    rules, _ = compiled_rules(plan, RuleFile())
    shown = []
    for number, part in enumerate(plan.lessons[0].parts, 1):
        state = State(progress={plan.classes[0].id: Progress(plan.lessons[0].id, number)})
        day = day_on(plan, rules, state, _MONDAY)
        reasoning = Reasoning(plan, rules, state, calendar_of(plan.school))
        limits = reasoning.limits_after(day.visits[0], Step(plan.lessons[0].id, number), _MONDAY)
        after = (limits.not_before - _MONDAY).days if limits.not_before is not None else 0
        is_last = number == len(plan.lessons[0].parts)
        shown.append(PartShown(part, day.lines, _tasks(day), _cautions(day), 0 if is_last else after))
    return tuple(shown)


def _tasks(day: Day) -> tuple[tuple[str, int], ...]:
    class_id = day.visits[0].class_id
    said = ((task.what.removesuffix(f" for {class_id}"), task.minutes) for task in day.tasks)
    return tuple((what.replace(class_id, "the class"), minutes) for what, minutes in said)


def _cautions(day: Day) -> tuple[str, ...]:
    """What holds for the part on any day: of when it comes again and of weights its own school will tell."""
    class_id = day.visits[0].class_id
    return tuple(dict.fromkeys(each.what for each in day.cautions if each.because and class_id not in each.what))


def _plan_with(kind: LessonType, grade: str, sink: bool | None) -> Plan:
    """A school with one class that is taught the type."""
    room = Room("1", sink=sink)
    class_ = SchoolClass(f"{grade}-A", grade, room.id, CHILDREN, TABLES)
    school = PlanFiles(
        school=replace(_SCHOOL, rooms=(room,)),
        classes=Classes((class_,), {"Mon": {"P1": class_.id}}, {}),
    )
    return plan_of(what_enters(school, kind.id, grade=grade).files, builtin_supplies())
