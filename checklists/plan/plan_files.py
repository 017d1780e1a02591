"""Everything of a plan that is rewritten on screen, as the records its files hold: from one such to the next.

What is computed with is the ``Plan``; this is what is kept. Supplies that come with the program are in it only where
she changed them, so that what is written is hers alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from msgspec import Struct, structs

from checklists.plan.records import (
    Archive,
    Box,
    Classes,
    Kit,
    Kits,
    Lesson,
    Plan,
    School,
    SchoolClass,
    Supply,
    grade_number,
)

Of = TypeVar("Of", SchoolClass, Supply, Kit, Lesson)


class PlanFiles(Struct, frozen=True):
    """school.toml, classes.toml, supplies.toml, kits.toml and one file for each lesson."""

    school: School
    classes: Classes = Classes()
    supplies: tuple[Supply, ...] = ()
    """Hers only, in the order of the file."""
    kits: Kits = Kits()
    lessons: tuple[Lesson, ...] = ()
    """In the order of their ids."""


def files_of(plan: Plan, builtin: Iterable[Supply]) -> PlanFiles:
    """A plan as its files have it; ``builtin`` are the supplies that come with the program."""
    as_it_comes = tuple(builtin)
    return PlanFiles(
        school=plan.school,
        classes=Classes(classes=plan.every_class, timetable=plan.timetable, teaching=plan.teaching),
        supplies=tuple(each for each in plan.every_supply if each not in as_it_comes),
        kits=Kits(boxes=plan.boxes, kits=plan.every_kit),
        lessons=plan.every_lesson,
    )


def plan_of(files: PlanFiles, builtin: Iterable[Supply]) -> Plan:
    """What is computed with: the same with the supplies that come with the program, where she has none of that id."""
    hers = {each.id for each in files.supplies}
    classes, old_classes = _apart(files.classes.classes)
    supplies, old_supplies = _apart(files.supplies)
    kits, old_kits = _apart(files.kits.kits)
    lessons, old_lessons = _apart(files.lessons)
    return Plan(
        school=files.school,
        classes=classes,
        timetable=files.classes.timetable,
        teaching=files.classes.teaching,
        supplies=supplies + tuple(each for each in builtin if each.id not in hers),
        boxes=files.kits.boxes,
        kits=kits,
        lessons=lessons,
        archive=Archive(old_classes, old_supplies, old_kits, old_lessons),
    )


def _apart(every: tuple[Of, ...]) -> tuple[tuple[Of, ...], tuple[tuple[int, Of], ...]]:
    """What is in use, and what is archived with its place among all."""
    if not any(each.archived for each in every):
        return every, ()
    return tuple(each for each in every if not each.archived), tuple(
        (n, each) for n, each in enumerate(every) if each.archived
    )


def with_what_holds(files: PlanFiles, builtin: Iterable[Supply]) -> PlanFiles:
    """The same with what holds though no file says it: supplies that come with the program, a box for each grade."""
    hers = {each.id for each in files.supplies}
    grades = {each.grade for each in files.classes.classes if not each.archived}
    missing = sorted(grades - {each.grade for each in files.kits.boxes}, key=grade_number)
    boxes = (*files.kits.boxes, *(Box(grade) for grade in missing))
    return structs.replace(
        files,
        supplies=files.supplies + tuple(each for each in builtin if each.id not in hers),
        kits=structs.replace(files.kits, boxes=boxes),
    )


def as_written(files: PlanFiles, before: PlanFiles, builtin: Iterable[Supply]) -> PlanFiles:
    """The same without what holds unsaid and was not in the files ``before``: what is unchanged is not written."""
    there = {each.grade for each in before.kits.boxes}
    boxes = tuple(each for each in files.kits.boxes if each.grade in there or each != Box(each.grade))
    as_it_comes = tuple(builtin)
    return structs.replace(
        files,
        supplies=tuple(each for each in files.supplies if each not in as_it_comes),
        kits=structs.replace(files.kits, boxes=boxes),
    )
