"""What every start looks at: whether a change of several plan files was cut off, and then finishes it."""

from __future__ import annotations

import contextlib
from pathlib import Path

from checklists.files.lock import take_lock
from checklists.files.safely import NotSaved

PENDING = "new-year.pending"
PENDING_STEP = "plan-step.pending"


def finish_what_was_cut_off(folder: Path) -> None:
    """Put all plan files in place where that was cut off in between. Never raises: the next start tries again."""
    if not (folder / PENDING).exists() and not (folder / PENDING_STEP).exists():
        return
    lock = take_lock(folder)
    if lock is None:  # another window is at it, or nothing can be written here
        return
    from checklists.files.plan_steps import finish_step
    from checklists.files.year_files import finish_year

    with lock, contextlib.suppress(NotSaved):
        finish_step(folder)
        finish_year(folder)
