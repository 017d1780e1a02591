"""Where backups can go: folders that are there and can be written, as far as the system tells; and what is in them.

Her documents and desktop, and every stick or drive that is plugged in. What is only asked about is never waited for:
a drive that does not answer at once is the system's to find out.
"""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

from checklists.backup.about import CannotPutBack
from checklists.backup.difference import Found
from checklists.backup.naming import BEGINS
from checklists.files.backup_contents import BACKUPS
from checklists.files.backup_making import ENDING
from checklists.files.backup_reading import look_into

MOST_LOOKED_INTO = 40
"""Backups of one place that are looked into, the newest names first."""


class Place(Struct, frozen=True):
    """A folder, and what a person calls it."""

    name: str
    path: Path


def places() -> tuple[Place, ...]:
    """What this computer offers now."""
    return offered((*own_places(), *drives()))


def own_places() -> tuple[Place, ...]:
    """Her documents and her desktop, wherever the system has them, if they are there."""
    from platformdirs import user_desktop_path, user_documents_path

    return offered((Place("Documents", user_documents_path()), Place("Desktop", user_desktop_path())))


def offered(asked: Iterable[Place]) -> tuple[Place, ...]:
    """Those that are there and can be written, each once."""
    found: dict[Path, Place] = {}
    for each in asked:
        with suppress(OSError, RuntimeError):
            if each.path.is_dir() and os.access(each.path, os.W_OK | os.X_OK):
                found.setdefault(each.path.resolve(), each)
    return tuple(found.values())


def drives_below(*tops: Path, is_drive: Callable[[Path], bool] = os.path.ismount) -> Iterator[Place]:
    """Whatever is plugged in right below these folders, or below one of a user's own in them."""
    for top in tops:
        for each in _folders_in(top):
            inner = [] if is_drive(each) else _folders_in(each)
            for drive in (each, *inner):
                if is_drive(drive) and not drive.is_symlink():
                    yield Place(drive.name, drive)


if sys.platform == "win32":

    def drives() -> Iterator[Place]:
        """Every drive with a letter but that of the system, disc drives aside."""
        import ctypes

        system, letters = os.environ.get("SYSTEMDRIVE", "C:").upper(), ctypes.windll.kernel32.GetLogicalDrives()
        for number in range(26):
            name = f"{chr(ord('A') + number)}:"
            kind = ctypes.windll.kernel32.GetDriveTypeW(f"{name}\\") if letters >> number & 1 else 0
            if name != system and kind in (2, 3, 4):  # removable, fixed, of the network; Source: GetDriveTypeW
                yield Place(name, Path(f"{name}\\"))

elif sys.platform == "darwin":

    def drives() -> Iterator[Place]:
        """Whatever the Finder shows as a volume."""
        return drives_below(Path("/Volumes"))

else:

    def drives() -> Iterator[Place]:
        """Where desktops mount what is plugged in. Source: udisks2 mounts below /run/media or /media."""
        return drives_below(Path("/media"), Path("/run/media"))


def backups_in(places: Iterable[Place], folder: Path) -> tuple[Found, ...]:
    """The backups in these places and those kept in the data folder itself, the newest first."""
    kept = Place("kept here", folder / BACKUPS)
    found = [found for place in (*places, kept) for found in _found_in(place)]
    usable = [each for each in found if each.about is not None]
    usable.sort(key=lambda each: each.about.made if each.about is not None else 0, reverse=True)
    return (*usable, *(each for each in found if each.about is None))


def found_at(path: Path, place: str = "") -> Found:
    """A backup as far as it can be told without reading it all."""
    try:
        return Found(str(path), place, look_into(path))
    except CannotPutBack as wrong:
        return Found(str(path), place, said=str(wrong))


def path_typed(typed: str) -> Path | None:
    """What is there by a path that was typed, pasted or dragged in from a window of files; None: nothing is."""
    for text in _ways_to_read(typed.strip()):
        with suppress(OSError, RuntimeError, ValueError):  # a user there is not, a name that no disk takes
            path = Path(text).expanduser().absolute()
            if path.exists():
                return path
    return None


def _ways_to_read(typed: str) -> Iterator[str]:
    """A terminal writes what is dragged into it as its shell would take it: in quotes, or with signs before spaces.

    Source: POSIX.1-2017, XCU 2.2 "Quoting"; RFC 8089 for "file:" addresses.
    """
    if typed:
        yield typed
    if typed.startswith("file:/"):
        from urllib.parse import urlsplit
        from urllib.request import url2pathname

        yield url2pathname(urlsplit(typed).path)
    if len(typed) > 2 and typed[0] in "'\"" and typed[0] == typed[-1]:
        yield typed[1:-1]
    if os.name != "nt":
        with suppress(ValueError):  # a quote that is not closed
            words = shlex.split(typed)
            if len(words) == 1:
                yield words[0]


def _found_in(place: Place) -> list[Found]:
    with suppress(OSError):
        names = [each for each in place.path.iterdir() if each.name.startswith(BEGINS)]
        names = [each for each in names if each.suffix == ENDING or each.is_dir()]
        newest = sorted(names, key=lambda each: each.name[-14:], reverse=True)[:MOST_LOOKED_INTO]
        return [found_at(each, place.name) for each in newest]
    return []


def _folders_in(folder: Path) -> list[Path]:
    with suppress(OSError):
        return sorted(each for each in folder.iterdir() if each.is_dir())
    return []
