"""What every start looks at: whether a change of several files was cut off, and then finishes it."""

from __future__ import annotations

from pathlib import Path

from checklists.files.lock import take_lock
from checklists.files.safely import NotSaved
from checklists.problems import Problem

PENDING = "change.pending"
"""While several files are put in place: a step of the plan as TOML, the school year and its way, or a whole backup."""
_BEGINS_AN_ARCHIVE = b"PK"


def is_changing(folder: Path) -> bool:
    """Whether several files are being changed, or that was cut off."""
    return (folder / PENDING).exists()


def finish_what_was_cut_off(folder: Path) -> tuple[Problem, ...]:
    """Put all files in place where that was cut off in between. Never raises: the next start tries again.

    Gives why the folder cannot be opened before: half of what is in it would be another school's.
    """
    if not is_changing(folder):
        return ()
    is_backup = _begin_of(folder).startswith(_BEGINS_AN_ARCHIVE)
    lock = take_lock(folder)
    if lock is None:  # another window is at it, or nothing can be written here
        what = "A backup is being put back here, and that is not finished."
        wait = (
            "Wait a moment, then open it again; a folder that can only be read is to be copied to another disk first."
        )
        return (Problem(PENDING, "", what, wait),) if is_backup else ()
    try:
        with lock:
            finish(folder)
    except NotSaved as problem:
        return (Problem(PENDING, "", "Putting a backup back was cut off.", str(problem)),) if is_backup else ()
    return ()


def finish(folder: Path) -> None:
    """Finish whatever is pending; the caller has the lock. Raises NotSaved where the disk refuses."""
    begin = _begin_of(folder)
    if begin.startswith(_BEGINS_AN_ARCHIVE):
        from checklists.files.backup_putting_back import finish_putting_back

        finish_putting_back(folder)
    elif len(begin.split()) == 2:
        from checklists.files.year_files import finish_year

        finish_year(folder)
    elif begin:
        from checklists.files.plan_steps import finish_step

        finish_step(folder)


def _begin_of(folder: Path) -> bytes:
    """How what is pending begins; nothing where it was finished meanwhile."""
    try:
        with (folder / PENDING).open("rb") as file:
            return file.read(100)
    except OSError:
        return b""
