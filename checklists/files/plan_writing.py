"""Writing plan files, one at a time and only when she changed that thing on screen.

A rewritten file loses its remarks, and its first line says so; the version before stays beside it. Her own rules are
only ever added to: what stands in that file keeps every sign of its form.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any

import msgspec

from checklists.files.plan_folder import CLASSES, KITS, LESSONS, RULES, SCHOOL, SUPPLIES
from checklists.files.safely import NotSaved, make_folder, replace_file
from checklists.files.toml_text import read_toml, read_toml_bytes
from checklists.files.typed import cleaned, records_from
from checklists.plan.records import Classes, Kits, Lesson, School, Supplies, Supply
from checklists.rules.read import builtin_supplies
from checklists.rules.records import Rule, RuleFile, SwitchedOff

_HEAD = (
    "# Trundle wrote this file after a change on screen; remarks typed into it are lost at the next one.\n"
    "# The version before is beside it, its name ends in .before.\n"
)
_RULES_HEAD = "# Rules of your own. Trundle adds to this file and leaves what is there as it is.\n"


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


def add_rule(folder: Path, rule: Rule) -> None:
    """Add a rule to the end of rules.toml."""
    _add(folder / RULES, "rules", rule)


def add_switched_off(folder: Path, off: SwitchedOff) -> None:
    """Add to the end of rules.toml that a rule does not apply."""
    _add(folder / RULES, "off", off)


def _write(path: Path, record: msgspec.Struct) -> None:
    from tomli_w import dumps

    replace_file(path, (_HEAD + dumps(_as_table(record))).encode())


def _add(path: Path, where: str, record: Rule | SwitchedOff) -> None:
    there = read_toml(path, path.name)
    old = _RULES_HEAD.encode() if there.is_missing else _bytes_of(path)
    new = old.rstrip() + b"\n\n" + _as_entry(where, _as_table(record)).encode()
    before, _ = records_from(there.data or {}, RuleFile, file=path.name)
    after, _ = records_from(read_toml_bytes(new, path.name).data or {}, RuleFile, file=path.name)
    known = () if before is None else (*before.rules, *before.off)
    if after is None or set(map(repr, (*after.rules, *after.off))) != {*map(repr, known), repr(record)}:
        raise NotSaved(f'{path.name} cannot be added to. Put each entry under a line of its own: "[[{where}]]".')
    replace_file(path, new)


def _bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise NotSaved(f"{path.name} cannot be read, so nothing was added to it.") from error


def _as_table(record: msgspec.Struct) -> dict[str, Any]:
    table = cleaned(msgspec.to_builtins(record, builtin_types=(date, datetime)))
    assert isinstance(table, dict)
    return table


def _as_entry(where: str, table: dict[str, Any]) -> str:
    """One entry under a heading of its own: a list in brackets could not be added to."""
    from tomli_w import dumps

    text = dumps({where: [table]})
    return text if text.startswith("[[") else f"[[{where}]]\n{dumps(table)}"
