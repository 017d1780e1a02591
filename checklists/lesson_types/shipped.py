"""The lesson types that come with the program, with the supplies and kits they need, read from TOML."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path

from msgspec import Struct, convert, field

from checklists.lesson_types.swapping import with_other_supplies
from checklists.plan.records import Grade, Id, Kit, Kits, Lesson, Supplies, Supply, Text
from checklists.rules.read import builtin_supplies

_FOLDER = Path(__file__).parent
SAMPLE = "staged-sample"
"""Stands in a type for the sample of the lesson that is made of it: each title of hers has one of its own."""


class _TypeFile(Lesson, frozen=True, kw_only=True):
    """A lesson file, and what it says of itself beside."""

    description: Text
    labels: tuple[Id, ...] = ()
    for_grade: dict[Grade, dict[Id, Text]] = field(default_factory=dict)


class LessonType(Struct, frozen=True):
    """A usual lesson: what the children make, for which grades, and the lesson as it would be taught."""

    id: str
    title: str
    description: str
    """What the children make, in a line."""
    grades: tuple[str, ...]
    lesson: Lesson
    labels: tuple[str, ...] = ()
    """Art materials whose labels are to be looked at before they are used with children."""
    for_grade: dict[str, dict[str, str]] = {}
    """Grade -> supply -> what it takes in its place; empty: it leaves that out."""

    def lesson_for(self, grade: str) -> Lesson:
        """The lesson as this grade has it; the usual one where no grade is said."""
        return with_other_supplies(self.lesson, self.for_grade.get(grade, {}))

    def labels_for(self, grade: str) -> tuple[str, ...]:
        """The art materials among what this grade takes."""
        taken = {item.supply for item in self.lesson_for(grade).items_from(1)}
        return tuple(each for each in self.labels if each in taken)


@lru_cache(maxsize=1)
def lesson_types() -> tuple[LessonType, ...]:
    """All of them, the simplest first."""
    return tuple(_type_in(path) for path in sorted((_FOLDER / "types").glob("*.toml")))


def lesson_type(ident: str) -> LessonType:
    """The one of this id. Raises KeyError where there is none."""
    return {each.id: each for each in lesson_types()}[ident]


def _type_in(path: Path) -> LessonType:
    read = convert(_table(path), _TypeFile)
    fields = {name: getattr(read, name) for name in Lesson.__struct_fields__}
    return LessonType(read.id, read.title, read.description, read.grades, Lesson(**fields), read.labels, read.for_grade)


@lru_cache(maxsize=1)
def shipped_supplies() -> dict[str, Supply]:
    """What the types need, by id: the supplies of this folder, else those that come with the rules."""
    own = convert(_table(_FOLDER / "supplies.toml"), Supplies).supplies
    return {each.id: each for each in (*builtin_supplies(), *own)}


@lru_cache(maxsize=1)
def shipped_kits() -> dict[str, Kit]:
    return {each.id: each for each in convert(_table(_FOLDER / "kits.toml"), Kits).kits}


def _table(path: Path) -> dict[str, object]:
    return tomllib.loads(path.read_text(encoding="utf-8"))
