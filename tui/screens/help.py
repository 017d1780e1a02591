"""Which keys are there?"""

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
    "Signs: ! critical   ▸ in hand   +16 put in so many   look: enough is in it, look at it   "
    "@ stands somewhere else   ? asks   ~ about"
)


MEANING_CELLS = 40
"""Width of the meanings, so that they hang beside their keys at 60 columns too."""


def hang(keys: str, meaning: str) -> list[tuple[str, str]]:
    """The meaning in lines beside its keys."""
    parts = wrap(meaning, MEANING_CELLS)
    return [(keys, parts[0]), *[("", part) for part in parts[1:]]]


class HelpScreen(Page):
    """All keys of a screen with what they do, from the table that binds them."""

    def __init__(self, title: str, keys: tuple[Key, ...]) -> None:
        told = [(key.all_shown, key.meaning) for key in keys if key.meaning]
        told.insert(1, ("0 to 9", "a number for the line in hand, or a choice"))
        hung = [line for shown, meaning in told for line in hang(shown, meaning)]
        lines = [Content.assemble((f"{shown:<16}", "bold"), part) for shown, part in hung]
        super().__init__(f"Keys: {title}", (*lines, Content(""), Content(SIGNS), Content(""), Content(SAFETY)))
