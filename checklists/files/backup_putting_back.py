"""Putting a backup back: all of it or nothing, wherever it is cut off, and what was there kept first.

    backups/trundle-SCHOOL-2026-10-05.zip   what was there, a backup like any other
    change.pending                          the archive being put back: a start that finds it finishes it

From the moment that the archive has that name the change is made; before it nothing is different.
"""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from checklists.backup.about import CannotPutBack
from checklists.demo import SIGN
from checklists.files.backup_contents import BACKUPS, FOLDERS, contents_of, names_in
from checklists.files.backup_making import archive_of, write_backup
from checklists.files.backup_reading import Backup, read_backup
from checklists.files.safely import NotSaved, make_folder, not_saved, remove_file, replace_file
from checklists.files.year_pending import PENDING


def put_back(folder: Path, backup: Backup, at: datetime) -> Path | None:
    """Put what a backup holds in place of what is in ``folder``, whose lock the caller has.

    Gives the backup that was made of what was there; None: nothing was. Raises NotSaved: then all is as it was, or,
    where even that the disk refuses, ``is_changing`` is true and the next start finishes it.
    """
    _must_fit(folder, backup)
    before = contents_of(folder, is_cut_off=True)
    kept = keep_what_is_there(folder, before, at)
    content = archive_of(backup.about, backup.contents, backup.path.name)
    make_folder(folder)
    replace_file(folder / PENDING, content, keep_before=False)
    try:
        _bring(folder, backup.contents)
    except NotSaved:
        with contextlib.suppress(NotSaved):
            _bring(folder, before)
            remove_file(folder / PENDING)
        raise
    remove_file(folder / PENDING)
    return kept


def _must_fit(folder: Path, backup: Backup) -> None:
    """The demo school is made anew at any time: nothing of hers is put there, and it in no place of hers."""
    if SIGN in backup.contents and not (folder / SIGN).exists():
        raise NotSaved("That is a backup of the demo school. It is put back where the demo is open: trundle demo.")
    if SIGN not in backup.contents and (folder / SIGN).exists():
        raise NotSaved("Here is the demo school, which is made anew at any time. Put it back in your own: trundle.")


def keep_what_is_there(folder: Path, contents: Mapping[str, bytes], at: datetime) -> Path | None:
    """Back up what is in a folder into the folder itself; None where nothing is there. Raises NotSaved."""
    if not contents:
        return None
    make_folder(folder / BACKUPS)
    return write_backup(contents, folder / BACKUPS, at)


def finish_putting_back(folder: Path) -> None:
    """Finish what was cut off. Raises NotSaved where the disk refuses; the next start tries again."""
    try:
        backup = read_backup(folder / PENDING)
    except CannotPutBack as wrong:  # it was whole when it got its name: the disk is to blame
        raise NotSaved(f"A backup was being put back when this was cut off, and {wrong}") from wrong
    _bring(folder, backup.contents)
    remove_file(folder / PENDING)


def _bring(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Make the files of a folder these. What goes, goes first: on some disks two names are one."""
    for name in sorted(names_in(folder) - contents.keys()):
        remove_file(folder / name)
    for name, content in sorted(contents.items()):
        path = folder / name
        if _bytes_of(path) != content:
            make_folder(path.parent)
            replace_file(path, content, keep_before=False)
    for name, content in contents.items():
        if _bytes_of(folder / name) != content:
            raise NotSaved(f"This disk does not take {name} as another one did. Choose another folder for your school.")
    _clear_empty_folders(folder)


def _clear_empty_folders(folder: Path) -> None:
    for top in FOLDERS:
        for each in sorted((folder / top).rglob("*"), reverse=True):
            if each.is_dir() and not each.is_symlink():
                with contextlib.suppress(OSError):  # something is in it
                    each.rmdir()


def _bytes_of(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise not_saved(path, error) from error
