"""Writing so that nothing is lost: a file is replaced whole or not at all, a line is on disk before the call returns.

Whatever the disk answers, what was saved before stays as it was, and ``NotSaved`` says in plain words what is wrong.
"""

from __future__ import annotations

import contextlib
import errno
import os
import time
from pathlib import Path

_WAITS = (0.05, 0.1, 0.2, 0.3, 0.35) if os.name == "nt" else ()
"""Seconds between tries to replace a file: on Windows an editor or a sync program may hold it for a moment."""


class NotSaved(Exception):  # noqa: N818 - said as a teacher would
    """Nothing was written. The text says why, what to do and where; what was saved before is not damaged."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


def make_folder(path: Path) -> None:
    """Make a folder that only its owner can open (0700). Raises NotSaved. A folder that is there stays as it is."""
    try:
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise not_saved(path, error) from error


def can_be_written(folder: Path) -> bool:
    """Whether files can be made in a folder and in its daybook, as far as the system tells beforehand."""
    return all(os.access(each, os.W_OK | os.X_OK) for each in (folder, folder / "daybook") if each.is_dir())


def replace_file(path: Path, content: bytes, *, keep_before: bool = True) -> None:
    """Put ``content`` in place of the file, whole or not at all (0600), and make sure that the disk has it.

    The version before stays beside it as "NAME.before", unless ``keep_before`` is false. A link is followed: the file
    it leads to is replaced. Raises NotSaved.
    """
    try:
        path = path.resolve()
        fresh = path.with_name(f".{path.name}.{os.getpid()}.new")
        try:
            _write_whole(fresh, content)
            if keep_before and path.exists():
                _keep_before(path)
            _replace(fresh, path)
        except BaseException:
            fresh.unlink(missing_ok=True)
            raise
    except (OSError, RuntimeError) as error:  # RuntimeError: a link that leads back to itself
        raise not_saved(path, error) from error
    sync_folder(path.parent)


def append_line(path: Path, line: bytes) -> None:
    """Add a line to a file and make sure that the disk has it. Raises NotSaved, and then nothing was added.

    Where the last line was cut off by a crash, the new one starts on a fresh line, so that only the cut one is lost.
    """
    try:
        is_new = not path.exists()
        descriptor = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
        try:
            _append(descriptor, line.rstrip(b"\n") + b"\n")
        finally:
            os.close(descriptor)
    except OSError as error:
        raise not_saved(path, error) from error
    if is_new:
        sync_folder(path.parent)


def remove_file(path: Path) -> None:
    """Take a file away and make sure that the disk knows. Raises NotSaved. It may be gone already."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise not_saved(path, error) from error
    sync_folder(path.parent)


def set_aside(path: Path) -> Path:
    """Rename a file that cannot be read, so that nothing overwrites it: "DAY.damaged-1.toml". Raises NotSaved."""
    number = 1
    while (aside := path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")).exists():
        number += 1
    try:
        path.rename(aside)
    except OSError as error:
        raise not_saved(path, error) from error
    sync_folder(path.parent)
    return aside


def sync_folder(folder: Path) -> None:
    """Make sure that the disk has the names in a folder. Where a system cannot do it for folders, nothing happens."""
    if os.name == "nt":
        return
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def _write_whole(path: Path, content: bytes) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)
    descriptor = os.open(path, flags, 0o600)
    try:
        _write_all(descriptor, content)
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _write_all(descriptor: int, content: bytes) -> None:
    left = memoryview(content)
    while left:
        left = left[os.write(descriptor, left) :]


def _append(descriptor: int, line: bytes) -> None:
    size = os.lseek(descriptor, 0, os.SEEK_END)
    if size:
        os.lseek(descriptor, size - 1, os.SEEK_SET)
        if os.read(descriptor, 1) != b"\n":
            line = b"\n" + line
    try:
        _write_all(descriptor, line)
        os.fsync(descriptor)
    except OSError:
        with contextlib.suppress(OSError):  # half a line on a full disk: take it back
            os.ftruncate(descriptor, size)
        raise


def _keep_before(path: Path) -> None:
    """Give the present version its second name. The file itself stays where it is all the time."""
    before = path.with_name(path.name + ".before")
    passing = path.with_name(f".{path.name}.{os.getpid()}.before")
    passing.unlink(missing_ok=True)
    try:
        os.link(path, passing)
    except (OSError, AttributeError):  # a disk without second names: copy it
        _write_whole(passing, path.read_bytes())
    try:
        _replace(passing, before)
    finally:
        passing.unlink(missing_ok=True)  # still there where both names are one file: renaming does nothing then


def _replace(fresh: Path, path: Path) -> None:
    for wait in _WAITS:
        try:
            fresh.replace(path)
        except PermissionError:
            time.sleep(wait)
        else:
            return
    fresh.replace(path)


def not_saved(path: Path, error: OSError | RuntimeError) -> NotSaved:
    """What a teacher needs to know of a refused write: the reason first, one line of a screen may hold no more."""
    what, to_do = _reason(error.errno if isinstance(error, OSError) else errno.ELOOP, path)
    return NotSaved(f"{what} {to_do} What was saved before is not damaged: {path.name} in {path.parent}.")


def _reason(number: int | None, path: Path) -> tuple[str, str]:
    if number in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return "the disk is full.", "Delete or move something else, then do this again."
    if number == errno.EROFS:
        return "this disk can only be read.", "Copy the folder to a disk that can be written, and open it there."
    if number in (errno.EACCES, errno.EPERM):
        return (
            "the computer does not allow it.",
            "Close other programs that have the file open; see that the folder may be written by you.",
        )
    if number == errno.ENOENT:
        return "the folder is gone.", "Put it back, or plug the disk in again."
    if number in (errno.ENOTDIR, errno.EISDIR, errno.EEXIST, errno.ELOOP):
        return "something else of this name stands in the way.", "Rename it, then do this again."
    if number == errno.ENAMETOOLONG:
        return "the name of the folder is too long.", "Keep the folder nearer to the top of the disk."
    return (
        f"the disk refused ({os.strerror(number) if number else 'no reason told'}).",
        "Do this again, or use another disk.",
    )
