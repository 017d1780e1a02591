"""Which of the two is right? Two versions of a day side by side; merged only when she says so."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.book import NotSaved
from checklists.files.second_versions import Version
from checklists.pages.plain import wrap
from checklists.pages.versions import comparison_rows
from checklists.words import say_date
from tui.keys import VERSIONS, bindings_of
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine

LEAD = 5
"""Cells before a row's text, and the bar at its side."""


class VersionsScreen(RowsScreen):
    """One second version at a time: what only it has, what only this folder has, what is different."""

    DEFAULT_CSS = "VersionsScreen Band { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(VERSIONS)]
    KEYS = VERSIONS
    TITLE_OF_KEYS = "Two versions of a day"

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.shown = 0
        self.done: tuple[str, ...] = ()
        """What merging did, shown until the screen is left."""

    def compose(self) -> ComposeResult:
        yield Band(id="title")
        yield LineList()
        yield MessageLine()
        yield KeyBar(VERSIONS)

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    @property
    def versions(self) -> tuple[Version, ...]:
        """Every second version of every day, read now: the folder may be kept in step while this is looked at."""
        return tuple(each for day in self.book.days_in_two_versions for each in self.book.versions.of(day))

    @property
    def version(self) -> Version | None:
        found = self.versions
        return found[self.shown % len(found)] if found else None

    def reread(self) -> None:
        width, version, count = self.size.width - LEAD, self.version, len(self.versions)
        texts = [row for text in self.done for row in wrap(text, indent=2, width=width)]
        if version is None:
            self.show_title("One version of every day")
            texts = texts or ["Nothing is to be merged."]
        else:
            which = f", {self.shown % count + 1} of {count}" if count > 1 else ""
            self.show_title(f"Two versions of {say_date(version.day)}{which}")
            texts += [*([""] if texts else []), *self.rows_of(version, width)]
        self.list.show([Row("reading", f"row {index}", text) for index, text in enumerate(texts)], self.list.cursor)

    def show_title(self, text: str) -> None:
        self.query_one("#title", Band).show(Content.assemble((text, "bold")))

    def rows_of(self, version: Version, width: int) -> list[str]:
        rows = wrap(version.said, first="The other: ", indent=2, width=width)
        rows += [row for each in version.problems for row in wrap(str(each), first="! ", indent=2, width=width)]
        if version.record is None:
            return rows
        return rows + comparison_rows(self.book.versions.compared(version), width)

    def action_digit(self, digit: str) -> None:
        """Nothing is counted here."""

    def action_other(self) -> None:
        self.shown += 1
        self.list.cursor = 0
        self.reread()

    def action_merge(self) -> None:
        """All versions of the day in hand as one."""
        version = self.version
        if version is None:
            return
        if version.record is None:
            self.say("This one cannot be merged; it stays as it is.", alarm=True)
            return
        problem = self.trundle.recorder.save_again()
        try:
            merged = self.book.merge_versions(version.day)
        except NotSaved as refused:
            self.say(f"Not merged: {problem or refused}", alarm=True)
            return
        self.done = merged.said
        self.list.cursor = 0
        self.reread()
        self.say("Merged. What was set aside is not deleted.")
