"""The demo school: an invented school in the middle of its year, opened on a copy and at a fixed date."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from datetime import date, time
from pathlib import Path

SCHOOL = Path(__file__).parent / "school"
HISTORY = Path(__file__).parent / "history.toml"
DEMO_TIME = time(7, 40)
"""The demo opens in the middle of a morning's packing."""
SIGN = "this-is-the-demo-school.txt"
"""Stands in a folder that the demo made, so that nothing of anybody's own is ever taken for it."""
_SIGN_TEXT = "Trundle made this folder for its demo school. It is made anew by: trundle demo --reset\n"


def open_demo(folder: Path, *, reset: bool = False) -> date:
    """Make the demo school in ``folder`` where it is not there yet, or anew with ``reset``; the date it opens on.

    A folder that holds anything else is never touched. Raises NotSaved in words.
    """
    from checklists.demo.history import read_history, write_history
    from checklists.files.safely import NotSaved, make_folder

    history = read_history(HISTORY)
    if (folder / SIGN).is_file() and not reset:
        return history.opens_on
    if folder.exists() and not (folder / SIGN).is_file() and (not folder.is_dir() or any(folder.iterdir())):
        raise NotSaved(f"{folder} holds something else, so the demo school is not put there. Name another folder.")
    workshop = None
    try:
        make_folder(folder.parent)
        workshop = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
        fresh = workshop / "new"
        shutil.copytree(SCHOOL, fresh, ignore=shutil.ignore_patterns("cache", "daybook"))
        write_history(fresh, history)
        (fresh / SIGN).write_text(_SIGN_TEXT, encoding="utf-8")
        if folder.exists():
            folder.replace(workshop / "old")
        fresh.replace(folder)
        with contextlib.suppress(OSError):
            folder.chmod(0o700)
    except OSError as error:
        if workshop is not None and (workshop / "old").exists() and not folder.exists():
            (workshop / "old").replace(folder)
        what = error.strerror or "nothing can be written there"
        raise NotSaved(f"The demo school could not be made in {folder}: {what}. Name another folder.") from error
    finally:
        if workshop is not None:
            shutil.rmtree(workshop, ignore_errors=True)
    return history.opens_on
