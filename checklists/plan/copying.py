"""A copy of a thing to begin from, beside the one it was made from."""

from __future__ import annotations

from typing import Any

from msgspec import structs

from checklists.plan.archiving import CannotArchive, put_in, thing_of, things_of
from checklists.plan.naming import BELLS, CLASS, LESSON, ROOM, SUPPLY
from checklists.plan.new_ids import free_name, new_id
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Supply
from checklists.plan.renaming import known_names
from checklists.rules.read import builtin_supplies
from checklists.rules.vocabulary import KINDS
from checklists.words import clean


def copy_of(files: PlanFiles, kind: str, name: str) -> tuple[PlanFiles, str]:
    """The plan with a copy of a class, room, supply, kit, lesson or bell schedule behind it; and the id of the copy.

    A class is in no period yet, a lesson is taught to no grade, a supply is not counted. Raises CannotArchive where
    there is no such thing.
    """
    if kind == BELLS:
        return _copy_of_bells(files, name)
    thing: Any = thing_of(files, kind, name)
    if kind in (CLASS, ROOM):
        ident = free_name(name, known_names(files.school, files.classes, kind))
        new = structs.replace(thing, id=ident, archived=False)
        if kind == CLASS:
            new = structs.replace(new, left=())
    else:
        called = "title" if kind == LESSON else "name"
        text = free_name(getattr(thing, called), [getattr(each, called) for each in things_of(files, kind)])
        ident = new_id(text, taken_ids(files, kind), kind)
        new = structs.replace(thing, id=ident, archived=False, **{called: text})
        if isinstance(new, Supply):
            new = structs.replace(new, on_hand=None, counted=None)
    every = things_of(files, kind)
    at = next(n for n, each in enumerate(every) if each.id == name) + 1
    things = (*every[:at], new, *every[at:])
    return put_in(files, kind, tuple(sorted(things, key=lambda each: each.id)) if kind == LESSON else things), ident


def taken_ids(files: PlanFiles, kind: str) -> frozenset[str]:
    """Ids that a new thing of a kind cannot have: those there are, and words that rules would take it for."""
    hers = {each.id for each in things_of(files, kind)}
    if kind != SUPPLY:
        return frozenset(hers)
    marks = {mark for each in (*files.supplies, *builtin_supplies()) for mark in each.marks}
    return frozenset({*hers, *(each.id for each in builtin_supplies()), *marks, *KINDS})


def _copy_of_bells(files: PlanFiles, name: str) -> tuple[PlanFiles, str]:
    every = files.school.bells
    if name not in {each.id for each in every}:
        raise CannotArchive(f'There is no bell schedule "{clean(name)}".')
    ident = free_name(name, [each.id for each in every])
    at = next(n for n, each in enumerate(every) if each.id == name)
    bells = (*every[: at + 1], structs.replace(every[at], id=ident), *every[at + 1 :])
    return structs.replace(files, school=structs.replace(files.school, bells=bells)), ident
