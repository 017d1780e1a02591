"""Files to bring in from: those lying where people keep what they downloaded, and one whose path was typed."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import NamedTuple
from urllib.parse import unquote, urlparse
from urllib.request import url2pathname

PLACES = ("Downloads", "Desktop", "Documents", "OneDrive/Desktop", "OneDrive/Documents", "")
"""Below the home folder; the last one is the home folder itself."""
ENDINGS = (".csv", ".tsv", ".txt", ".ics")
MOST_FILES = 60
MOST_BYTES = 8_000_000
"""More is no list of a school."""


class CannotRead(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """A file cannot be read; the message says which and why."""


class FoundFile(NamedTuple):
    """``place`` is the folder in words: "Downloads"; ``changed`` when it was last written."""

    path: Path
    place: str
    changed: datetime


def files_found(home: Path, endings: Iterable[str] = ENDINGS) -> tuple[FoundFile, ...]:
    """Tables and calendars in the usual folders, newest first. What cannot be looked at is passed over."""
    wanted = tuple(endings)
    found: dict[Path, FoundFile] = {}
    for place in PLACES:
        for path, changed in _files_in(home / place, wanted):
            found.setdefault(path.resolve(), FoundFile(path, place or "home folder", changed))
    return tuple(sorted(found.values(), key=lambda each: each.changed, reverse=True)[:MOST_FILES])


def _files_in(folder: Path, endings: tuple[str, ...]) -> Iterator[tuple[Path, datetime]]:
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.name.startswith(".") or not entry.name.casefold().endswith(endings):
                    continue
                state = entry.stat()
                if entry.is_file() and state.st_size:
                    yield Path(entry.path), datetime.fromtimestamp(state.st_mtime)
    except OSError:
        return


def looks_like_path(text: str) -> bool:
    """Whether what was typed or pasted is the path of a file and no row of a table."""
    bare = text.strip().strip("'\"")
    return "\n" not in bare and re.match(r"~|/|\.{1,2}[/\\]|file:|[A-Za-z]:[\\/]|\\\\", bare) is not None


def path_typed(text: str, home: Path) -> Path:
    """The path as people type or drop it: in quotes, with "~", as file://, with a backslash before a space."""
    bare = text.strip().strip("'\"").strip()
    if bare.casefold().startswith("file:"):
        with suppress(ValueError):  # no address: then it is no path of a file either
            address = urlparse(bare)
            return Path(url2pathname(address.path) if os.name == "nt" else unquote(address.path))
    if os.name != "nt":
        bare = re.sub(r"\\(.)", r"\1", bare)
    if bare == "~" or bare.startswith(("~/", "~\\")):
        return home / bare[2:]
    return Path(bare)


def is_there(path: Path) -> bool:
    """Whether a path leads to a file; not where its folder cannot be looked into, or no file can be called so."""
    try:
        return path.is_file()
    except OSError:
        return False


def read_file(path: Path) -> bytes:
    """What is in a file. Raises CannotRead."""
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        why = error.strerror or "no reason told"
        raise CannotRead(f"{path.name or path} cannot be read ({why}).") from None
    except ValueError:
        raise CannotRead("This is no path of a file.") from None
