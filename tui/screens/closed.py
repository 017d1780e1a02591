"""What did closing the day do?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from checklists.words import clean, say_date
from tui.screens.page import Page


class ClosedScreen(Page):
    """Everything that closing a day moved, a sentence each. Leaves with True where she wants the day open again."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding(key, "open_again", show=False) for key in ("u", "z")]

    MORE_KEYS = (("u", "open again"),)

    def __init__(self, on: date, done: Iterable[str]) -> None:
        said = [Content(clean(sentence)) for sentence in done] or [Content("Nothing had to be moved.")]
        super().__init__(f"{say_date(on)} is closed", tuple(said))

    def action_open_again(self) -> None:
        self.dismiss(True)
