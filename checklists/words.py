"""Words and numbers as people read them, and text from outside made harmless. Knows nothing of schools."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

# Control characters, line and paragraph separators, marks that turn the direction of writing, byte-order marks, lone
# surrogates: a terminal obeys them or a line breaks on them. Joiners and variation signs stay: words need them.
_HARMFUL = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")


def clean(text: str) -> str:
    """The text with nothing in it that a terminal obeys: harmful white space becomes a space, the rest U+FFFD.

    A line break counts as harmful white space, so what comes back is one line.
    """
    if text.isprintable():  # true for nearly every text, and false for every one that has a harmful character
        return text
    return _HARMFUL.sub(lambda found: " " if found[0].isspace() else "\ufffd", text)


def minute_of(time: str) -> int:
    """Minutes since midnight of a time of day: "8:05" is 485. Raises ValueError for what is not such a time."""
    hours, minutes = time.split(":")
    return int(hours) * 60 + int(minutes)


def minute_of_day(moment: datetime) -> int:
    """Minutes since midnight."""
    return moment.hour * 60 + moment.minute


def clock(minute: int) -> str:
    """The time of day as people write it: 485 is "8:05"."""
    return f"{minute // 60}:{minute % 60:02d}"


def say_date(day: date) -> str:
    """ "Mon 5 Oct", in English whatever the computer's language is."""
    return f"{_WEEKDAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def say_room(room: str) -> str:
    """A room as people call it: "Room 12" for a number or code, "the library" for a word."""
    return f"the {room}" if room.replace(" ", "").isalpha() and room.islower() else f"Room {room}"


def say_full_date(day: date) -> str:
    """ "Mon 5 Oct 2026"."""
    return f"{say_date(day)} {day.year}"


def say_grade(grade: str) -> str:
    """ "kindergarten", "grade 3"."""
    return {"PK": "pre-kindergarten", "K": "kindergarten"}.get(grade, f"grade {grade}")


def say_number(number: float) -> str:
    """A number without needless digits: 4.0 is "4", 2.5 is "2.5", 0.333 is "0.33"."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


def plural(number: float, noun: str, several: str = "") -> str:
    """A number with its noun: "1 sheet", "2 sheets". ``several`` where the rules of English do not give it."""
    return f"{say_number(number)} {noun if number == 1 else several or _several(noun)}"


def _several(noun: str) -> str:
    if noun == "child" or noun.endswith(" child"):
        return noun + "ren"
    if noun.endswith("y") and not noun.endswith(("ay", "ey", "oy", "uy")):
        return noun[:-1] + "ies"
    return noun + ("es" if noun.endswith(("s", "x", "ch", "sh")) else "s")


def join_words(words: Iterable[str], last: str = "and") -> str:
    """ "a", "a and b", "a, b and c"; ``last`` may be "or"."""
    every = list(words)
    if len(every) < 2:
        return "".join(every)
    return f"{', '.join(every[:-1])} {last} {every[-1]}"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that ``word`` was most likely meant to be; None where nothing is near."""
    from difflib import get_close_matches  # slow to import, and only needed when something is wrong

    by_folded = {each.casefold(): each for each in known}
    found = get_close_matches(word.casefold(), by_folded, n=1, cutoff=0.6)
    return by_folded[found[0]] if found else None
