"""Everything of a plan that is rewritten on screen, as the records its files hold: from one such to the next.

What is computed with is the ``Plan``; this is what is kept. Supplies that come with the program are in it only where
she changed them, so that what is written is hers alone.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from checklists.plan.records import Classes, Kits, Lesson, Plan, School, Supply


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
        classes=Classes(classes=plan.classes, timetable=plan.timetable, teaching=plan.teaching),
        supplies=tuple(each for each in plan.supplies if each not in as_it_comes),
        kits=Kits(boxes=plan.boxes, kits=plan.kits),
        lessons=plan.lessons,
    )


def plan_of(files: PlanFiles, builtin: Iterable[Supply]) -> Plan:
    """What is computed with: the same with the supplies that come with the program, where she has none of that id."""
    hers = {each.id for each in files.supplies}
    return Plan(
        school=files.school,
        classes=files.classes.classes,
        timetable=files.classes.timetable,
        teaching=files.classes.teaching,
        supplies=files.supplies + tuple(each for each in builtin if each.id not in hers),
        boxes=files.kits.boxes,
        kits=files.kits.kits,
        lessons=files.lessons,
    )
