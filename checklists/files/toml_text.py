"""A file that a person wrote, to a table or to problems. Nothing on the disk makes it raise."""

from __future__ import annotations

import codecs
import errno
from pathlib import Path
from typing import Any

from msgspec import Struct

from checklists.files.syntax import parse
from checklists.problems import Problem

MOST_BYTES = 2_000_000
"""A larger file is not read. A plan of a hundred classes has a tenth of it."""

_SAVE_AS = 'Open it in a plain text editor and save it again as "UTF-8".'
_WIDE = ((codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))


class TomlFile(Struct, frozen=True):
    """A file as read. ``data`` is None when a problem is grave; ``rest`` then has what the readable lines hold.

    ``text`` is what was understood: plain quotes in place of a word processor's, lines as in the file.
    """

    name: str
    data: dict[str, Any] | None
    text: str = ""
    problems: tuple[Problem, ...] = ()
    rest: dict[str, Any] | None = None
    is_missing: bool = False


def read_toml(path: Path, name: str) -> TomlFile:
    """Read a TOML file; ``name`` is what problems call it ("lessons/burlap-birds.toml")."""
    try:
        if path.stat().st_size > MOST_BYTES:
            return _unread(
                name, "It is larger than 2 MB and was not read.", "A plan file is far smaller. Is it the right file?"
            )
        found = path.read_bytes()
    except OSError as error:
        return _not_opened(path, name, error)
    return read_toml_bytes(found, name)


def read_toml_bytes(found: bytes, name: str) -> TomlFile:
    """The same from what stood in the file."""
    for mark, kind in _WIDE:
        if found.startswith(mark):
            return _unread(name, f"It was saved as {kind.upper()}.", _SAVE_AS)
    if b"\x00" in found:
        return _unread(name, "It is not a text file.", "Put back an earlier copy of it.")
    try:
        text = found.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = found.count(b"\n", 0, error.start) + 1
        return _unread(name, "There is a letter in this line that is not saved as UTF-8.", _SAVE_AS, line)
    return _read_text(text.replace("\r\n", "\n").replace("\r", "\n"), name)


def _read_text(text: str, name: str) -> TomlFile:
    parsed = parse(text, name)
    notes: tuple[Problem, ...] = ()
    if parsed.problems and any(sign in text for sign in "“”„‟«»‘’‚‛\u00a0"):
        from checklists.files.quotes import with_plain_quotes

        text, changed = with_plain_quotes(text)
        parsed = parse(text, name)
        notes = tuple(
            Problem(
                name, "", "The quotes are a word processor's; they were read as plain ones.", line=line, level="note"
            )
            for line in changed[:3]
        )
    if parsed.problems:
        return TomlFile(name, None, text, parsed.problems + notes, parsed.table)
    return TomlFile(name, parsed.table, text, notes)


def _unread(name: str, what: str, to_do: str, line: int | None = None) -> TomlFile:
    return TomlFile(name, None, problems=(Problem(name, "", what, to_do, line),))


def _not_opened(path: Path, name: str, error: OSError) -> TomlFile:
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        problem = Problem(name, "", "The file is not there.", f"It belongs into the folder {path.parent}.")
        return TomlFile(name, None, problems=(problem,), is_missing=True)
    if isinstance(error, IsADirectoryError) or path.is_dir():
        return _unread(name, "There is a folder of this name where the file must be.", "Rename the folder.")
    if isinstance(error, PermissionError):
        return _unread(
            name, "You are not allowed to read this file.", "Change its permissions, or ask who keeps the computer."
        )
    if error.errno == errno.ELOOP:
        return _unread(name, "It is a link that leads back to itself.", "Put the file itself there.")
    return _unread(
        name, f"The disk did not give it ({error.strerror or 'no reason told'}).", "Try again, or use a copy of it."
    )
