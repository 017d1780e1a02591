"""Second versions of a day by their names: what a program that keeps a folder in step makes of two changes at once.

Any file of the daybook whose name begins with a date, ends like a day's file or journal and is not the day's own:
"2026-10-05 (conflicted copy).toml", "2026-10-05.sync-conflict-7.journal". What is set aside ends otherwise.
"""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

from checklists.problems import Problem

FOLDER = "daybook"
_COPY = re.compile(r"^(\d{4}-\d\d-\d\d)(.+)\.(?:toml|journal)$", re.DOTALL)
_OURS = ".damaged-"


def copies_of(folder: Path, day: date) -> tuple[str, ...]:
    """Names of the files that are second versions of a day."""
    return tuple(name for name in _names(folder) if _day_of(name) == day)


def days_with_copies(folder: Path) -> tuple[date, ...]:
    """Days of which there is a second version, in order."""
    found = {_day_of(name) for name in _names(folder)}
    return tuple(sorted(day for day in found if day is not None))


def told_copies(folder: Path, day: date) -> tuple[Problem, ...]:
    """A note for each second version of a day."""
    what = "This is a second version of the day, made where the folder is kept in step. It is not used."
    to_do = "Compare the two and merge them: trundle versions, or Tab on the list."
    return tuple(Problem(f"{FOLDER}/{name}", "", what, to_do, level="note") for name in copies_of(folder, day))


def _names(folder: Path) -> list[str]:
    try:
        return sorted(each.name for each in (folder / FOLDER).iterdir())
    except OSError:
        return []


def _day_of(name: str) -> date | None:
    found = _COPY.match(name)
    if found is None or _OURS in name:
        return None
    try:
        return date.fromisoformat(found[1])
    except ValueError:
        return None
