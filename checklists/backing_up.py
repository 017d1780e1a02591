"""Backing up a data folder and putting a backup back, whether a book is open on it or not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from msgspec import Struct

from checklists.backup.about import CannotPutBack
from checklists.backup.difference import Difference, difference_of
from checklists.book import Book, CannotOpen, NotSaved
from checklists.files.backup_contents import contents_of, school_in
from checklists.files.backup_making import make_backup
from checklists.files.backup_putting_back import put_back
from checklists.files.backup_reading import Backup, read_backup
from checklists.files.copied_days import FOLDER as DAYBOOK
from checklists.files.daybook_folder import FORMAT
from checklists.files.lock import take_lock, why_not_writing
from checklists.files.plan_folder import LESSONS, PlanRead, read_plan
from checklists.files.year_pending import finish_what_was_cut_off, is_changing
from checklists.words import clean

_FORMAT_LINE = re.compile(rb"^format = (\d{1,9})\r?$", re.MULTILINE)


class Usable(Struct, frozen=True):
    """A backup that can be put back, what its plan has, and what would be different here."""

    backup: Backup
    classes: int
    lessons: int
    difference: Difference


def back_up(book: Book, place: Path, at: datetime, *, as_folder: bool = False) -> Path:
    """Back up an open book into a new archive or folder in ``place``; which that is. Raises NotSaved."""
    if book.writable:
        book.fold()
    return make_backup(book.folder, place, at, as_folder=as_folder)


def usable(path: Path, folder: Path) -> Usable:
    """A backup read whole, and what putting it back into ``folder`` would do. Raises CannotPutBack, NotSaved."""
    backup = read_backup(path)
    _must_not_be_newer(backup)
    read = _plan_of(backup)
    if read.newer_format:
        raise CannotPutBack(f"{path.name} was made by a newer version of Trundle. Use that one for it.")
    if read.plan is None:
        wrong = next((each for each in read.problems if each.level == "grave"), None)
        raise CannotPutBack(f"The plan in {path.name} does not read. {wrong or ''} Choose an earlier one.")
    here = contents_of(folder, is_cut_off=True)
    return Usable(
        backup,
        len(read.plan.classes),
        len(read.plan.lessons),
        difference_of(here, backup.contents, school_in(here)),
    )


def put_back_in_folder(folder: Path, backup: Backup, at: datetime) -> Path | None:
    """Put a backup back where no window has the folder open. Gives what was there, backed up. Raises NotSaved."""
    with _writing(folder):
        return put_back(folder, backup, at)


def put_back_in_book(book: Book, backup: Backup, at: datetime) -> Path | None:
    """Put a backup back under an open book, which then works on with what it held. Raises NotSaved."""
    if not book.writable:
        raise NotSaved(book.why_read_only)
    book.fold()
    try:
        kept = put_back(book.folder, backup, at)
    except NotSaved:
        if is_changing(book.folder):
            book.only_look("Putting a backup back was cut off. Quit Trundle and start it again: it is finished then.")
        raise
    book.open_anew()
    return kept


def take_back_in_book(book: Book, kept: Path | None, at: datetime) -> None:
    """Put back what was there before. Raises NotSaved."""
    if kept is None:
        raise NotSaved("Nothing was there before. Nothing is taken back.")
    try:
        put_back_in_book(book, read_backup(kept), at)
    except CannotPutBack as wrong:
        raise NotSaved(str(wrong)) from wrong
    except CannotOpen as wrong:
        raise NotSaved(f"It is as it was before, but cannot be worked with: {wrong}") from wrong


@contextmanager
def _writing(folder: Path) -> Iterator[None]:
    finish_what_was_cut_off(folder)
    lock = take_lock(folder)
    if lock is None:
        raise NotSaved(why_not_writing(folder, wanted=True, newer=False))
    with lock:
        yield


def _plan_of(backup: Backup) -> PlanRead:
    """The plan in a backup, read in a place where nothing of hers is."""
    try:
        with TemporaryDirectory(prefix="trundle-") as name:
            place = Path(name)
            (place / LESSONS).mkdir()
            for each, content in backup.contents.items():
                if each.endswith(".toml") and each.removeprefix(f"{LESSONS}/").count("/") == 0:
                    (place / each).write_bytes(content)
            return read_plan(place)
    except OSError as error:  # no room there, or a name that this system does not take
        why = error.strerror or "no reason told"
        raise CannotPutBack(f"The plan in {clean(backup.path.name)} cannot be looked at here ({why}).") from None


def _must_not_be_newer(backup: Backup) -> None:
    for name, content in backup.contents.items():
        found = _FORMAT_LINE.search(content[:400]) if name.startswith(f"{DAYBOOK}/") else None
        if found is not None and int(found[1]) > FORMAT:
            raise CannotPutBack(f"{backup.path.name} was made by a newer version of Trundle. Use that one for it.")
