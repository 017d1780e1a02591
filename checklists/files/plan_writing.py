"""Writing plan files, one at a time and only when she changed that thing on screen.

A rewritten file loses its remarks, and its first line says so; the version before stays beside it. The file of her own
rules is never rewritten: ``rule_file`` puts single entries into it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

import msgspec

from checklists.files.plan_folder import CLASSES, KITS, LESSONS, SCHOOL, SUPPLIES
from checklists.files.safely import NotSaved, make_folder, remove_file, replace_file
from checklists.files.typed import cleaned
from checklists.plan.records import Classes, Kits, Lesson, School, Supplies, Supply
from checklists.rules.read import builtin_supplies

_HEAD = (
    "# Trundle wrote this file after a change on screen; remarks typed into it are lost at the next one.\n"
    "# The version before is beside it, its name ends in .before.\n"
)


def write_school(folder: Path, school: School) -> None:
    """Replace school.toml. Raises NotSaved, and then the file is as it was; so do the functions below."""
    _write(folder / SCHOOL, school)


def write_classes(folder: Path, classes: Classes) -> None:
    """Replace classes.toml: classes, timetable and what is taught."""
    _write(folder / CLASSES, classes)


def write_supplies(folder: Path, supplies: Iterable[Supply]) -> None:
    """Replace supplies.toml. Supplies that come with the program, unchanged, are left out."""
    builtin = builtin_supplies()
    _write(folder / SUPPLIES, Supplies(tuple(each for each in supplies if each not in builtin)))


def write_kits(folder: Path, kits: Kits) -> None:
    """Replace kits.toml: boxes and kits."""
    _write(folder / KITS, kits)


def write_lesson(folder: Path, lesson: Lesson) -> None:
    """Replace or make the file of a lesson. Its id must be a plain file name."""
    if Path(lesson.id).name != lesson.id or lesson.id.startswith("."):
        raise NotSaved(f'"{lesson.id}" cannot be the name of a file. Use letters, digits and dashes.')
    make_folder(folder / LESSONS)
    _write(folder / LESSONS / f"{lesson.id}.toml", lesson)


@contextmanager
def put_back_as_it_was(path: Path) -> Iterator[None]:
    """Where what is done inside raises NotSaved, the file is again as it was before; then it is raised on."""
    try:
        before = path.read_bytes() if path.exists() else None
    except OSError as error:
        raise NotSaved(f"{path.name} cannot be read, so nothing was changed in it.") from error
    try:
        yield
    except NotSaved:
        if before is None:
            remove_file(path)
        elif path.read_bytes() != before:
            replace_file(path, before, keep_before=False)
        raise


def _write(path: Path, record: msgspec.Struct) -> None:
    replace_file(path, as_file(record))


def as_file(record: msgspec.Struct) -> bytes:
    """A plan file as it is written."""
    from tomli_w import dumps

    return (_HEAD + dumps(_as_table(record))).encode()


def _as_table(record: msgspec.Struct) -> dict[str, Any]:
    table = cleaned(msgspec.to_builtins(record, builtin_types=(date, datetime)))
    assert isinstance(table, dict)
    return table
