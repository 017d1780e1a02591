"""Work that is cut off at its n-th step on the disk, as by a battery that falls out: every step is tried in turn.

The work is done once, in a process of its own. Right before each step, what is on the disk by then is copied: that is
what would be there if the process ended then, without another word. Python tells of each file that is opened, renamed,
linked or removed before it does so (``sys.addaudithook``).
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copy2, copytree, rmtree

STEPS = frozenset({"open", "os.rename", "os.link", "os.remove", "os.mkdir", "os.rmdir"})
DONE = 0
MOST_STEPS = 400


def cut_off_at_every_step(folder: Path, into: Path, work: Callable[[Path], None]) -> Iterator[Path]:
    """The folder as it is left by ``work`` cut off before its first step on it, its second …, and at last done.

    Each stands at ``into``, where the work was done. Where a step makes no difference to what is read, hidden files and
    the cache left aside, it is gone past.
    """
    at_steps = into.with_name(f"{into.name} at its steps")
    for each in (into, at_steps):
        rmtree(each, ignore_errors=True)
    copytree(folder, into)
    at_steps.mkdir()
    child = os.fork()
    if child == 0:
        _work_in_steps(into, at_steps, work)
    _, status = os.waitpid(child, 0)
    ended = os.waitstatus_to_exitcode(status)
    assert ended == DONE, f"the work failed: {ended}"
    for step in sorted(at_steps.iterdir()):
        rmtree(into)
        step.rename(into)
        yield into


class _Steps:
    """Copies a folder before every step that changes something in it."""

    def __init__(self, folder: Path, copies: Path) -> None:
        self.folder, self.copies = folder, copies
        self.count = 0
        self.is_copying = False
        self.before: dict[str, bytes] = {}

    def heard(self, event: str, what: tuple[object, ...]) -> None:
        if self.is_copying or event not in STEPS or not str(what[0]).startswith(str(self.folder)):
            return
        if _changes(event, what):
            self.copy()

    def copy(self) -> None:
        self.is_copying = True
        self.count += 1
        if self.count > MOST_STEPS:
            raise AssertionError("the work has no end")
        left = _what_is_read(self.folder)
        if left != self.before:
            _copy_as_it_is(self.folder, self.copies / f"{self.count:03}")
        self.before = left
        self.is_copying = False


def _work_in_steps(folder: Path, copies: Path, work: Callable[[Path], None]) -> None:
    """Never returns."""
    steps = _Steps(folder, copies)
    try:
        sys.addaudithook(steps.heard)
        work(folder)
        steps.copy()
    except BaseException:
        os._exit(1)
    os._exit(DONE)


def _copy_as_it_is(folder: Path, to: Path) -> None:
    """The same files, and two names of one file are two names of one again."""
    known: dict[int, str] = {}

    def copy(source: str, target: str) -> str:
        number = os.stat(source, follow_symlinks=False).st_ino  # noqa: PTH116 - as copytree hands them over
        if number in known:
            os.link(known[number], target)
        else:
            known[number] = copy2(source, target, follow_symlinks=False)
        return target

    copytree(folder, to, symlinks=True, copy_function=copy)


def _what_is_read(folder: Path) -> dict[str, bytes]:
    paths = (path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("."))
    return {str(path): path.read_bytes() for path in paths if path.parent.name != "cache"}


def _changes(event: str, what: tuple[object, ...]) -> bool:
    """Whether a step may change the disk: reading alone does not."""
    flags = what[2] if event == "open" and len(what) > 2 else os.O_WRONLY
    return isinstance(flags, int) and bool(flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
