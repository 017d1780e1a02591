"""What every start looks at: whether the change to another school year was cut off, and then finishes it."""

from __future__ import annotations

import contextlib
from pathlib import Path

from checklists.files.lock import take_lock
from checklists.files.safely import NotSaved

PENDING = "new-year.pending"


def finish_what_was_cut_off(folder: Path) -> None:
    """Put both plan files in place where that was cut off in between. Never raises: the next start tries again."""
    if not (folder / PENDING).exists():
        return
    lock = take_lock(folder)
    if lock is None:  # another window is at it, or nothing can be written here
        return
    from checklists.files.year_files import finish_year

    with lock, contextlib.suppress(NotSaved):
        finish_year(folder)
