"""Ids for everything new, made from its name: short, readable, and fit to be the name of a file on any system.

Supplies, kits and lessons have such an id, which stays as it is whatever they are called later. Classes, rooms and
bell schedules are known by their name itself: ``free_name`` finds one that nobody has.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection

from checklists.plan.check import FOLDER, STORE
from checklists.plan.file_names import RESERVED_BY_SYSTEMS

LONGEST = 48
"""Of an id without the number behind it; a plan file takes 60 signs."""
_NOT_BY_ACCENT = str.maketrans(
    {
        "æ": "ae",
        "œ": "oe",
        "ø": "o",
        "đ": "d",
        "ð": "d",
        "ħ": "h",
        "ı": "i",
        "ł": "l",
        "ŋ": "n",
        "þ": "th",
        "ŧ": "t",
        "×": "x",
    }
)
"""Signs that are no letter with an accent to Unicode."""
_RESERVED_HERE = frozenset({"box", "cart", STORE, "item", "everywhere", FOLDER.strip()})
"""Words that mean something else where an id could stand."""
_OF_A_COPY = re.compile(r"copy|kopie|copie|conflict.*")
"""Words by which a file is taken for what a sync program made of another one: an id has none of them."""


def new_id(name: str, taken: Collection[str], thing: str = "thing") -> str:
    """An id that is like the name and that nobody has, capital letters apart.

    Small letters a to z, digits and single dashes. Where the name has none of them (another script, signs alone) it
    is made from ``thing``: "lesson", "supply", "kit".
    """
    words = [each for each in _words(name) if not _OF_A_COPY.fullmatch(each)]
    base = _shortened("-".join(words)) or thing
    if base in RESERVED_BY_SYSTEMS or base in _RESERVED_HERE or base.startswith("box-"):
        base = f"{thing}-{base}"
    used = {each.casefold() for each in taken}
    return base if base not in used else _numbered(base, "-", used)


def free_name(name: str, taken: Collection[str]) -> str:
    """A name nobody has, capital letters apart: the name itself, else with a number behind it, "3-B 2"."""
    used = {each.casefold() for each in taken}
    plain = " ".join(name.split())
    if plain.casefold() not in used:
        return plain
    return _numbered(re.sub(r" \d+$", "", plain)[:LONGEST].rstrip(), " ", used)


def _words(name: str) -> list[str]:
    plain = unicodedata.normalize("NFKD", name.casefold().translate(_NOT_BY_ACCENT))
    without_accents = "".join(each for each in plain if not unicodedata.combining(each))
    return re.findall(r"[a-z0-9]+", without_accents.replace("'", "").replace("\u2019", ""))


def _shortened(base: str) -> str:
    """At most ``LONGEST`` signs, cut between two words where there are several."""
    if len(base) <= LONGEST:
        return base
    cut = base[: LONGEST + 1].rfind("-")
    return base[: cut if cut > 0 else LONGEST].rstrip("-")


def _numbered(base: str, gap: str, used: set[str]) -> str:
    number = 2
    while f"{base}{gap}{number}".casefold() in used:
        number += 1
    return f"{base}{gap}{number}"
