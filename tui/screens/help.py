"""Which keys are there, and what do the signs mean?"""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from checklists.pages.route import WHAT_TAKES_ROOM
from tui.keys import GUIDE_FROM_HELP, Key
from tui.screens.page import Page

SAFETY = (
    "Cautions are reminders from a list of rules. What is allowed is decided by the rules of your school, the nurse "
    "and the person responsible for safety in the building."
)
ROUTE_WORDS = (
    ("█░ 3 of 4", f"how full the cart is from a stop on, in half slots: {WHAT_TAKES_ROOM}"),
    ("2 to spare", "minutes left between the bells after the way; setting up is not in it"),
    ("1 LATE", "the way takes a minute more than there is between the bells"),
    (
        "leave by",
        "the bell less the walk, setting up and some slack: 8:20 less 2 min to walk, 4 to set up, 2 of slack is 8:12",
    ),
    (
        "left ahead",
        "taken to its room and you back at the store before the cart leaves: so many minutes earlier you set out, "
        "as 6 for Box K to Room 1 and back",
    ),
    ("Next", "what to take, where to, and by when, counted from the clock"),
    ("NOT KNOWN", "a walk nobody has said, that the route depends on: type its minutes"),
    ("a wish, 1 LATE", "what stands behind a wish is what the day has more of, or less, than without it"),
)
MEANING_CELLS = 38
"""Width of the meanings, so that they hang beside their keys at 60 columns too."""


def hang(keys: str, meaning: str) -> list[tuple[str, str]]:
    """The meaning in lines beside its keys."""
    parts = wrap(meaning, MEANING_CELLS)
    return [(keys, parts[0]), *[("", part) for part in parts[1:]]]


class HelpScreen(Page):
    """The signs of a screen, all its keys with what they do, from the table that binds them, then its words."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding(GUIDE_FROM_HELP.keys[0], GUIDE_FROM_HELP.action, show=False)]
    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = ((GUIDE_FROM_HELP.shown, GUIDE_FROM_HELP.label),)

    def __init__(
        self,
        title: str,
        keys: tuple[Key, ...],
        signs: tuple[tuple[str, str], ...] = (),
        words: tuple[tuple[str, str], ...] = (),
    ) -> None:
        typed = [key for key in keys if key.before]
        told = [
            (key.all_shown, key.meaning) for key in (*typed, *(key for key in keys if not key.before)) if key.meaning
        ]
        told.insert(len(typed), ("0 to 9", "a number for the line in hand, or a choice"))
        between = (Content(""),) if signs else ()
        meant = (Content(""), Content.assemble(("What the words mean", "bold")), *_hung(words)) if words else ()
        rows = (*_hung(told[: len(typed)]), *_hung(signs), *between, *_hung(told[len(typed) :]), *meant)
        super().__init__(f"Keys: {title}", (*rows, Content(""), Content(SAFETY)))

    def action_guide(self) -> None:
        from tui.screens.guide import GuideScreen

        self.app.push_screen(GuideScreen())


def _hung(told: Iterable[tuple[str, str]]) -> list[Content]:
    hung = [line for shown, meaning in told for line in hang(shown, meaning)]
    return [Content.assemble((f"{shown:<15} ", "bold"), part) for shown, part in hung]
