"""The daybook on disk: for each day a readable file "daybook/2026-10-05.toml" and, while it is worked on, a journal.

A day is its file with its journal gone through on top. Folding writes both into the file and then takes the journal
away; the file remembers how much of the journal it holds, so that a crash in between counts nothing twice.
"""

from __future__ import annotations

import re
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zlib import crc32

import msgspec
from msgspec import Struct

from checklists.daybook.entries import Entry
from checklists.daybook.state import DayRecord, Folded
from checklists.files.copied_days import FOLDER, told_copies
from checklists.files.journal import entry_line, first_line, replay, undo_line
from checklists.files.kept_day import keep_day, read_kept_day, stamp_of_day
from checklists.files.safely import NotSaved, append_line, make_folder, not_saved, remove_file, replace_file, set_aside
from checklists.files.toml_text import read_toml, read_toml_bytes
from checklists.files.typed import cleaned, records_from
from checklists.problems import Problem
from checklists.words import say_date, say_full_date

FORMAT = 1
_DAY_FILE = re.compile(r"^(\d{4}-\d\d-\d\d)\.(?:toml|journal)$")
_FORMAT_LINE = re.compile(rb"^format = (\d+)$", re.MULTILINE)
END_MARK = b"# end of the file, "


class DayRead(Struct, frozen=True):
    """A day as it stands on the disk. ``newer_format``: written by a newer version; look, but do not write."""

    record: DayRecord
    problems: tuple[Problem, ...] = ()
    newer_format: bool = False

    @property
    def undo_depth(self) -> int:
        """How many entries can be taken back."""
        return len(self.record.entries)


def dates(folder: Path) -> tuple[date, ...]:
    """Dates that have a record, in order."""
    found = {_date_of(name) for name in _names(folder)}
    return tuple(sorted(each for each in found if each is not None))


def dates_with_journal(folder: Path) -> tuple[date, ...]:
    """Dates whose journal was not folded: a window is at work on them, or was stopped at it."""
    found = {_date_of(name) for name in _names(folder) if name.endswith(".journal")}
    return tuple(sorted(each for each in found if each is not None))


def load(folder: Path, day: date) -> DayRead:
    """A day with everything done on it so far; an empty record where there is none. Writes nothing, never raises."""
    # The journal first: a window that folds meanwhile takes it away only after the file has all of it.
    name = f"{FOLDER}/{day}.journal"
    try:
        journal = _journal_of(folder, day)
        unread: tuple[Problem, ...] = ()
    except OSError as error:
        journal = b""
        why = error.strerror or "no reason told"
        what = f"The disk did not give the day's journal ({why}): what was done last is not shown."
        unread = (Problem(name, "", what, "Close Trundle, see that you may read the file, and open it again."),)
    record, problems, newer = _read_file(folder, day)
    problems += unread
    if record.folded is not None and holds(record.folded, journal):
        journal = journal[record.folded.bytes :]
    replayed = replay(journal, record.entries)
    if replayed.cut_off:
        problems += (Problem(name, "", _cut_off(replayed.cut_off), "Look over what you did last.", level="note"),)
    if replayed.not_known:
        lines = "1 line is" if replayed.not_known == 1 else f"{replayed.not_known} lines are"
        unknown = (
            f"{lines} from another version of Trundle and {'was' if replayed.not_known == 1 else 'were'} left out."
        )
        problems += (Problem(name, "", unknown, "Use the newest version of Trundle.", level="note"),)
    record = msgspec.structs.replace(record, entries=replayed.entries, folded=None)
    return DayRead(record, problems + told_copies(folder, day), newer)


def append(folder: Path, day: date, *entries: Entry) -> None:
    """Put the entries of one step on the disk. Raises NotSaved, and then none of them is there."""
    _append(folder, day, b"".join(entry_line(entry) for entry in entries))


def begin_journal(folder: Path, day: date) -> None:
    """See that the day has a journal, so that a start after a crash works out what follows from it. Raises NotSaved."""
    path = _path(folder, day, "journal")
    if not path.exists():
        make_folder(path.parent)
        append_line(path, first_line())


def append_undo(folder: Path, day: date, at: datetime, times: int = 1) -> None:
    """Take back the newest entries that are left, on the disk. Raises NotSaved, and then all are still there."""
    _append(folder, day, undo_line(at) * times)


def fold(folder: Path, day: date, record: DayRecord) -> None:
    """Write the day's file if its journal holds anything. Raises NotSaved, and then nothing is lost."""
    if _path(folder, day, "journal").exists():
        write_record(folder, record)


def write_record(folder: Path, record: DayRecord) -> None:
    """Write a day's file in one step and take its journal away. ``record`` has what the journal says, as from ``load``.

    Raises NotSaved: the file is as it was then, and so is the journal.
    """
    path, journal_path = _path(folder, record.date, "toml"), _path(folder, record.date, "journal")
    make_folder(path.parent)
    _protect_what_is_there(path, record.date)
    try:
        journal = _journal_of(folder, record.date)
    except OSError as error:  # it may hold what the record does not
        raise not_saved(journal_path, error) from error
    folded = Folded(len(journal), crc32(journal)) if journal else None
    replace_file(path, as_toml(msgspec.structs.replace(record, folded=folded)))
    if not journal:
        return
    if replay(journal).not_known:
        set_aside(journal_path)
    else:
        remove_file(journal_path)


def _append(folder: Path, day: date, line: bytes) -> None:
    path = _path(folder, day, "journal")
    make_folder(path.parent)
    append_line(path, line if path.exists() else first_line() + line)


def _path(folder: Path, day: date, suffix: str) -> Path:
    return folder / FOLDER / f"{day}.{suffix}"


def _names(folder: Path) -> list[str]:
    try:
        return sorted(each.name for each in (folder / FOLDER).iterdir())
    except OSError:
        return []


def _date_of(name: str) -> date | None:
    found = _DAY_FILE.match(name)
    try:
        return date.fromisoformat(found[1]) if found else None
    except ValueError:
        return None


def _journal_of(folder: Path, day: date) -> bytes:
    """A day's journal with its line ends as they were written: a program on the way may have changed them."""
    return _bytes_of(_path(folder, day, "journal")).replace(b"\r\n", b"\n")


def _bytes_of(path: Path) -> bytes:
    """What stands in a file, nothing where there is none. Raises OSError where the disk does not give it."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return b""


def holds(folded: Folded, journal: bytes) -> bool:
    """Whether a journal begins with what a day's file holds already."""
    return len(journal) >= folded.bytes and crc32(journal[: folded.bytes]) == folded.checksum


# ------------------------------------------------------------------------------------------------- the day's file


def as_toml(record: DayRecord) -> bytes:
    """A day's file as it is written."""
    from tomli_w import dumps

    table = cleaned(msgspec.to_builtins(record, builtin_types=(date, datetime)))
    head = f"# {say_full_date(record.date)}: what was done on this day. Trundle writes this file.\n"
    body = (head + dumps(table)).encode()
    return body + END_MARK + b"%08x\n" % crc32(body)


def is_whole(content: bytes) -> bool:
    """Whether a file is, to the last sign, as it was written here."""
    body, mark, checksum = content.rpartition(END_MARK)
    return bool(mark) and checksum == b"%08x\n" % crc32(body)


def _read_file(folder: Path, day: date) -> tuple[DayRecord, tuple[Problem, ...], bool]:
    path, name = _path(folder, day, "toml"), f"{FOLDER}/{day}.toml"
    stamp = stamp_of_day(path)
    kept = read_kept_day(folder, stamp) if stamp is not None else None
    if kept is not None and kept.date == day:
        return kept, (), False
    file = read_toml(path, name)
    if file.is_missing:
        return DayRecord(format=1, date=day), (), False
    record, problems, newer = record_of(file.data, file.text, name, day)
    problems = file.problems + problems
    if record is not None:
        if stamp is not None and record.closing is not None and not problems:
            keep_day(folder, stamp, record)
        return record, problems, newer
    before = read_toml(path.with_name(path.name + ".before"), name + ".before")
    record, _, newer = record_of(before.data, before.text, before.name, day)
    if record is not None:
        said = Problem(
            name, "", "The day's file is damaged; the version before it is used.", "Look over what you did last."
        )
        return record, (said, *problems), newer
    said = Problem(
        name, "", "The day's file is damaged and there is no earlier version.", "Put back a copy of it, if you can."
    )
    return DayRecord(format=1, date=day), (said, *problems), False


def record_of(
    table: dict[str, Any] | None, text: str, name: str, day: date
) -> tuple[DayRecord | None, tuple[Problem, ...], bool]:
    """The record in a table that was read, what is wrong with it, and whether a newer version wrote it."""
    if table is None:
        return None, (), False
    newer = isinstance(table.get("format"), int) and table["format"] > FORMAT
    problems: tuple[Problem, ...] = ()
    if newer:
        what = "A newer version of Trundle wrote this file. It can be looked at, not changed."
        problems = (Problem(name, "", what, "Use the newer version.", level="note"),)
        table = {**table, "format": FORMAT}
    record, found = records_from(table, DayRecord, file=name, text=text, newer=newer)
    if record is not None and record.date != day:
        other = Problem(name, "", f"It says that it is the record of {record.date}.", "Give the file its right name.")
        return None, (*problems, *found, other), newer
    if record is not None and not newer and text.startswith(f"# {say_date(day)}") and END_MARK.decode() not in text:
        missing_end = Problem(name, "", "The end of the file is missing.", "Look over what the day says.", level="note")
        return record, (*problems, *found, missing_end), newer
    return record, problems + found, newer


def _protect_what_is_there(path: Path, day: date) -> None:
    """Before a day's file is replaced: never touch one of a newer format, never overwrite one that cannot be read."""
    if not path.exists():
        return
    try:
        content = _bytes_of(path)
    except OSError:
        content = b""
    found = _FORMAT_LINE.search(content[:400])
    if found is not None and int(found[1]) > FORMAT:
        raise NotSaved(
            f"{path.name} was written by a newer version of Trundle and was not changed. Use the newer version."
        )
    if is_whole(content):
        return
    file = read_toml_bytes(content, path.name)
    if record_of(file.data, file.text, path.name, day)[0] is None:
        set_aside(path)


def _cut_off(lines: int) -> str:
    if lines == 1:
        return "One line is not whole, the computer stopped while it was written. It was left out."
    return f"{lines} lines are not whole and were left out."
