"""Ids that are names of files too, made from titles: the same file on every computer the folder is moved to."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from checklists.files.plan_folder import is_copy

_REFUSED = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})
"""Names of devices, which Windows takes for no file whatever ends them. Source: from memory, not checked."""
_SIGNS = re.compile(r"[^a-z0-9]+")
_LONGEST = 40
"""Letters of an id, so that the file's whole path stays short enough for every system."""


def free_file_id(title: str, taken: Iterable[str], otherwise: str) -> str:
    """A short id of small letters, digits and dashes, made of ``title``; of ``otherwise`` where that leaves nothing.

    It is none of ``taken``, whatever capitals those have; no name a system keeps for itself; and neither it nor any of
    those looks like the copy that a program makes which keeps folders in step.
    """
    every = {each.casefold() for each in taken}
    stem = _plain(title) or _plain(otherwise)
    numbers = ("", *(f"-{number}" for number in range(2, len(every) + 3)))
    for found in (f"{start}{number}" for start in (stem, f"lesson-{stem}") for number in numbers):
        if found not in _REFUSED and found not in every and not _looks_like_a_copy(found, every):
            return found
    raise ValueError(f"no id is left for {otherwise}")


def _plain(text: str) -> str:
    """Small letters without accents, digits, and a dash for everything between."""
    letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return _SIGNS.sub("-", letters.lower()).strip("-")[:_LONGEST].strip("-")


def _looks_like_a_copy(found: str, every: set[str]) -> bool:
    return is_copy(found, every) or any(is_copy(each, (found,)) for each in every)
