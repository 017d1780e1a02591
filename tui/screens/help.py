"""Which keys are there, and what do the signs mean?"""

from __future__ import annotations

from textwrap import wrap

from textual.content import Content

from tui.keys import Key
from tui.screens.page import Page

SAFETY = (
    "Cautions are reminders from a list of rules. What is allowed is decided by the rules of your school, the nurse "
    "and the person responsible for safety in the building."
)
SIGNS = (
    ("!", "critical: without it the lesson cannot start"),
    ("+16", "so many must still be put in"),
    ("look", "enough is in it already: only look at it"),
    ("▁ ▄ █", "how full it is"),
    ("▸", "in hand"),
    ("@", "stands somewhere else"),
    ("5!  12 5!", "5 critical open; 12 open, 5 of them critical"),
    ("× stop", "must not come along: n and a digit say that it is out"),
    ("later", "today has enough of it; later visits, which it is filled for, need more"),
    ("low", "running low"),
    ("?  ~", "asks you something; about so many"),
)
MEANING_CELLS = 38
"""Width of the meanings, so that they hang beside their keys at 60 columns too."""


def hang(keys: str, meaning: str) -> list[tuple[str, str]]:
    """The meaning in lines beside its keys."""
    parts = wrap(meaning, MEANING_CELLS)
    return [(keys, parts[0]), *[("", part) for part in parts[1:]]]


class HelpScreen(Page):
    """The signs, then all keys of a screen with what they do, from the table that binds them."""

    def __init__(self, title: str, keys: tuple[Key, ...]) -> None:
        typed = [key for key in keys if key.before]
        told = [
            (key.all_shown, key.meaning) for key in (*typed, *(key for key in keys if not key.before)) if key.meaning
        ]
        told.insert(len(typed), ("0 to 9", "a number for the line in hand, or a choice"))
        hung = [line for shown, meaning in (*SIGNS, *told) for line in hang(shown, meaning)]
        lines = [Content.assemble((f"{shown:<16}", "bold"), part) for shown, part in hung]
        signs = sum(len(hang(shown, meaning)) for shown, meaning in SIGNS)
        first = sum(len(hang(key.all_shown, key.meaning)) for key in typed)
        ordered = [*lines[signs : signs + first], *lines[:signs], Content(""), *lines[signs + first :]]
        super().__init__(f"Keys: {title}", (*ordered, Content(""), Content(SAFETY)))
