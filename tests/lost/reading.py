"""What a screen says of the day, read from the drawn frame; what the disk says of it, read from the files alone."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from pathlib import Path

from msgspec import Struct

from checklists.book import Book
from checklists.daybook.line_states import has_now, is_open, state_of
from checklists.daybook.marks import Marks, add_to
from checklists.daybook.said import say_entry
from checklists.daybook.state import DayRecord
from checklists.files.daybook_folder import load
from checklists.lines.records import Day

ON_LIST, ON_DAY_END = "leave by", "to settle"
"""What tells the screens apart."""
WORDS = {
    "open": "open",
    "part packed": "part",
    "packed": "packed",
    "met": "in it",
    "short": "short",
    "not needed": "off",
    "forbidden": "stop",
}
"""The word that stands in a row's last column for each state of a line."""
SETTLED = ("part", "packed", "short", "off")
"""What only something she said can make of a row."""
_ROW = re.compile(r"^[▸ ][! ] *(\d+) .* (\d+) of ~?\d+ .*?\b(open|part|packed|in it|short|off|stop|unsaved)\W*$")
_OPEN = re.compile(r"^ (\d+) (?:open|to pack)\b")
_LATER = re.compile(r"\b(\d+) for later\b")


class Shown(Struct, frozen=True):
    """The list as one frame shows it: for each row in sight (state in words, how many are in it), by line number."""

    rows: dict[int, tuple[str, int]]
    open: int | None
    """How many lines are open; None on another screen."""
    message: str

    @property
    def settled(self) -> dict[int, tuple[str, int]]:
        return {number: row for number, row in self.rows.items() if row[0] in SETTLED}


def read_screen(frame: list[str]) -> Shown:
    """A frame of the list screen."""
    found = [row for each in frame if (row := _ROW.match(each)) is not None]
    head = next((count for each in frame[:3] if (count := _OPEN.match(each)) is not None), None)
    is_ready = any("everything is packed" in each for each in frame[:3])
    message = next((each.strip() for each in frame if each.startswith(" Packed ")), "")
    rows = {int(row[1]): (row[3], int(row[2])) for row in found}
    later = next((int(count[1]) for each in frame[:3] if (count := _LATER.search(each)) is not None), 0)
    return Shown(rows, int(head[1]) + later if head else later if is_ready else None, message)


class Kept(Struct, frozen=True):
    """A day as it stands on the disk."""

    rows: dict[int, tuple[str, int]]
    been: set[tuple[int, tuple[str, int]]]
    """Every row as it stood after one entry or another."""
    open: int
    said: tuple[str, ...]
    record: DayRecord
    notes: tuple[str, ...]


def read_disk(folder: Path, day: Day) -> Kept:
    """What the files say of a day, read as another window reads them; ``day`` is its list."""
    with Book.open(folder, write=False, today=day.date) as book:
        marks = book.marks(day.date)
        read = load(folder, day.date)
        been: set[tuple[int, tuple[str, int]]] = set()
        so_far = Marks()
        for entry in read.record.entries:
            add_to(so_far, entry)
            been.update(rows_of(day, so_far).items())
        said = tuple(say_entry(entry, day) for entry in read.record.entries)
        grave = [problem for problem in (*book.problems, *read.problems) if problem.level == "grave"]
        assert not grave, grave
        notes = tuple(problem.what for problem in read.problems)
        opened = sum(is_open(line, marks) for line in day.lines)
        return Kept(rows_of(day, marks), been, opened, said, read.record, notes)


def rows_of(day: Day, marks: Marks) -> dict[int, tuple[str, int]]:
    return {line.number: (WORDS[state_of(line, marks)], has_now(line, marks)) for line in day.lines}


def unreadable_files(folder: Path, day: date, prepared: dict[Path, bytes]) -> list[str]:
    """Names of files that do not read, or that changed though nothing was done to them."""
    wrong = []
    for path in sorted(folder.rglob("*")):
        if not path.is_file():
            continue
        name, content = path.relative_to(folder), path.read_bytes()
        if str(day) in path.name or path.name in (".writing",):
            if path.name.endswith((".toml", ".toml.before")):
                try:
                    tomllib.loads(content.decode())
                except (UnicodeDecodeError, tomllib.TOMLDecodeError):
                    wrong.append(str(name))
        elif name.parts[0] != "cache" and prepared.get(name) != content:
            wrong.append(str(name))
    return wrong
