"""What single cells say: a number, a room, yes or no. What cannot be taken raises NotReadable, in words."""

from __future__ import annotations

import re
from collections.abc import Mapping

from checklists.bringing_in.known_words import folded, known_words
from checklists.bringing_in.understood import NotReadable

MOST_STUDENTS = 400
MOST_OF_A_THING = 1_000_000
_COUNT = re.compile(
    r"(?P<about>about|approx(?:imately)?\.?|around|ca\.?|circa|est\.?|~|≈|a(?=\d))?\s*(?P<count>\d{1,3}(?:,\d{3})+|\d{1,9})(?:\.0+)?"
    r"\s*(?P<noun>students?|children|kids|pupils|pcs\.?|pieces?|sheets?|each|ea\.?|tables?|adults?|g|grams?)?\s*(?P<more>\+)?",
    re.IGNORECASE,
)
_ROOM = re.compile(r"^\s*(?:room|rm)(?![a-z])[\s.#:]*(?:no\.?|number)?\s*(?=\S)", re.IGNORECASE)
_YES = frozenset(("yes", "y", "true", "x", "1", "✓", "✔"))
_NO = frozenset(("no", "n", "false", "0", "-", "–", ""))


def read_count(text: str, noun: str, least: int, most: int) -> tuple[int, bool]:
    """A number from ``least`` to ``most``, and whether it is about so many."""
    found = _COUNT.fullmatch(text.strip())
    count = int(found["count"].replace(",", "")) if found else -1
    if found is None or not least <= count <= most:
        why = f'"{text}" is no number of {noun}.' if found is None else f"{count} {noun} cannot be."
        raise NotReadable(why, f"Write a number from {least} to {most}.")
    return count, bool(found["about"] or found["more"])


def read_students(text: str) -> int | str:
    """ "24" is 24, "about 24", "~24" are about 24; 0 counts as known."""
    count, about = read_count(text, "students", 0, MOST_STUDENTS)
    return f"about {count}" if about and count else count


def read_yes(text: str) -> bool:
    word = text.strip().casefold()
    if word in _YES:
        return True
    if word in _NO:
        return False
    raise NotReadable(f'"{text}" is neither yes nor no.', "Write yes or no.")


def is_number(text: str) -> bool:
    """Whether a cell is a count."""
    return _COUNT.fullmatch(text.strip()) is not None


def name_room(text: str, known: Mapping[str, str] = {}) -> str:
    """ "Room 12", "Rm. 12" and "12.0" are 12, "Library" is the library.

    A room of the plan keeps how it is written: ``known`` has folded name -> name.
    """
    bare = _ROOM.sub("", text).strip()
    bare = re.sub(r"^(\d+)\.0$", r"\1", bare) or text.strip()
    plain = folded(bare)
    if plain in known:
        return known[plain]
    if plain in known_words()["rooms"]["words"]:
        return plain
    return bare.replace("/", "-")[:60]
