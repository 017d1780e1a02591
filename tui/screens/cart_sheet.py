"""What goes on paper today?"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from checklists.book import NotSaved
from checklists.pages.cart_sheet_text import cart_sheet_pages
from checklists.pages.plain import WIDTH
from checklists.sheets import keep_sheet, sheet_of
from checklists.words import clean, say_date
from tui.keys import CART_SHEET
from tui.opening_files import open_file
from tui.recorder import Recorder
from tui.screens.page import Page
from tui.widgets.message_line import MessageLine

LEAST_WIDTH = 40
"""Columns in which the sheet is still laid out; in a narrower window its rows are cut."""


class CartSheetScreen(Page):
    """The text of the sheet as it would be printed now; one key puts it into files for the printer."""

    DEFAULT_CSS = """
    CartSheetScreen VerticalScroll { padding: 0; scrollbar-size-vertical: 0; }
    CartSheetScreen MessageLine { height: auto; max-height: 4; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [Binding(each.keys[0], each.action, show=False) for each in CART_SHEET]
    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = tuple((each.shown, each.label) for each in CART_SHEET)

    def __init__(self, recorder: Recorder, on: date, at: datetime) -> None:
        super().__init__(f"Cart sheet for {say_date(on)}", ())
        self.book = recorder.book
        self.sheet = sheet_of(recorder.book, on, at, recorder.marks(on))
        self.said, self.is_alarm = "", False

    def compose(self) -> ComposeResult:
        """As every page, with a line above its keys that says what was written."""
        for each in super().compose():
            if "end" in each.classes:
                yield MessageLine()
            yield each

    def on_mount(self) -> None:
        self.lay_out()

    def on_resize(self) -> None:
        self.lay_out()

    def lay_out(self) -> None:
        """Rows as wide as the window, up to those of the paper."""
        width = max(LEAST_WIDTH, min(WIDTH, self.size.width))
        pages = cart_sheet_pages(self.sheet, width)
        rows = [clean(row) for page in pages for row in page]
        for shown in self.query("VerticalScroll Static").results(Static):  # none before the page is there
            shown.update(Content("\n".join(rows)))
        self._show_said()

    def action_keep(self) -> None:
        path = self.keep()
        if path is not None:
            self._say(f"To print, open it in a browser; the text stands beside it. Written: {path}")

    def action_open_page(self) -> None:
        self.open_kept(".html", "a browser")

    def action_open_text(self) -> None:
        self.open_kept(".txt", "an editor")

    def keep(self) -> Path | None:
        """Write the files; where the page is. Where they cannot be written it is said."""
        try:
            return keep_sheet(self.book, self.sheet)
        except NotSaved as problem:
            self._say(f"Not written: {problem}", alarm=True)
            return None

    def open_kept(self, ending: str, what: str) -> None:
        """Write the files and open one of them in another window."""
        path = self.keep()
        if path is None:
            return
        path = path.with_suffix(ending)
        if open_file(path):
            self._say(f"Opened in another window: print it there. Written: {path}")
        else:
            self._say(f"Nothing here can open it: open it in {what} yourself. Written: {path}", alarm=True)

    def _say(self, text: str, *, alarm: bool = False) -> None:
        self.said, self.is_alarm = clean(text), alarm
        self._show_said()

    def _show_said(self) -> None:
        """In full: a path may take more than a row."""
        rows = Content(self.said).wrap(max(10, self.size.width - 2)) if self.said else []
        for line in self.query(MessageLine).results(MessageLine):
            line.show(*(row.stylize("bold $alarm") if self.is_alarm else row for row in rows))
