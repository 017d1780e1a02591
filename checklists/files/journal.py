"""A day's journal: one line for each thing done, on the disk before the screen shows it as saved.

    {"journal":"5be0c7d2"} #e9a40f13
    {"did":"packed","at":"2026-10-05T07:31:02","line":"box-3/yarn-ball","count":54} #1f0c99ab
    {"undo":true,"at":"2026-10-05T07:31:09"} #77d0e6a1

Each line ends with a checksum (CRC-32) of what stands before it, so that a line cut off by a crash is known as such.
The first line is the journal's own mark: no two journals begin alike, even where the same thing was done in both.
"""

from __future__ import annotations

from datetime import datetime
from os import urandom
from typing import Any
from zlib import crc32

import msgspec
from msgspec import Struct

from checklists.daybook.entries import AnyEntry, Entry
from checklists.files.typed import cleaned


class Replayed(Struct, frozen=True):
    """What is left when a journal was gone through."""

    entries: tuple[AnyEntry, ...]
    cut_off: int = 0
    """Lines that are not whole: cut off by a crash, or altered."""
    not_known: int = 0
    """Whole lines that this version does not understand."""


def first_line() -> bytes:
    """The line that begins a new journal."""
    return _with_sum({"journal": urandom(8).hex()})


def entry_line(entry: Entry) -> bytes:
    """An entry as a line of the journal."""
    return _with_sum(cleaned(msgspec.to_builtins(entry)))


def undo_line(at: datetime) -> bytes:
    """The line that takes back the newest entry that is left."""
    return _with_sum({"undo": True, "at": at})


def replay(journal: bytes, before: tuple[AnyEntry, ...] = ()) -> Replayed:
    """Go through a journal, on top of the entries that were there ``before``. Never raises."""
    entries = list(before)
    cut_off = not_known = 0
    for line in journal.split(b"\n"):
        if not line.strip():
            continue
        told, mark, checksum = line.rpartition(b" #")
        if not mark or checksum.strip() != _sum(told):
            cut_off += 1
            continue
        try:
            said = msgspec.json.decode(told)
            if isinstance(said, dict) and said.get("undo") is True:
                del entries[-1:]
            elif not (isinstance(said, dict) and "journal" in said):
                entries.append(msgspec.convert(said, AnyEntry))
        except msgspec.DecodeError:  # a ValidationError is one
            not_known += 1
    return Replayed(tuple(entries), cut_off, not_known)


def _with_sum(said: dict[str, Any]) -> bytes:
    told = msgspec.json.encode(said)
    return told + b" #" + _sum(told) + b"\n"


def _sum(told: bytes) -> bytes:
    return b"%08x" % crc32(told)
