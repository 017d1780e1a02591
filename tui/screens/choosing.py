"""A list that the first letters narrow: for choosing one of many by a few keys."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.content import Content

from tui.keys import CHOOSING, bindings_of
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

LONGEST_TYPED = 40
Offers = Callable[[str], list[Row]]
"""The rows that fit what was typed."""


class ChoosingScreen(RowsScreen):
    """Rows narrowed by the letters typed; Enter hands the one in hand to ``take``. Every letter is only a letter."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHOOSING)]
    KEYS = CHOOSING
    TITLE_OF_KEYS = "Choosing"
    closes = True
    """Whether taking one closes the list."""
    longest_typed = LONGEST_TYPED

    def __init__(self, on: date, title: str, offers: Offers, take: Callable[[str], None], *, nothing: str = "") -> None:
        super().__init__(on)
        self.asked = title
        self.offers = offers
        self.take = take
        self.nothing = nothing or "Nothing begins so. Backspace takes a letter away."
        self.typed = ""

    def on_mount(self) -> None:
        self.show_offers()

    def reread(self) -> None:
        self.show_offers(self.key_in_hand)

    def show_offers(self, key: str = "") -> None:
        """What fits the letters, the cursor on ``key`` or on the first."""
        rows = self.offers(self.typed) or [Row("text", "nothing", self.nothing)]
        self.list.show(rows, key=key)
        self.query_one(Question).show(*self.question())
        self.echo()

    def question(self) -> tuple[Content, ...]:
        return (Content.assemble((self.asked, "bold")),)

    def echo(self) -> None:
        said = f"{self.typed}_" if self.typed else "Type the first letters, or go there with the arrows."
        self.query_one(MessageLine).put(Content.assemble((said, "bold" if self.typed else "$quiet")))

    def on_key(self, event: events.Key) -> None:
        """A letter, a digit or a space narrows the list."""
        if not event.is_printable or event.character is None:
            return
        event.stop()
        if event.character != " " or self.typed:
            self.typed = (self.typed + event.character)[: self.longest_typed]
            self.show_offers()

    def action_digit(self, digit: str) -> None:
        """Digits come by ``on_key``."""

    def action_erase(self) -> None:
        if self.typed:
            self.typed = self.typed[:-1]
            self.show_offers()
        else:
            self.action_back()

    def action_accept(self) -> None:
        row = self.list.row
        if row is not None and row.kind not in ("text", "heading"):
            if self.closes:
                self.dismiss()
            self.take(row.key)

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click takes it."""
        if event.again:
            self.action_accept()
