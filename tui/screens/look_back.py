"""How does it stand? Every class against the plan, most behind first, and what is owed, missing, lent, short."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.looking_back import how_it_stands
from checklists.pages.look_back import look_back_sections, say_when
from tui.keys import LOOK_BACK, bindings_of
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine

LEAD = 5
"""Cells before a row's text, and the bar at its side."""


class LookBackScreen(RowsScreen):
    """One page to read from top to bottom; nothing is done on it."""

    DEFAULT_CSS = "LookBackScreen Band { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(LOOK_BACK)]
    KEYS = LOOK_BACK
    TITLE_OF_KEYS = "How it stands"

    def compose(self) -> ComposeResult:
        yield Band(id="title")
        yield LineList()
        yield MessageLine()
        yield KeyBar(LOOK_BACK)

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    def reread(self) -> None:
        look = how_it_stands(self.book, self.date)
        title = Content.assemble(("How it stands", "bold"), f"  {say_when(look)}")
        self.query_one("#title", Band).show(title)
        rows: list[Row] = []
        for heading, texts in look_back_sections(self.book.plan, look, self.size.width - LEAD):
            rows.append(Row("heading", f"heading {heading}", heading, tone="heading"))
            rows += [Row("reading", f"{heading} {number}", text) for number, text in enumerate(texts)]
        self.list.show(rows, self.list.cursor)

    def action_digit(self, digit: str) -> None:
        """Nothing is counted here."""
