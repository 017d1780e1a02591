"""Whether a name in a calendar means a day without children: by everyday words, and by how long it lasts."""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from typing import Literal, NamedTuple

from checklists.bringing_in.known_words import folded_whole, known_words, says_any

MOST_OF_A_DAY = timedelta(hours=5)
"""An event of less, whose words do not say outright that there is no school, is no day off. Common practice."""

Meaning = Literal["no school", "usual", "ask", "half", "other", "unknown"]


class Meant(NamedTuple):
    """What a name means, and the word that says it."""

    meaning: Meaning
    word: str = ""


@cache
def _phrases(key: str) -> tuple[str, ...]:
    """The longest first: "good friday" is told before "friday"."""
    words: list[str] = known_words()["days_off"][key]
    return tuple(sorted(words, key=len, reverse=True))


def meaning_of(name: str) -> Meant:
    """What the name of an event means. Half a day beats all, then what says it outright, then the rest."""
    said = folded_whole(name)
    ranks: tuple[tuple[str, Meaning], ...] = (
        ("half", "half"),
        ("no_school", "no school"),
        ("other", "other"),
        ("ask", "ask"),
        ("federal", "usual"),
        ("usual", "usual"),
    )
    for key, meaning in ranks:
        if word := says_any(said, _phrases(key)):
            return Meant(meaning, word)
    return Meant("unknown")


def why_not(meant: Meant, length: timedelta = timedelta(1)) -> str:
    """Why an event of a calendar is not taken as a day off; empty: it is."""
    if meant.meaning == "half":
        return f"{meant.word}: half of the day takes place, so it is no day off"
    if meant.meaning == "no school":
        return ""
    if meant.meaning == "ask":
        return f"{meant.word}: in some schools the children stay at home then"
    if meant.meaning == "usual":
        return "" if length >= MOST_OF_A_DAY else "it lasts less than most of a day"
    return f"{meant.word}: school takes place" if meant.meaning == "other" else "nothing says that there is no school"


def why_not_in_a_list(meant: Meant) -> str:
    """The same of a line in her own list of days off: what is not known there, she means."""
    return "" if meant.meaning in ("no school", "usual", "unknown", "ask") else why_not(meant)
