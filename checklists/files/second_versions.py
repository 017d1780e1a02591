"""Reading second versions of a day, and setting them aside once they are merged. Nothing of them is ever deleted.

What is damaged, of another date, of a newer format or far too large is told in words, and has no record to merge.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from msgspec import Struct, structs

from checklists.daybook.state import DayRecord
from checklists.files.copied_days import FOLDER, copies_of
from checklists.files.daybook_folder import END_MARK, as_toml, holds, record_of
from checklists.files.journal import replay
from checklists.files.safely import not_saved, replace_file, sync_folder
from checklists.files.toml_text import MOST_BYTES, read_toml
from checklists.problems import Problem
from checklists.words import clean, plural

_LEAVE = "Nothing of it is merged; it stays as it is."


class Version(Struct, frozen=True):
    """A second version of a day: one file or, where a journal goes with it, two. ``record`` is None if not readable."""

    day: date
    names: tuple[str, ...]
    record: DayRecord | None
    problems: tuple[Problem, ...] = ()

    @property
    def said(self) -> str:
        """Its file names as text."""
        return clean(" and ".join(self.names))


def read_versions(folder: Path, own: DayRecord) -> tuple[Version, ...]:
    """The second versions of the day of ``own``, which is the day as it is told here. Never raises."""
    stems: dict[str, list[str]] = {}
    for name in copies_of(folder, own.date):
        stems.setdefault(name.rpartition(".")[0], []).append(name)
    return tuple(_read(folder, own, sorted(names, reverse=True)) for _, names in sorted(stems.items()))


def _read(folder: Path, own: DayRecord, names: list[str]) -> Version:
    """The file first, then the journal that goes with it on top."""
    record: DayRecord | None = None
    problems: list[Problem] = []
    for name in names:
        if name.endswith(".toml"):
            record, found = _read_file(folder, own.date, name)
        else:
            record, found = _read_journal(folder, own, record, name)
        problems += found
        if record is None:
            break
    return Version(own.date, tuple(names), record, tuple(problems))


def _read_file(folder: Path, day: date, name: str) -> tuple[DayRecord | None, tuple[Problem, ...]]:
    called = f"{FOLDER}/{name}"
    file = read_toml(folder / FOLDER / name, called)
    record, problems, newer = record_of(file.data, file.text, called, day)
    problems = (*file.problems, *problems)
    is_cut = file.text.startswith("# ") and END_MARK.decode() not in file.text
    if newer:
        problems = (_cannot(name, "A newer version of Trundle wrote it.", "Merge the two with that one."),)
    elif is_cut:
        problems = (_cannot(name, "Its end is missing: it did not come over whole.", "Wait until it has."),)
    elif record is None:
        what = "It is damaged, or it is no record of this day."
        problems = (
            _cannot(name, what, "Put a good copy in its place, or move this file out of the folder."),
            *problems,
        )
    return (None if newer or is_cut else record), problems


def _read_journal(
    folder: Path, own: DayRecord, copied: DayRecord | None, name: str
) -> tuple[DayRecord | None, tuple[Problem, ...]]:
    """A journal stands on the file that was copied with it; alone, on what the day had when it was begun."""
    path = folder / FOLDER / name
    try:
        if path.stat().st_size > MOST_BYTES:
            return None, (_cannot(name, "It is larger than 2 MB and was not read.", "Is it the right file?"),)
        content = path.read_bytes()
    except OSError as error:
        why = error.strerror or "no reason told"
        return None, (_cannot(name, f"The disk did not give it ({why}).", "See that the file may be read."),)
    before = copied.entries if copied is not None else ()
    if copied is not None and copied.folded is not None and holds(copied.folded, content):
        content = content[copied.folded.bytes :]
    alone = replay(content)
    if alone.not_known:
        return None, (_cannot(name, "A newer version of Trundle wrote it.", "Merge the two with that one."),)
    if alone.cut_off and not alone.entries:
        return None, (_cannot(name, "It is damaged and cannot be read.", "Put back a copy of it, if you can."),)
    entries = replay(content, before).entries
    if copied is None and alone.entries:
        begun = alone.entries[0].at
        entries = (*(each for each in own.entries if each.at < begun and each not in alone.entries), *alone.entries)
    problems: tuple[Problem, ...] = ()
    if alone.cut_off:
        what = f"{plural(alone.cut_off, 'line')} of it cannot be read and {'is' if alone.cut_off == 1 else 'are'} not"
        problems = (_told(name, f"{what} merged.", "Look over what you did last."),)
    record = copied or DayRecord(format=1, date=own.date)
    return structs.replace(record, entries=entries, folded=None), problems


def _cannot(name: str, what: str, to_do: str) -> Problem:
    return _told(name, f"{what} {_LEAVE}", to_do)


def _told(name: str, what: str, to_do: str) -> Problem:
    return Problem(clean(f"{FOLDER}/{name}"), "", what, to_do, level="note")


# -------------------------------------------------------------------------------------------------- setting aside


def keep_unmerged(folder: Path, own: DayRecord) -> str:
    """Keep the day as it was here before it is merged, under a name that nothing reads. Gives the name.

    Raises NotSaved. What an attempt that was cut off has kept already is not kept twice.
    """
    content = as_toml(own)
    number = 1
    while (path := folder / FOLDER / f"{own.date}.toml.before-merge-{number}").exists():
        if _has(path, content):
            return path.name
        number += 1
    replace_file(path, content, keep_before=False)
    return path.name


def _has(path: Path, content: bytes) -> bool:
    try:
        return path.read_bytes() == content
    except OSError:
        return False


def set_merged_aside(folder: Path, version: Version) -> tuple[str, ...]:
    """Rename the files of a version that was merged: "….toml.merged-1". Gives the new names. Raises NotSaved."""
    aside = []
    for name in version.names:
        path, number = folder / FOLDER / name, 1
        while (new := path.with_name(f"{name}.merged-{number}")).exists():
            number += 1
        try:
            path.rename(new)
        except FileNotFoundError:  # somebody moved it away meanwhile: what it said is merged
            continue
        except OSError as error:
            raise not_saved(path, error) from error
        aside.append(new.name)
    sync_folder(folder / FOLDER)
    return tuple(aside)
