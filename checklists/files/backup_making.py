"""Making a backup: one archive, or one folder, there whole or not at all, and read back before it counts."""

from __future__ import annotations

import io
import os
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from shutil import rmtree
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from checklists.backup.about import ABOUT, About, CannotPutBack, about, about_text
from checklists.backup.naming import BEGINS, backup_name
from checklists.files.backup_contents import contents_of, school_in
from checklists.files.backup_reading import read_backup
from checklists.files.safely import NotSaved, make_folder, not_saved, replace_file, sync_folder
from checklists.words import clean

ENDING = ".zip"
_ONLY_FOR_HER = 0o600 << 16
_LEFT_OVER_S = 600
"""What was begun so long before another backup is not being written any more."""


def make_backup(folder: Path, place: Path, at: datetime, *, as_folder: bool = False) -> Path:
    """Back up a data folder into a new file, or a new folder, in ``place``; which that is.

    Raises NotSaved: then there is no backup, and nothing else is different.
    """
    try:
        is_inside = place.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # links in a circle, or no name of a folder
        raise NotSaved(f"There is no folder {clean(str(place))}. Choose another place.") from None
    if is_inside:
        raise NotSaved("That is the folder that is being backed up. Choose another place, best another disk.")
    return write_backup(contents_of(folder), place, at, as_folder=as_folder)


def write_backup(contents: Mapping[str, bytes], place: Path, at: datetime, *, as_folder: bool = False) -> Path:
    """Write a backup of these files. Raises NotSaved."""
    if not contents:
        raise NotSaved("There is nothing to back up yet: no plan and no daybook is there.")
    if not _is_folder(place):
        raise NotSaved(f"There is no folder {clean(str(place))}. Make it, plug the stick in, or choose another place.")
    school = school_in(dict(contents)) or "a school"
    try:
        path = _free_path(place, school, at, "" if as_folder else ENDING)
    except OSError as error:  # a folder that cannot be looked into
        raise not_saved(place, error) from error
    said = about(school, at, contents)
    if as_folder:
        _write_folder(path, said, contents)
    else:
        _write_archive(path, archive_of(said, contents, path.name))
    return path


def archive_of(said: About, contents: Mapping[str, bytes], file_name: str) -> bytes:
    """The archive as it is written."""
    out = io.BytesIO()
    moment = said.made.timetuple()[:6]
    with ZipFile(out, "w", ZIP_DEFLATED) as archive:
        for name, content in ((ABOUT, about_text(said, file_name).encode()), *sorted(contents.items())):
            entry = ZipInfo(name, moment)
            entry.external_attr, entry.compress_type = _ONLY_FOR_HER, ZIP_DEFLATED
            archive.writestr(entry, content)
    return out.getvalue()


def _write_archive(path: Path, content: bytes) -> None:
    unfinished = path.with_name(f".{path.name}.new")
    _clear_what_was_cut_off(path.parent)
    try:
        replace_file(unfinished, content, keep_before=False)
        _must_read_back(unfinished, path)
        unfinished.rename(path)
    except OSError as error:
        raise not_saved(path, error) from error
    finally:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
    sync_folder(path.parent)


def _write_folder(path: Path, said: About, contents: Mapping[str, bytes]) -> None:
    unfinished = path.with_name(f".{path.name}.new")
    _clear_what_was_cut_off(path.parent)
    try:
        rmtree(unfinished, ignore_errors=True)
        make_folder(unfinished)
        for name, content in ((ABOUT, about_text(said, path.name).encode()), *sorted(contents.items())):
            make_folder((unfinished / name).parent)
            replace_file(unfinished / name, content, keep_before=False)
        _must_read_back(unfinished, path)
        unfinished.rename(path)
    except OSError as error:
        raise not_saved(path, error) from error
    finally:
        rmtree(unfinished, ignore_errors=True)
    sync_folder(path.parent)


def _must_read_back(unfinished: Path, path: Path) -> None:
    """Read what the disk has now, not what the program remembers of it, as far as the system lets it."""
    if hasattr(os, "posix_fadvise") and unfinished.is_file():
        with suppress(OSError), unfinished.open("rb") as file:
            os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
    try:
        read_backup(unfinished)
    except CannotPutBack as wrong:
        raise NotSaved(
            f"The disk gave back something else than was written: {wrong} There is no backup {path.name}; use another"
            " disk."
        ) from wrong


def _is_folder(place: Path) -> bool:
    try:
        return place.is_dir()
    except OSError:
        return False


def _free_path(place: Path, school: str, at: datetime, ending: str) -> Path:
    number = 1
    while True:
        name = backup_name(school, at.date(), number)
        if not any((place / f"{name}{each}").exists() for each in ("", ENDING)):
            return place / f"{name}{ending}"
        number += 1


def _clear_what_was_cut_off(place: Path) -> None:
    """Take away backups that were begun here and never finished, once nobody can be writing them any more."""
    with suppress(OSError):
        now = _clock_of_disk(place)
        for each in place.glob(f".{BEGINS}*.new"):
            if now - each.stat().st_mtime > _LEFT_OVER_S:
                rmtree(each, ignore_errors=True) if each.is_dir() else each.unlink(missing_ok=True)


def _clock_of_disk(place: Path) -> float:
    """The time by the disk's own clock. Raises OSError."""
    probe = place / f".{BEGINS}{os.getpid()}.clock"
    try:
        probe.touch()
        return probe.stat().st_mtime
    finally:
        probe.unlink(missing_ok=True)
