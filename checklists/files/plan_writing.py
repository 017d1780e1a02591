"""Writing plan files, one at a time and only when she changed that thing on screen.

A rewritten file loses its remarks, and its first line says so; the version before stays beside it. The file of her own
rules is never rewritten: ``rule_file`` puts single entries into it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

import msgspec

from checklists.files.plan_folder import CLASSES, SCHOOL
from checklists.files.safely import NotSaved, remove_file, replace_file
from checklists.files.typed import cleaned
from checklists.plan.records import Classes, School

_HEAD = (
    "# Trundle wrote this file after a change on screen; remarks typed into it are lost at the next one.\n"
    "# The version before is beside it, its name ends in .before.\n"
)


def write_school(folder: Path, school: School) -> None:
    """Replace school.toml. Raises NotSaved, and then the file is as it was; so does the function below."""
    _write(folder / SCHOOL, school)


def write_classes(folder: Path, classes: Classes) -> None:
    """Replace classes.toml: classes, timetable and what is taught."""
    _write(folder / CLASSES, classes)


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

    return (_HEAD + dumps(as_table(record))).encode()


def as_table(record: msgspec.Struct) -> dict[str, Any]:
    """The same before it is text."""
    table = cleaned(msgspec.to_builtins(record, builtin_types=(date, datetime)))
    assert isinstance(table, dict)
    return table
