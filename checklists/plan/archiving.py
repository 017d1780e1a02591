"""Archiving what is not used any more, bringing it back, and taking out of the plan what nothing uses.

What is archived stays in its file and is found by earlier days; it is offered and asked about nowhere. What is taken
out is gone from the plan; what was told of it stays told.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from msgspec import structs

from checklists.plan.naming import BELLS, CLASS, KIT, LESSON, ROOM, SUPPLY
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Classes, Kit, Lesson, Room, SchoolClass, Supply
from checklists.plan.renaming import without_class
from checklists.plan.uses import Use, say_uses, uses_of
from checklists.rules.records import RuleFile
from checklists.words import clean, say_room

Thing = SchoolClass | Supply | Kit | Lesson | Room
ARCHIVED: Final = (CLASS, ROOM, SUPPLY, KIT, LESSON)
"""Kinds of things that can be archived."""
_NO_RULES = RuleFile()
_MAY_STAY: Final = {LESSON: ("grade",), SUPPLY: ("class",), ROOM: ("school",), KIT: ("school",)}
"""By what a thing may be named and archived all the same: it goes out of that, or nothing is asked for by it."""


class CannotArchive(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """Something that is in use, or is not there; the message says what uses it, in words for a teacher."""


def archive(files: PlanFiles, kind: str, name: str) -> PlanFiles:
    """Put a thing away: a class out of the timetable, a lesson out of every grade's year.

    Raises CannotArchive while something in use needs it. Her own rules may go on naming it.
    """
    thing = thing_of(files, kind, name)
    if thing.archived:
        raise CannotArchive(f"{_called(thing)} is archived already.")
    needed = tuple(each for each in uses_of(files, _NO_RULES, kind, name) if _is_needed(files, kind, each))
    if needed:
        raise CannotArchive(f"{_called(thing)} is in use: {say_uses(needed)}. Change that first.")
    files = structs.replace(files, classes=_without(files.classes, kind, name))
    return _with(files, kind, name, structs.replace(thing, archived=True))


def bring_back(files: PlanFiles, kind: str, name: str) -> PlanFiles:
    """What was archived is in use again; when a class comes, and which grade is taught a lesson, is said anew."""
    thing = thing_of(files, kind, name)
    if not thing.archived:
        raise CannotArchive(f"{_called(thing)} is not archived.")
    return _with(files, kind, name, structs.replace(thing, archived=False))


def remove(files: PlanFiles, own_rules: RuleFile, kind: str, name: str, open_about: tuple[str, ...] = ()) -> PlanFiles:
    """Take a thing out of the plan for good. Raises CannotArchive while anything names it.

    ``open_about`` is what is not settled about it in the daybook, in words (``daybook.open_about`` has it). Another
    class that is called so later inherits nothing.
    """
    if kind == BELLS:
        return _without_bells(files, name)
    thing = thing_of(files, kind, name)
    uses = uses_of(files, own_rules, kind, name)
    if uses:
        raise CannotArchive(f"{_called(thing)} is in use: {say_uses(uses)}. Change that first, or archive it.")
    if open_about:
        more = f"; and {len(open_about) - 3} more" if len(open_about) > 3 else ""
        what = f"{'; '.join(open_about[:3])}{more}"
        raise CannotArchive(f"{_called(thing)} is not done with: {what}. Settle that first, or archive it.")
    if kind == CLASS:
        files = structs.replace(files, school=structs.replace(files.school, daybook_names=without_class(files, name)))
    return _with(files, kind, name, None)


def is_archived(files: PlanFiles, kind: str, name: str) -> bool:
    """Whether a thing is put away; what is not there, or cannot be archived, is not."""
    return any(each.id == name and each.archived for each in things_of(files, kind))


def thing_of(files: PlanFiles, kind: str, name: str) -> Thing:
    """The entry of a thing. Raises CannotArchive where it has none."""
    found = next((each for each in things_of(files, kind) if each.id == name), None)
    if found is None:
        hers = " of yours" if kind == SUPPLY else " with an entry of its own" if kind == ROOM else ""
        raise CannotArchive(f'There is no {kind}{hers} "{clean(name)}".')
    return found


def put_in(files: PlanFiles, kind: str, things: tuple[Any, ...]) -> PlanFiles:
    """The plan with these things of a kind in place of those there are."""
    change: dict[str, Callable[[], PlanFiles]] = {
        CLASS: lambda: structs.replace(files, classes=structs.replace(files.classes, classes=things)),
        ROOM: lambda: structs.replace(files, school=structs.replace(files.school, rooms=things)),
        SUPPLY: lambda: structs.replace(files, supplies=things),
        KIT: lambda: structs.replace(files, kits=structs.replace(files.kits, kits=things)),
        LESSON: lambda: structs.replace(files, lessons=things),
    }
    return change[kind]()


def things_of(files: PlanFiles, kind: str) -> tuple[Thing, ...]:
    """Every thing of a kind that can be archived, in the order of its file; of another kind none."""
    every: dict[str, tuple[Thing, ...]] = {
        CLASS: files.classes.classes,
        ROOM: files.school.rooms,
        SUPPLY: files.supplies,
        KIT: files.kits.kits,
        LESSON: files.lessons,
    }
    return every.get(kind, ())


def _with(files: PlanFiles, kind: str, name: str, thing: Thing | None) -> PlanFiles:
    every = tuple(thing if each.id == name else each for each in things_of(files, kind))
    return put_in(files, kind, tuple(each for each in every if each is not None))


def _without(classes: Classes, kind: str, name: str) -> Classes:
    """Who comes when without an archived class, what is taught without an archived lesson."""
    if kind == CLASS:
        every = classes.timetable.items()
        timetable = {day: {period: each for period, each in come.items() if each != name} for day, come in every}
        return structs.replace(classes, timetable=timetable)
    if kind == LESSON:
        taught = {grade: tuple(each for each in every if each != name) for grade, every in classes.teaching.items()}
        return structs.replace(classes, teaching=taught)
    return classes


def _is_needed(files: PlanFiles, kind: str, use: Use) -> bool:
    """Whether a use keeps a thing from being archived: not where it goes along, or is put away itself."""
    may_stay = kind == CLASS or use.by_kind in _MAY_STAY.get(kind, ())
    return not may_stay and not is_archived(files, use.by_kind, use.by)


def _without_bells(files: PlanFiles, name: str) -> PlanFiles:
    every = files.school.bells
    if name not in {each.id for each in every}:
        raise CannotArchive(f'There is no bell schedule "{clean(name)}".')
    if name == every[0].id:
        raise CannotArchive(f"{name} is the regular bell schedule: an ordinary day goes by it. It stays.")
    bells = tuple(each for each in every if each.id != name)
    return structs.replace(files, school=structs.replace(files.school, bells=bells))


def _called(thing: Thing) -> str:
    match thing:
        case Lesson():
            return thing.title
        case Supply() | Kit():
            return thing.name
        case Room():
            return f"{say_room(thing.id)[:1].upper()}{say_room(thing.id)[1:]}"
        case _:
            return f"Class {thing.id}"
