"""Renaming what is known by its name: classes, rooms, periods, days of a cycle, bell schedules. Everywhere at once.

Supplies, kits and lessons are known by an id that stays; what they are called is a plain field. The days that are told
keep the old name: ``School.daybook_names`` says what it is now (``daybook/names_there.py`` reads them by it).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from msgspec import Struct, structs

from checklists.plan.check import STORE, WEEKDAYS
from checklists.plan.naming import BELLS, CLASS, DAY, PERIOD, ROOM, renamed
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Classes, DaybookNames, School
from checklists.rules.records import RuleFile
from checklists.words import clean, join_words, nearest, say_room

RENAMED: Final = {CLASS: "classes", ROOM: "rooms", PERIOD: "periods", DAY: "days", BELLS: "bells"}
"""Kinds of things that are renamed, and under what the daybook's names of them are kept."""
LONGEST = 60
NO_ROOMS = (STORE, "everywhere")
"""Words that mean another place where a room could stand."""
_IN_KEYS = (CLASS, PERIOD)
"""Kinds of names that the daybook puts together with others, a "/" between them."""


class CannotRename(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """A name that cannot be; the message says why, in words for a teacher."""


class Renamed(Struct, frozen=True):
    """The plan with the new name in place of the old one, and her own rules so."""

    files: PlanFiles
    own_rules: RuleFile


def rename(files: PlanFiles, own_rules: RuleFile, kind: str, old: str, new: str) -> Renamed:
    """Call a class, a room, a period, a day of the cycle or a bell schedule otherwise. Raises CannotRename.

    Rules of her own that name it go along: their conditions and what is switched off for it, not what they say.
    """
    name = " ".join(new.split())
    why = why_no_name(files, kind, name, old)
    if why:
        raise CannotRename(why)
    names = _names_with(files, kind, old, name)
    school = structs.replace(renamed(files.school, kind, old, name), daybook_names=names)
    lessons = tuple(renamed(each, kind, old, name) for each in files.lessons)
    classes = renamed(files.classes, kind, old, name)
    files = structs.replace(files, school=school, classes=classes, lessons=lessons)
    return Renamed(files, renamed(own_rules, kind, old, name))


def why_no_name(files: PlanFiles, kind: str, name: str, old: str = "") -> str:
    """Why something of this kind cannot be called so, while typing; empty: it can. ``old`` is what it is called now."""
    if kind not in RENAMED:
        return f"A {kind} is not renamed; what it is called is changed where it is described."
    there = known_names(files.school, files.classes, kind)
    if old and old not in there:
        near = nearest(old, there)
        return f'There is no {_noun(kind)} "{clean(old)}".' + (f' Is "{near}" meant?' if near else _those(there))
    if kind == DAY and files.school.rotation.kind == "weekdays":
        return "The days are those of the week: Mon, Tue, Wed, Thu and Fri. Days of a cycle have names of their own."
    if not name:
        return f"Give the {_noun(kind)} a name."
    if len(name) > LONGEST:
        return f"That is too long: at most {LONGEST} signs."
    if clean(name) != name:
        return "There is a sign in it that cannot be shown. Type it anew."
    if kind in _IN_KEYS and "/" in name:
        return f'A "/" cannot stand in it. Write it as "{name.replace("/", "-")}".'
    if kind == ROOM and name.casefold() in NO_ROOMS:
        return f'"{name}" is the name of something else. Call the room otherwise.'
    if name == old:
        return "It is called so already."
    other = next((each for each in there if each.casefold() == name.casefold() and each != old), None)
    return (
        f'There is a {_noun(kind)} "{other}" already. Choose another name, or rename that one first.' if other else ""
    )


def say_renamed(kind: str, old: str, new: str) -> str:
    """ "Room 12 is called 14 now"."""
    what = say_room(old) if kind == ROOM else f"{_noun(kind)} {old}"
    return f"{what[:1].upper()}{what[1:]} is called {new} now"


def known_names(school: School, classes: Classes, kind: str) -> tuple[str, ...]:
    """Every name of a kind that the plan knows, each once."""
    timetable = classes.timetable
    found: dict[str, Iterable[str]] = {
        CLASS: (each.id for each in classes.classes),
        ROOM: (
            *(each.id for each in school.rooms),
            *(each.room for each in classes.classes),
            *(room for each in school.buildings for room in each.rooms),
        ),
        PERIOD: (
            *(period.name for bells in school.bells for period in bells.periods),
            *(period for day in timetable.values() for period in day),
        ),
        DAY: (*school.rotation.days, *timetable, *(WEEKDAYS if school.rotation.kind == "weekdays" else ())),
        BELLS: (each.id for each in school.bells),
    }
    return tuple(dict.fromkeys(found[kind]))


def names_there(school: School, classes: Classes, kind: str) -> dict[str, str]:
    """What each thing of a kind is called in the daybook; no two the same.

    One that is new and is called as another one was before has a name of its own there, which nobody sees. So has,
    the other way round, what the daybook calls as something is called now that is not the same.
    """
    renamed_before: dict[str, str] = getattr(school.daybook_names, RENAMED[kind])
    there = dict(renamed_before)
    taken = {*there.values(), *(school.daybook_names.gone if kind == CLASS else ())}
    for name in known_names(school, classes, kind):
        if name not in there:
            free = name
            while free in taken:
                free += "~"
            there[name] = free
            taken.add(free)
    told = set(there.values())
    for name in [each for each in there if each not in told]:
        other = f"{name}~"
        while other in there:
            other += "~"
        there[other] = name
    return there


def without_class(files: PlanFiles, class_id: str) -> DaybookNames:
    """The names of the daybook when a class is no more: one that is called so later inherits nothing of it."""
    names, there = files.school.daybook_names, names_there(files.school, files.classes, CLASS)
    classes = {name: each for name, each in names.classes.items() if name != class_id}
    return structs.replace(names, classes=classes, gone=(*names.gone, there.get(class_id, class_id)))


def _names_with(files: PlanFiles, kind: str, old: str, new: str) -> DaybookNames:
    known = {*known_names(files.school, files.classes, kind), *getattr(files.school.daybook_names, RENAMED[kind])}
    there = names_there(files.school, files.classes, kind)
    after = {new if name == old else name: each for name, each in there.items() if name in known}
    other = {name: each for name, each in after.items() if name != each}
    return structs.replace(files.school.daybook_names, **{RENAMED[kind]: other})


def _noun(kind: str) -> str:
    return {BELLS: "bell schedule", DAY: "timetable day"}.get(kind, kind)


def _those(there: tuple[str, ...]) -> str:
    return f" There are {join_words(there)}." if 0 < len(there) <= 12 else ""
