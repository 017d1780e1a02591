"""Putting the files that start Trundle by a double click where she finds them. Nothing of another kind is touched."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

from msgspec import Struct

from checklists.demo import SIGN
from checklists.files.backup_places import Place, offered, own_places
from checklists.files.places import data_folder
from checklists.files.safely import NotSaved, make_folder, not_saved, replace_file
from checklists.start_file import NAME, Start, StartFile, System, sign_of, start_files

MENU = "Start menu"
_RIGHTS = 0o700
_MOST = 99
"""Names that are tried one after the other."""


class Icon(Struct, frozen=True):
    """The files that start Trundle now, the first one to be double-clicked; whether they were there as they are."""

    paths: tuple[Path, ...]
    was_there: bool


def system_here(platform: str = sys.platform) -> System:
    return "windows" if platform == "win32" else "mac" if platform == "darwin" else "linux"


def icon_places(system: System | None = None) -> tuple[Place, ...]:
    """Where an icon can go, the best place first: the desktop, on Linux the menu, her documents."""
    found = sorted(own_places(), key=lambda each: each.name != "Desktop")
    if (system or system_here()) == "linux":
        found.insert(1 if found and found[0].name == "Desktop" else 0, Place(MENU, menu_folder()))
    return tuple(found)


def menu_folder() -> Path:
    """Source: freedesktop.org, Desktop Menu Specification: entries in $XDG_DATA_HOME/applications."""
    home = os.environ.get("XDG_DATA_HOME", "")
    return (Path(home) if Path(home).is_absolute() else Path.home() / ".local" / "share") / "applications"


def start_of(folder: Path) -> Start:
    """This very program on a data folder; from the demo school, on her own. Raises NotSaved."""
    if not sys.executable:
        raise NotSaved("Python does not say where it is, so no start file can be made. Start Trundle as before.")
    own = data_folder() if (folder / SIGN).is_file() else folder
    usual = data_folder(environment={})
    return Start(sys.executable, "" if own.absolute() == usual.absolute() else str(own.absolute()))


def put_icon(place: Path, start: Start, system: System | None = None) -> Icon:
    """Write the start files into a folder. One of the same data folder is made anew; beside anything else of that
    name they get a number. Raises NotSaved."""
    if place == menu_folder():
        make_folder(place)
    if not offered((Place("", place),)):
        raise NotSaved(f"{place} is not a folder that can be written. Name another folder.")
    files = start_files(system or system_here(), start, in_menu=place == menu_folder())
    for number in range(1, _MOST):
        name = NAME if number == 1 else f"{NAME} {number}"
        paths = tuple(place / f"{name}{each.ending}" for each in files)
        if all(_is_free_or_ours(path, start) for path in paths):
            were_there = [_put(path, each) for path, each in zip(paths, files, strict=True)]
            return Icon(paths, all(were_there))
    raise NotSaved(f"{place} has files of that name with every number already. Name another folder.")


def _is_free_or_ours(path: Path, start: Start) -> bool:
    if not os.path.lexists(path):
        return True
    try:
        return not path.is_symlink() and sign_of(start).encode() in path.read_bytes()[:4000]
    except OSError:
        return False


def _put(path: Path, file: StartFile) -> bool:
    """Write one; whether it was there already, word for word."""
    with suppress(OSError):
        if path.read_bytes() == file.content and os.access(path, os.X_OK):
            return True
    replace_file(path, file.content, keep_before=False)
    try:
        path.chmod(_RIGHTS)
    except OSError as error:
        raise not_saved(path, error) from error
    return False
