"""Names of files that every computer takes, and the same name however a disk spells it.

A folder is opened on another system, or kept in step with one: what a file may be called there counts here as well.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Collection
from pathlib import PurePosixPath

from checklists.problems import Problem
from checklists.words import clean

RESERVED_BY_SYSTEMS = frozenset(
    {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}
)
"""File names that Windows keeps for devices, whatever ending they have.
Source: Microsoft, "Naming Files, Paths, and Namespaces"."""
_NOT_ON_WINDOWS = frozenset('<>:"/\\|?*')
"""Source: the same page."""
LONGEST = 200
"""Bytes of a name before its ending: disks take 255 of the whole, and the version before has a longer ending."""


def one_spelling(name: str) -> str:
    """The name with letters and accents put together: some disks take them apart. Source: Unicode, NFC."""
    return name if name.isascii() else unicodedata.normalize("NFC", name)


def why_not_everywhere(stem: str) -> str:
    """Why a file cannot be called so on every computer, before its ending; empty: it can."""
    if stem.split(".")[0].strip().casefold() in RESERVED_BY_SYSTEMS:
        return "Windows keeps this name for itself"
    wrong = sorted({each for each in stem if each in _NOT_ON_WINDOWS or not each.isprintable()})
    if wrong:
        return f"Windows takes no {' '.join(clean(each) for each in wrong)} in a name"
    if stem.startswith((" ", ".")) or stem.endswith(" "):
        return "Windows takes no such name"
    if len(stem.encode("utf-8", "surrogatepass")) > LONGEST:
        return "it is too long for some disks"
    return ""


def told_of_name(name: str, stems: Collection[str]) -> tuple[Problem, ...]:
    """What is to be noted of a file's name, ``stems`` being those of all files beside it: it is read all the same."""
    stem = PurePosixPath(name).stem
    if why := why_not_everywhere(stem):
        what = f"This file cannot be taken to every computer: {why}."
        return (Problem(clean(name), "", what, "Rename it, and change its id to that.", level="note"),)
    same = one_spelling(stem).casefold()
    twin = next((each for each in sorted(stems) if each < stem and one_spelling(each).casefold() == same), None)
    if twin is None:
        return ()
    what = f"On Windows and macOS this and {clean(twin)} are one file: one of the two would be lost there."
    return (Problem(clean(name), "", what, "Give one of them another id and name.", level="note"),)
