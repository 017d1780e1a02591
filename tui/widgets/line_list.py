"""The list of lines. It draws the rows it is given and says where the cursor went; it decides nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from rich.cells import set_cell_size
from rich.segment import Segment
from textual import events
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from tui.columns import Columns, columns_of, row_text
from tui.rows import Row

CONTEXT = 3
"""Rows that stay in sight above and below the one in hand, where there is room."""


class LineList(ScrollView, can_focus=True, inherit_bindings=False):
    """Rows with one cursor. Drawn line by line from a cache, so a step repaints two rows whatever the length."""

    DEFAULT_CSS = """
    LineList { height: 1fr; background: $sheet; color: $ink; overflow-x: hidden; scrollbar-size-vertical: 1;
        scrollbar-color: $quiet; scrollbar-background: $sheet; scrollbar-corner-color: $sheet; }
    LineList > .line-list--critical { color: $alarm; text-style: bold; }
    LineList > .line-list--quiet { color: $quiet; }
    LineList > .line-list--heading { color: $quiet; text-style: italic; }
    LineList > .line-list--unsaved { color: $alarm; text-style: reverse; }
    LineList > .line-list--hand { background: $hand; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "line-list--critical",
        "line-list--quiet",
        "line-list--heading",
        "line-list--unsaved",
        "line-list--hand",
    }

    cursor: reactive[int] = reactive(0, repaint=False)
    """Index of the row in hand."""

    class Moved(Message):
        """The cursor stands on another row."""

        def __init__(self, row: Row) -> None:
            self.row = row
            super().__init__()

    class Pointed(Message):
        """A row was clicked; ``again`` when the cursor stood on it already."""

        def __init__(self, row: Row, again: bool) -> None:
            self.row = row
            self.again = again
            super().__init__()

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.rows: list[Row] = []
        self.columns = Columns()
        self._drawn: dict[tuple[Row, bool, bool, int], Strip] = {}

    @property
    def row(self) -> Row | None:
        return self.rows[self.cursor] if self.cursor < len(self.rows) else None

    def show(self, rows: Sequence[Row], cursor: int = 0, *, key: str = "") -> None:
        """Show other rows, the cursor on the one with ``key``, else on the nearest to ``cursor`` to be stood on."""
        self.rows = list(rows)
        found = self.index_of(key) if key else None
        cursor = cursor if found is None else found
        self.columns = columns_of(self.rows)
        self._drawn.clear()
        self.virtual_size = Size(self.scrollable_content_region.width, len(self.rows))
        self.set_reactive(LineList.cursor, self.nearest(cursor))
        self.refresh()
        self.call_after_refresh(self.keep_in_sight)
        if self.row is not None:
            self.post_message(self.Moved(self.row))

    def change(self, index: int, row: Row) -> None:
        """Show one row differently."""
        if self.rows[index] == row:
            return
        self.rows[index] = row
        columns = self.columns.widened_by(row)
        if columns == self.columns:
            self.refresh_line(index - round(self.scroll_y))
        else:
            self.columns = columns
            self._drawn.clear()
            self.refresh()

    def nearest(self, index: int, direction: int = 1) -> int:
        """The nearest row to ``index`` that can be stood on: first onwards, then back."""
        for indices in (range(index, len(self.rows)), range(min(index, len(self.rows)) - 1, -1, -1))[::direction]:
            for candidate in indices:
                if 0 <= candidate < len(self.rows) and self.rows[candidate].kind not in ("heading", "text"):
                    return candidate
        return 0

    def step(self, by: int) -> None:
        """Move the cursor to the next row that can be stood on; at either end it stays."""
        index = self.cursor + by
        while 0 <= index < len(self.rows) and self.rows[index].kind in ("heading", "text"):
            index += by
        if 0 <= index < len(self.rows):
            self.cursor = index

    def index_of(self, key: str) -> int | None:
        return next((index for index, row in enumerate(self.rows) if row.key == key), None)

    def watch_cursor(self, old: int, new: int) -> None:
        offset = round(self.scroll_y)
        self.refresh_line(old - offset)
        self.refresh_line(new - offset)
        self.keep_in_sight()
        if self.row is not None:
            self.post_message(self.Moved(self.row))

    def keep_in_sight(self) -> None:
        """Scroll so that the row in hand shows, and a few rows around it."""
        around = max(0, min(CONTEXT, (self.scrollable_content_region.height - 1) // 2))
        top, end = max(0, self.cursor - around), min(len(self.rows), self.cursor + around + 1)
        self.scroll_to_region(Region(0, top, 1, max(1, end - top)), animate=False, immediate=True, force=True)

    def refresh_line(self, y: int) -> None:
        self.refresh(Region(0, y, self.size.width, 1))

    def on_resize(self, event: events.Resize) -> None:
        self._drawn.clear()
        self.virtual_size = Size(self.scrollable_content_region.width, len(self.rows))
        self.call_after_refresh(self.keep_in_sight)

    def notify_style_update(self) -> None:
        super().notify_style_update()
        self._drawn.clear()

    def on_click(self, event: events.Click) -> None:
        index = event.style.meta.get("row")
        if isinstance(index, int) and index < len(self.rows) and self.rows[index].kind != "heading":
            again = index == self.cursor
            self.cursor = index
            self.post_message(self.Pointed(self.rows[index], again))

    def render_line(self, y: int) -> Strip:
        index, width = y + round(self.scroll_y), self.scrollable_content_region.width
        if index >= len(self.rows):
            return Strip.blank(width, self.rich_style)
        row, in_hand, is_first = self.rows[index], index == self.cursor, index == 0
        key = (row, in_hand, is_first, width)
        if key not in self._drawn:
            self._drawn[key] = self.draw(row, in_hand=in_hand, is_first=is_first, width=width)
        return self._drawn[key].apply_meta({"row": index})

    def draw(self, row: Row, *, in_hand: bool, is_first: bool, width: int) -> Strip:
        """One row as a strip of exactly ``width`` cells."""
        style = self.rich_style
        if row.tone != "plain":
            style = self.get_component_rich_style(f"line-list--{row.tone}")
        if in_hand:
            style = style + self.get_component_rich_style("line-list--hand", partial=True)
        with_columns = is_first and row.amount != ""
        text = row_text(row, self.columns, in_hand=in_hand, with_columns=with_columns, width=width)
        return Strip([Segment(set_cell_size(text, width), style)], width)
