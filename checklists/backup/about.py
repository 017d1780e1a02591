"""What a backup says of itself: a text that a person reads, with the list of its files at the end of it.

The text is in the backup beside the files. Everything below ``LIST_BEGINS`` is for the program: what was backed up
when, and each file with its size and its SHA-256, so that a file that is missing or damaged is found before anything is
put back.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import date, datetime
from hashlib import sha256
from textwrap import fill

from msgspec import Struct

from checklists import VERSION
from checklists.words import clean, clock, minute_of_day, plural, say_date, say_full_date

FORMAT = 1
ABOUT = "about-this-backup.txt"
"""Its name in the backup."""
MOST_FILES = 20_000
MOST_BYTES_A_FILE = 64_000_000
MOST_BYTES = 400_000_000
"""Beyond what years of daybooks take by far: a year of days is about 10 MB."""
MOST_BYTES_OF_ABOUT = 8_000_000
LIST_BEGINS = "---- the list of files; leave it as it is ----"

_DAY_FILE = re.compile(r"daybook/(\d{4}-\d\d-\d\d)\.(?:toml|journal)")
_FILE_LINE = re.compile(r"([0-9a-f]{64}) +(\d{1,12}) (.+)")
_NOT_TAKEN = re.compile(r"[\x00-\x1f\x7f\\]")


class CannotPutBack(Exception):  # noqa: N818 - said as a teacher would
    """This is no backup that can be put back; the text says why and what to do. Nothing was changed."""


class KeptFile(Struct, frozen=True):
    """One file of a backup. ``size`` in bytes."""

    name: str
    size: int
    sha256: str


class About(Struct, frozen=True):
    """What is in a backup."""

    school: str
    made: datetime
    files: tuple[KeptFile, ...]
    program: str = VERSION
    days: int = 0
    newest: date | None = None
    """The last day that something is told of."""

    @property
    def bytes(self) -> int:
        return sum(each.size for each in self.files)


def about(school: str, made: datetime, contents: Mapping[str, bytes]) -> About:
    """What a backup of these files says of itself; ``contents`` by name, as from the top of the data folder."""
    files = tuple(KeptFile(name, len(what), sha256(what).hexdigest()) for name, what in sorted(contents.items()))
    days = days_in(contents)
    return About(clean(school), made.replace(microsecond=0), files, VERSION, len(days), max(days, default=None))


def days_in(names: Mapping[str, bytes]) -> frozenset[date]:
    """The days that these files tell of."""
    found = (_DAY_FILE.fullmatch(name) for name in names)
    return frozenset(date.fromisoformat(each[1]) for each in found if each is not None and _is_date(each[1]))


def say_about(about: About) -> str:
    """In a line: whose, of when, how much."""
    return f"{about.school}, {say_moment(about.made)}: {say_days(about.days, about.newest)}"


def say_days(days: int, newest: date | None) -> str:
    """How much of a daybook there is."""
    last = f", the last {say_full_date(newest)}" if newest is not None else ""
    return f"{plural(days, 'day')}{last}" if days else "no day told of yet"


def say_moment(moment: datetime) -> str:
    return f"{say_date(moment.date())} {moment.year} at {clock(minute_of_day(moment))}"


def why_not_kept(name: str) -> str:
    """Why a file of this name cannot be in a backup; empty: it can."""
    parts = name.split("/")
    if _NOT_TAKEN.search(name):
        return "its name has a sign in it that other computers do not take"
    if not all(parts) or any(part in (".", "..") for part in parts) or name[1:2] == ":":
        return "its name leads out of the folder"
    return ""


# ------------------------------------------------------------------------------------------------------- the text


def about_text(about: About, file_name: str) -> str:
    """The text that goes into a backup. ``file_name`` is what the backup is called."""
    what = (
        f"Everything that Trundle keeps for {about.school}, as it was on {say_moment(about.made)}: the plan, the rules,"
    )
    what += f" and the daybook, {say_days(about.days, about.newest)}."
    head = f"""\
A backup made by Trundle
========================

{fill(what, 78)}

To put it back: open Trundle, press Tab, choose "Back up everything, or put a
backup back", go to this backup, press Enter. You are told what it would change;
nothing is changed before you press y, and what is there then is kept first.
On a new computer, where Trundle asks where you would like to begin, choose "I
have a backup: put it back".
Without the screen, this tells the same, and --yes at its end does it:

    trundle restore {file_name}

To look at it without putting it back, unpack it into a folder of its own and
open that folder: trundle --data FOLDER

It has no names of children in it, but it tells what classes need and avoid.
Keep it where you would keep your class lists.

"""
    list_ = [
        LIST_BEGINS,
        f"format: {FORMAT}",
        f"program: {about.program}",
        f"school: {about.school}",
        f"made: {about.made.isoformat()}",
        f"days: {about.days}",
        f"newest: {about.newest.isoformat() if about.newest is not None else '-'}",
        f"files: {len(about.files)}",
        *(f"{each.sha256} {each.size:>9} {each.name}" for each in about.files),
    ]
    return head + "\n".join(list_) + "\n"


def read_about(content: bytes, called: str) -> About:
    """What a backup says of itself. Raises CannotPutBack. Line ends and a mark at its beginning do not matter."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise CannotPutBack(f"{called}: the list of its files is damaged. Choose another backup.") from None
    _, begun, list_ = text.partition(LIST_BEGINS)
    if not begun:
        raise CannotPutBack(f"{called}: the list of its files is missing. Choose another backup.")
    lines = [line for line in re.split(r"\r\n|\r|\n", list_) if line.strip()]
    said = dict(line.split(": ", 1) for line in lines[:7] if ": " in line)
    if said.get("format", "").isdigit() and int(said["format"]) > FORMAT:
        raise CannotPutBack(
            f"{called} was made by a newer version of Trundle ({clean(said.get('program', '?'))[:20]})."
        )
    try:
        if int(said["format"]) < 1 or len(lines) != 7 + int(said["files"]):
            raise ValueError
        newest = None if said["newest"] == "-" else date.fromisoformat(said["newest"])
        made = datetime.fromisoformat(said["made"]).replace(tzinfo=None)
        files = tuple(_file_of(line) for line in lines[7:])
        return About(clean(said["school"]), made, files, clean(said["program"]), int(said["days"]), newest)
    except (KeyError, ValueError):
        raise CannotPutBack(f"{called}: the list of its files is damaged. Choose another backup.") from None


def must_be_reasonable(about: About, called: str) -> None:
    """Raises CannotPutBack where a list names a file outside of the folder, or twice, or more than a school has."""
    for each in about.files:
        if why := why_not_kept(each.name):
            raise CannotPutBack(f"{called} has a file {clean(each.name)[:60]!r} in it, and {why}. It is not used.")
    names = {one_name(each.name) for each in about.files}
    if len(names) != len(about.files):
        raise CannotPutBack(f"{called} has a file twice. It is not used.")
    sizes = [each.size for each in about.files]
    if len(sizes) > MOST_FILES or sum(sizes) > MOST_BYTES or max(sizes, default=0) > MOST_BYTES_A_FILE:
        raise CannotPutBack(f"{called} is far larger than the files of a school can be. It is not used.")


def one_name(name: str) -> str:
    """A name as every computer compares it: some take letters and accents apart, and put them together again."""
    return unicodedata.normalize("NFC", name)


def _file_of(line: str) -> KeptFile:
    found = _FILE_LINE.fullmatch(line)
    if found is None:
        raise ValueError
    return KeptFile(found[3], int(found[2]), found[1])


def _is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
