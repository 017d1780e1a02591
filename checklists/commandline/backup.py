"""The commands that back everything up, and put a backup back."""

from __future__ import annotations

import contextlib
from pathlib import Path

from checklists.backing_up import put_back_in_folder, usable
from checklists.backup.about import CannotPutBack
from checklists.book import Book, CannotOpen, NotSaved
from checklists.commandline.folder import folder_of
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.files.backup_making import make_backup
from checklists.files.backup_places import places
from checklists.files.backup_reading import look_into
from checklists.pages.backup import backup_as_json, backup_page, restore_as_json, restore_page


def back_up(request: Request) -> int:
    """Back up the folder, whether its plan reads or not, and while a window is open on it too."""
    folder = folder_of(request)
    with contextlib.suppress(CannotOpen, NotSaved), Book.open(folder, today=request.now.date()) as book:
        if book.writable:
            book.fold()
    path = make_backup(folder, _place_of(request), request.now, as_folder=request.as_folder)
    about = look_into(path)
    if request.json:
        say_json(backup_as_json(path, about))
    else:
        say(backup_page(path, about))
    return 0


def restore(request: Request) -> int:
    """Say what a backup holds and what putting it back would do; with `--yes` do it."""
    folder, path = folder_of(request), _path_of(" ".join(request.words))
    try:
        found = usable(path, folder)
    except CannotPutBack as wrong:
        raise NotUnderstood(str(wrong)) from None
    kept = put_back_in_folder(folder, found.backup, request.now) if request.yes else None
    if request.json:
        say_json(restore_as_json(found, kept, done=request.yes))
    else:
        say(restore_page(found, kept, done=request.yes))
    return 0


def _place_of(request: Request) -> Path:
    if request.place:
        return _path_of(request.place)
    found = places()
    if not found:
        raise NotUnderstood("Say where the backup is to go: trundle backup --to FOLDER.")
    return found[0].path


def _path_of(typed: str) -> Path:
    try:
        return Path(typed).expanduser().absolute()
    except RuntimeError:  # the folder of a user there is not
        raise NotUnderstood(f"There is no folder {typed}.") from None
