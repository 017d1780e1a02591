"""One window writes. The system holds the lock, and it ends with the program, however that ends.

The system of another computer knows nothing of it: there a program that keeps the folder in step brings only the file,
in which the number of the program and the name of the computer stand as long as the lock is held.
"""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from pathlib import Path

from checklists.files.safely import NotSaved, can_be_written, make_folder
from checklists.words import clean

LOCK_FILE = "daybook/.writing"
_MOST_BYTES = 400
_FAR_BEYOND = 1 << 20
"""Windows locks bytes, and nobody can read a locked one: a byte far behind the process number is locked."""


class Lock:
    """The right to write in a folder, until ``release`` or the end of the program."""

    def __init__(self, descriptor: int, other_computer: str = "") -> None:
        self._descriptor: int | None = descriptor
        self.other_computer = other_computer
        """The computer on which a window was open by what the file said; empty: on none but this one."""

    def release(self) -> None:
        """Let another window write. Doing it twice does no harm."""
        if self._descriptor is not None:
            with contextlib.suppress(OSError):
                os.ftruncate(self._descriptor, 0)
            os.close(self._descriptor)
            self._descriptor = None

    def __enter__(self) -> Lock:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()


def take_lock(folder: Path) -> Lock | None:
    """The lock of a data folder; None where another window has it, or where nothing can be written there."""
    path = folder / LOCK_FILE
    try:
        make_folder(path.parent)
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
    except (OSError, NotSaved):
        return None
    if not _lock(descriptor):
        os.close(descriptor)
        return None
    other = ""
    with contextlib.suppress(OSError):  # what stands there is only told to people; a full disk does not stop the lock
        os.lseek(descriptor, 0, os.SEEK_SET)
        other = _other_computer(os.read(descriptor, _MOST_BYTES))
        os.ftruncate(descriptor, 0)
        os.lseek(descriptor, 0, os.SEEK_SET)
        os.write(descriptor, f"{os.getpid()}\n{this_computer()}\n".encode())
    return Lock(descriptor, other)


def this_computer() -> str:
    """The name of this computer, without what a network adds to it."""
    name = os.environ.get("COMPUTERNAME", "") if sys.platform == "win32" else os.uname().nodename
    return clean(name.split(".")[0])[:60]


def writer_of(folder: Path) -> int | None:
    """Process number of the window that writes, None where nobody knows. Only to be told, never to be trusted."""
    try:
        return int(_said_in(folder).split(b"\n")[0])
    except ValueError:
        return None


def _said_in(folder: Path) -> bytes:
    try:
        with (folder / LOCK_FILE).open("rb") as file:
            return file.read(_MOST_BYTES)
    except OSError:
        return b""


def _other_computer(said: bytes) -> str:
    """The computer that a lock file names, where that is another one than this."""
    lines = said.decode("utf-8", "replace").split("\n")
    name = clean(lines[1].strip()) if len(lines) > 1 else ""
    return "" if name == this_computer() else name


def why_not_writing(folder: Path, *, wanted: bool, newer: bool) -> str:
    """Why a window without the lock only looks: ``wanted`` says that it asked to write, ``newer`` of which format."""
    if newer:
        return "These files were written by a newer version of Trundle: they can be looked at here, not changed."
    if not wanted:
        return "Opened for looking only."
    if not can_be_written(folder):
        return "This folder can only be read: nothing can be saved in it."
    other = _other_computer(_said_in(folder))
    if other:
        return f"A window on another computer ({other}) writes here; this one only reads."
    writer = writer_of(folder)
    which = f" (The other is number {writer} among the programs that run.)" if writer is not None else ""
    return f"Another window writes here; this one only reads.{which}"


if sys.platform == "win32":

    def _lock(descriptor: int) -> bool:
        import msvcrt

        os.lseek(descriptor, _FAR_BEYOND, os.SEEK_SET)
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:

    def _lock(descriptor: int) -> bool:
        import fcntl

        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            # A network disk without locks must not keep her from writing at all.
            return error.errno not in (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES)
        return True
