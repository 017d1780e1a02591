"""The two plan files that change with a school year, together or not at all, and those of the year before kept.

    years-before/2026-2027/school.toml, classes.toml            as they were, remarks and all
    years-before/2026-2027/next-school.toml, next-classes.toml  as they are to be
    change.pending                                              while the second are being put in place of the first

From the moment that the last file is there the change is made: a start that finds it finishes what was cut off.
"""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Literal

from checklists.files.plan_folder import CLASSES, SCHOOL
from checklists.files.plan_writing import as_file
from checklists.files.safely import NotSaved, make_folder, not_saved, remove_file, replace_file
from checklists.files.year_pending import PENDING
from checklists.plan.records import Classes, School

YEARS = "years-before"
_NEXT = "next-"
_FILES = (SCHOOL, CLASSES)
Way = Literal["next", "back"]


def begin_year(folder: Path, before: School, school: School, classes: Classes) -> str:
    """Put the files of the next year in place. Gives the folder in which those of the year ``before`` are kept.

    Raises NotSaved, and then both files are as they were.
    """
    kept = _free_folder(folder, f"{before.first_day.year}-{before.last_day.year}")
    make_folder(kept)
    for name, record in zip(_FILES, (school, classes), strict=True):
        replace_file(kept / name, _bytes_of(folder / name), keep_before=False)
        replace_file(kept / f"{_NEXT}{name}", as_file(record), keep_before=False)
    _go(folder, kept.name, "next")
    return f"{YEARS}/{kept.name}"


def year_that_can_be_taken_back(folder: Path) -> str | None:
    """The kept year whose next one is in place exactly as it was made; None where the files were changed since."""
    try:
        kept = sorted(each for each in (folder / YEARS).iterdir() if each.is_dir())
        for each in reversed(kept):
            if all(_bytes_of(folder / name) == _bytes_of(each / f"{_NEXT}{name}") for name in _FILES):
                return each.name
    except (OSError, NotSaved):
        return None
    return None


def take_year_back(folder: Path, year: str) -> None:
    """Put the files of a kept year in place again. Raises NotSaved, and then both files are as they were."""
    _go(folder, year, "back")


def finish_year(folder: Path) -> None:
    """Finish a change that was cut off. Raises NotSaved where the disk refuses; the next start tries again."""
    try:
        year, way = (folder / PENDING).read_text("utf-8").split()
    except (OSError, ValueError):
        return
    if Path(year).name == year and way in ("next", "back"):
        _put_in_place(folder, year, "next" if way == "next" else "back")
    remove_file(folder / PENDING)


def _go(folder: Path, year: str, way: Way) -> None:
    before = {name: _bytes_of(folder / name) for name in _FILES}
    replace_file(folder / PENDING, f"{year}\n{way}\n".encode(), keep_before=False)
    try:
        _put_in_place(folder, year, way)
    except NotSaved:
        with contextlib.suppress(OSError):  # where not even that can be done, the next start finishes the change
            _put_back(folder, before)
            remove_file(folder / PENDING)
        raise
    remove_file(folder / PENDING)


def _put_in_place(folder: Path, year: str, way: Way) -> None:
    kept = folder / YEARS / year
    for name in _FILES:
        content = _bytes_of(kept / (name if way == "back" else f"{_NEXT}{name}"))
        if _bytes_of(folder / name) != content:
            replace_file(folder / name, content)
    if way == "back":
        for name in _FILES:  # what was taken back once is not there to be taken back again
            remove_file(kept / f"{_NEXT}{name}")


def _put_back(folder: Path, before: dict[str, bytes]) -> None:
    """Without room on the disk: the version before is beside each file, and a name takes none."""
    for name, content in before.items():
        if _bytes_of(folder / name) != content:
            (folder / f"{name}.before").replace(folder / name)


def _free_folder(folder: Path, name: str) -> Path:
    """A folder for a year: the one that holds these very files already, or a new one."""
    now = {each: _bytes_of(folder / each) for each in _FILES}
    number = 1
    while (kept := folder / YEARS / (name if number == 1 else f"{name}-{number}")).exists():
        if all(not (kept / each).exists() or _bytes_of(kept / each) == now[each] for each in _FILES):
            return kept
        number += 1
    return kept


def _bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise not_saved(path, error) from error
