"""What is there to know about the day?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.lines.records import Day
from checklists.pages.reasons import is_hidden
from checklists.words import plural, say_date
from tui.keys import NOTICES, bindings_of
from tui.notices import all_notices
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.notice import Notice

INDENT = 7
"""Cells in front of a text in the list, and one for the bar at its side."""


class NoticesScreen(RowsScreen):
    """Everything to know about the day, one by one and in full, and what is to be prepared; each can be asked why."""

    DEFAULT_CSS = "NoticesScreen Band { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(NOTICES)]
    KEYS = NOTICES
    TITLE_OF_KEYS = "To know about the day"

    def compose(self) -> ComposeResult:
        yield Band(id="title")
        yield LineList()
        yield MessageLine()
        yield KeyBar(NOTICES)

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    def reread(self) -> None:
        recorder = self.trundle.recorder
        day = recorder.day(self.date)
        notices = all_notices(recorder.book, day, recorder.marks(self.date))
        rows = list(rows_of_notices(notices, day, self.size.width - INDENT))
        said = Content.assemble((f"To know about {say_date(self.date)}", "bold"))
        self.query_one("#title", Band).show(said)
        self.list.show(rows or [Row("text", "nothing", "Nothing out of the ordinary.")], self.list.cursor)

    def action_digit(self, digit: str) -> None:
        """Nothing is counted here."""

    def action_why(self) -> None:
        from tui.screens.why import why_screen

        row = self.list.row
        page = why_screen(self.trundle.recorder, self.date, row.key) if row is not None else None
        if page is not None:
            self.app.push_screen(page)
        else:
            self.say("This has no rule behind it: it says all there is.")


def rows_of_notices(notices: tuple[Notice, ...], day: Day, width: int) -> Iterator[Row]:
    """A notice in as many rows as it needs; the cursor stands on the first of them."""
    for index, notice in enumerate(notices):
        key = notice.key or f"notice {index}"
        yield from rows_in_full(key, notice.text, width, sign=notice.sign, critical=notice.critical)
    coming = [task for task in day.tasks if task.due > day.date and not is_hidden(task, private=False)]
    if coming:
        yield Row("heading", "heading prepare", "To prepare", tone="heading")
    for task in coming:
        when = f"{say_date(task.due)}{f', {task.place}' if task.place else ''}"
        yield from rows_in_full(task.key, f"{when}: {task.what}, {plural(task.minutes, 'minute')}", width)


def rows_in_full(key: str, text: str, width: int, *, sign: str = "", critical: bool = False) -> Iterator[Row]:
    for at, part in enumerate(Content(text).wrap(max(10, width))):
        if at:
            yield Row("text", f"{key} {at}", f"    {part.plain}", tone="critical" if critical else "plain")
        else:
            shown = "" if critical else sign
            yield Row("matter", key, part.plain, shown, tone="critical" if critical else "plain", critical=critical)
