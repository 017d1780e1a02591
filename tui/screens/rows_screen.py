"""What all screens with a list of rows share: the list, the row in hand, going from row to row."""

from __future__ import annotations

from textual.app import ComposeResult

from tui.screens.day_screen import DayScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question


class RowsScreen(DayScreen):
    """A screen over one date with one list of rows."""

    DEFAULT_CSS = "RowsScreen { background: $sheet; color: $ink; }"

    def compose(self) -> ComposeResult:
        """What it asks, the rows, a line of words, the keys."""
        yield Question()
        yield LineList()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    @property
    def list(self) -> LineList:
        return self.query_one(LineList)

    @property
    def key_in_hand(self) -> str:
        """Key of the row the cursor stands on; empty where there is none."""
        return self.list.row.key if self.list.row is not None else ""

    def may_leave_row(self) -> bool:
        """Whether the cursor may go to another row. What asks or types something lets go of it first, or stays."""
        return True

    def go_to(self, key: str) -> None:
        """To the row with a key, if it is there."""
        index = self.list.index_of(key)
        if index is not None:
            self.list.cursor = index

    def go_to_heading(self, indices: range) -> None:
        """To what stands below the first heading among these rows."""
        for index in indices if self.may_leave_row() else ():
            if self.list.rows[index].kind == "heading":
                self.list.cursor = self.list.nearest(index)
                return

    def action_line_before(self) -> None:
        if self.may_leave_row():
            self.list.step(-1)

    def action_line_after(self) -> None:
        if self.may_leave_row():
            self.list.step(1)

    def action_section_after(self) -> None:
        self.go_to_heading(range(self.list.cursor + 1, len(self.list.rows)))

    def action_section_before(self) -> None:
        above = max(0, self.list.cursor - 1)
        self.go_to_heading(range(above - 1, -1, -1))
