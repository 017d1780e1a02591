"""Work that is cut off at its n-th step on the disk, as by a battery that falls out: every step is tried in turn.

The work is done in a process of its own, which ends, without another word, right before the step. Python tells of each
file that is opened, renamed, linked or removed before it does so (``sys.addaudithook``).
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copytree, rmtree

STEPS = frozenset({"open", "os.rename", "os.link", "os.remove", "os.mkdir"})
STOPPED, DONE = 9, 0
MOST_STEPS = 400


def cut_off_at_every_step(folder: Path, into: Path, work: Callable[[Path], None]) -> Iterator[Path]:
    """The folder as it is left by ``work`` cut off before its first step on it, its second …, and at last done.

    Where a step makes no difference to what is read, hidden files and the cache left aside, it is gone past.
    """
    before: dict[str, bytes] = {}
    for step in range(1, MOST_STEPS):
        rmtree(into, ignore_errors=True)
        copytree(folder, into)
        ended = _stopped_at(step, into, work)
        left = _what_is_read(into)
        if left != before:
            yield into
        before = left
        if ended == DONE:
            return
    raise AssertionError("the work has no end")


def _what_is_read(folder: Path) -> dict[str, bytes]:
    paths = (path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("."))
    return {str(path): path.read_bytes() for path in paths if path.parent.name != "cache"}


def _stopped_at(step: int, folder: Path, work: Callable[[Path], None]) -> int:
    child = os.fork()
    if child == 0:
        _work_until(step, folder, work)
    _, status = os.waitpid(child, 0)
    ended = os.waitstatus_to_exitcode(status)
    assert ended in (STOPPED, DONE), f"the work failed: {ended}"
    return ended


def _work_until(step: int, folder: Path, work: Callable[[Path], None]) -> None:
    """Never returns."""
    left = step

    def count(event: str, what: tuple[object, ...]) -> None:
        nonlocal left
        if event in STEPS and str(what[0]).startswith(str(folder)) and _changes(event, what):
            left -= 1
            if not left:
                os._exit(STOPPED)

    try:
        sys.addaudithook(count)
        work(folder)
    except BaseException:
        os._exit(1)
    os._exit(DONE)


def _changes(event: str, what: tuple[object, ...]) -> bool:
    """Whether a step may change the disk: reading alone does not."""
    flags = what[2] if event == "open" and len(what) > 2 else os.O_WRONLY
    return isinstance(flags, int) and bool(flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
