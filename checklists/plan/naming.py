"""What names what in the plan: one table of the fields that hold a name, and one walk over records by it.

``uses`` tells by it what uses a thing, ``renaming`` puts another name in. A field is in ``NAMES`` where it names a
thing that has its own entry elsewhere, in ``OWN`` where it is the thing's own name; a test finds one that is in
neither.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final, TypeVar

import msgspec
from msgspec import Struct

from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Supplies

Of = TypeVar("Of", bound=Struct)

Path = tuple[str | int, ...]
Shape = str | tuple[str] | Mapping[str, Any] | None
"""Where in a field a name stands: it is one ("room"), it has one at each place (("supply",)), or it is a table with a
name as key and the shape of what stands behind it; None: no name there."""

CLASS, ROOM, PERIOD, DAY, BELLS = "class", "room", "period", "timetable day", "bells"
SUPPLY, KIT, LESSON, GRADE = "supply", "kit", "lesson", "grade"
PLACE, CONTAINER, AVOIDED = "place", "container", "thing to avoid"
NEED, TAG, MARK, RULE, MARKED, SENTENCE = "need", "tag", "mark", "rule", "marked thing", "sentence"

MAY_BE: Final[Mapping[str, tuple[str, ...]]] = {
    PLACE: (ROOM,),
    CONTAINER: (KIT,),
    AVOIDED: (SUPPLY, MARK),
    MARKED: (SUPPLY, MARK),
}
"""Kinds of names that may be of several things: a place is a room or the store, a container a kit or a grade's box."""
_SENTENCES: Final[Mapping[str, str]] = {
    "class is ": CLASS,
    "lesson is ": LESSON,
    "some item is ": MARKED,
    "no item is ": MARKED,
    "item is not ": MARKED,
    "item is ": MARKED,
    "lists ": MARKED,
    "need ": NEED,
    "avoid ": AVOIDED,
}
"""How a condition of a rule begins that names something (``rules/conditions.py`` has the grammar)."""

NAMES: Final[Mapping[str, Shape]] = {
    "Walk.between": (PLACE,),
    "Building.rooms": (ROOM,),
    "Cart.standing": {SUPPLY: None},
    "RoutePins.stops": {PERIOD: None},
    "RoutePins.rides": {CONTAINER: None},
    "RoutePins.leave_in": {ROOM: None},
    "Habits.filler": LESSON,
    "SchoolClass.grade": GRADE,
    "SchoolClass.room": ROOM,
    "SchoolClass.avoid": (AVOIDED,),
    "SchoolClass.has": (SUPPLY,),
    "Need.need": NEED,
    "Classes.timetable": {DAY: {PERIOD: CLASS}},
    "Classes.teaching": {GRADE: (LESSON,)},
    "Supply.marks": (MARK,),
    "Supply.instead": SUPPLY,
    "Box.grade": GRADE,
    "Box.standing": {SUPPLY: None},
    "Kit.holds": {SUPPLY: None},
    "Part.tags": (TAG,),
    "Item.supply": SUPPLY,
    "Item.into": CONTAINER,
    "Item.not_for": (CLASS,),
    "Lesson.grades": (GRADE,),
    "Lesson.kits": (KIT,),
    "Lesson.dry_version": LESSON,
    # her own rules
    "Rule.when": (SENTENCE,),
    "Rule.gives": (SENTENCE,),
    "Add.supply": SUPPLY,
    "Add.into": CONTAINER,
    "Replace.what": MARKED,
    "Replace.supply": SUPPLY,
    "Forbid.what": MARKED,
    "Forbid.instead": SUPPLY,
    "Raise.what": MARKED,
    "SwitchedOff.rule": RULE,
    "SwitchedOff.class_id": CLASS,
    "SwitchedOff.lesson": LESSON,
    "SwitchedOn.rule": RULE,
}
"""Field of a record -> names of which kind stand in it."""

OWN: Final[Mapping[str, Shape]] = {
    "Bells.id": BELLS,
    "Period.name": PERIOD,
    "Rotation.days": (DAY,),
    "Room.id": ROOM,
    "SchoolClass.id": CLASS,
    "Supply.id": SUPPLY,
    "Kit.id": KIT,
    "Lesson.id": LESSON,
    "Rule.id": RULE,
}
"""Field of a record -> of which kind of thing it is the own name. A period has its name in every bell schedule."""


class Named(Struct, frozen=True):
    """A name that stands somewhere in the plan."""

    kind: str
    """As the table has it: a container may be a kit or a box."""
    name: str
    file: str
    path: Path
    """Within the file, as problems have it: ("classes", 3, "room")."""
    holders: tuple[Struct, ...]
    """The records it stands in, the file's first, the nearest last."""
    field: str
    """ "SchoolClass.room"."""

    def is_of(self, kind: str, name: str) -> bool:
        """Whether it can be the name of this thing."""
        return self.name == name and _may_be(self.kind, kind)


def names_in(files: PlanFiles) -> Iterator[Named]:
    """Every name of another thing in the plan, file by file."""
    for file, record in records_of(files):
        yield from names_in_record(file, record)


def records_of(files: PlanFiles) -> Iterator[tuple[str, Struct]]:
    """Each file with the record it holds."""
    yield "school.toml", files.school
    yield "classes.toml", files.classes
    yield "supplies.toml", Supplies(files.supplies)
    yield "kits.toml", files.kits
    for lesson in files.lessons:
        yield f"lessons/{lesson.id}.toml", lesson


def names_in_record(file: str, record: Struct, table: Mapping[str, Shape] = NAMES) -> Iterator[Named]:
    """Every name in a file's record; with ``OWN`` the things that have their entry there."""

    def walk(holders: tuple[Struct, ...], path: Path) -> Iterator[Named]:
        holder = holders[-1]
        for field in holder.__struct_fields__:
            value, full = getattr(holder, field), f"{type(holder).__name__}.{field}"
            for kind, name, where in _found(value, table.get(full), (*path, field)):
                yield Named(kind, name, file, where, holders, full)
            for each, where in _records_below(value, (*path, field)):
                yield from walk((*holders, each), where)

    return walk((record,), ())


def name_in_sentence(sentence: str) -> tuple[str, str] | None:
    """What a condition of a rule names, kind and name: "not class is 3-B" speaks of the class 3-B."""
    plain = " ".join(sentence.split()).removeprefix("not ")
    if plain in ("avoid item", "item is item"):
        return None
    return next(
        ((kind, plain.removeprefix(start)) for start, kind in _SENTENCES.items() if plain.startswith(start)), None
    )


def _found(value: Any, shape: Shape, path: Path) -> Iterator[tuple[str, str, Path]]:
    if isinstance(shape, str):
        if value:
            yield shape, value, path
    elif shape == (SENTENCE,):
        for n, each in enumerate(value):
            if named := name_in_sentence(each):
                yield *named, (*path, n)
    elif isinstance(shape, tuple):
        for n, each in enumerate(value):
            yield shape[0], each, (*path, n)
    elif shape is not None:
        (kind, behind), *_ = shape.items()
        for key, each in value.items():
            yield kind, key, (*path, key)
            yield from _found(each, behind, (*path, key))


def _records_below(value: Any, path: Path) -> Iterator[tuple[Struct, Path]]:
    if isinstance(value, Struct):
        yield value, path
    elif isinstance(value, tuple):
        for n, each in enumerate(value):
            if isinstance(each, Struct):
                yield each, (*path, n)


def renamed(record: Of, kind: str, old: str, new: str) -> Of:
    """The record with another name for a thing, in its own entry and wherever it is named; nothing else is changed."""

    def name_for(of: str, name: str) -> str:
        if of == SENTENCE:
            return _said_of(name, kind, old, new)
        return new if name == old and _may_be(of, kind) else name

    return with_names(record, {**NAMES, **OWN}, name_for)


def with_names(record: Of, table: Mapping[str, Shape], name_for: Callable[[str, str], str]) -> Of:
    """The record with each name that the table tells of replaced: ``name_for`` gives one by its kind and what it was.

    Tables keep their order. The very same record where no name is another one.
    """
    changes: dict[str, Any] = {}
    for field in record.__struct_fields__:
        value = getattr(record, field)
        now = _put_in(value, table.get(f"{type(record).__name__}.{field}"), table, name_for)
        if now is not value:
            changes[field] = now
    return msgspec.structs.replace(record, **changes) if changes else record


def _put_in(value: Any, shape: Shape, table: Mapping[str, Shape], name_for: Callable[[str, str], str]) -> Any:
    """The very same value where no name in it is another one."""
    if isinstance(value, Struct):
        return with_names(value, table, name_for)
    if isinstance(value, str):
        now = name_for(shape, value) if isinstance(shape, str) and value else value
        return now if now != value else value
    if isinstance(value, tuple):
        inside = shape[0] if isinstance(shape, tuple) else shape
        every = tuple(_put_in(each, inside, table, name_for) for each in value)
        return every if any(a is not b for a, b in zip(every, value, strict=True)) else value
    if not isinstance(value, dict):
        return value
    kind, behind = next(iter(shape.items())) if isinstance(shape, Mapping) else ("", None)
    each_now = [
        (name_for(kind, key) if kind else key, _put_in(each, behind, table, name_for), key, each)
        for key, each in value.items()
    ]
    if all(key == old and each is was for key, each, old, was in each_now):
        return value
    return {key: each for key, each, _, _ in each_now}


def _said_of(sentence: str, kind: str, old: str, new: str) -> str:
    named = name_in_sentence(sentence)
    if named is None or named[1] != old or not _may_be(named[0], kind):
        return sentence
    return " ".join(sentence.split()).removesuffix(old) + new


def _may_be(of: str, kind: str) -> bool:
    return of == kind or kind in MAY_BE.get(of, ())
