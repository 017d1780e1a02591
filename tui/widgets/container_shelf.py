"""The shelf: every container with what is open in it, the one in hand marked and always in sight."""

from __future__ import annotations

from typing import NamedTuple

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from tui.tally import Counts

SAID_CELLS = 5
"""What stands behind a name has this width whatever it says, so that nothing moves when a number becomes "ready"."""
MORE_CELLS = 5
"""At the end of each row, for how many there are above and below what shows."""
ROWS = ((30, 4), (22, 2), (0, 1))
"""From which height of the window on there are how many rows."""


class Standing(NamedTuple):
    """One container, shelf or class on the shelf. ``away``: it does not stand at the store."""

    key: str
    name: str
    counts: Counts
    away: str
    in_hand: bool
    is_label: bool = False
    """It only says when what comes behind it leaves the store."""
    begins_row: bool = False

    @property
    def label(self) -> str:
        return f"{self.name} @{self.away}" if self.away else self.name

    @property
    def said(self) -> str:
        """ "12 5!" is twelve open, five of them critical."""
        counts = self.counts
        if self.is_label:
            return ""
        if not counts.open:
            return "later" if counts.later else "short" if counts.short else "ready"
        if not counts.critical:
            return str(counts.open)
        both = f"{counts.open} {counts.critical}!"
        return both if len(both) <= SAID_CELLS else f"{counts.critical}!"

    def drawn(self, cells: int) -> Content:
        """Between two posts when it is in hand, the label in so many cells."""
        if self.is_label:
            return Content.assemble((f" {self.label} ", "$quiet"))
        left, right = ("▐", "▌") if self.in_hand else (" ", " ")
        style = "bold $alarm" if self.counts.critical else "" if self.counts.open else "$ready"
        label = self.label + " " * (cells - cell_len(self.label) + 1)
        drawn = Content.assemble(left, label, (f"{self.said:<{SAID_CELLS}}", style), right)
        return drawn.stylize("bold on $hand") if self.in_hand else drawn


class ContainerShelf(Widget):
    """Containers beside each other on a few rows that follow the one in hand. Says which one was clicked.

    What leaves the store later begins a row of its own, with when that is.
    """

    DEFAULT_CSS = "ContainerShelf { height: auto; width: 1fr; background: $board; color: $ink; }"

    class Chosen(Message):
        """A container was clicked."""

        def __init__(self, key: str) -> None:
            self.key = key
            super().__init__()

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False)
        self.standing: tuple[Standing, ...] = ()
        self.cells: dict[str, int] = {}
        """Width of each label: never less than it was, so that nothing moves when a container is fetched."""

    def show(self, standing: tuple[Standing, ...]) -> None:
        if standing == self.standing:
            return
        width = self.content_size.width
        before = len(self.laid_out(width))
        if not {each.key for each in standing} & set(self.cells):
            self.cells = {}
        for each in standing:
            self.cells[each.key] = max(self.cells.get(each.key, 0), cell_len(each.label))
        self.standing = standing
        self.refresh(layout=len(self.laid_out(width)) != before)

    def length_of(self, each: Standing) -> int:
        if each.is_label:
            return cell_len(each.label) + 2
        return self.cells[each.key] + SAID_CELLS + 3

    def laid_out(self, width: int) -> list[list[Standing]]:
        """What stands on which row."""
        rows: list[list[Standing]] = [[]]
        used = 0
        for each in self.standing:
            if rows[-1] and (each.begins_row or used + self.length_of(each) > width - MORE_CELLS):
                rows.append([])
                used = 0
            rows[-1].append(each)
            used += self.length_of(each)
        return rows

    @property
    def most(self) -> int:
        return next(rows for height, rows in ROWS if self.app.size.height >= height)

    def first_shown(self, rows: list[list[Standing]]) -> int:
        """The first row that shows: the one in hand stands on a row in sight."""
        in_hand = next((index for index, row in enumerate(rows) if any(each.in_hand for each in row)), 0)
        return max(0, min(in_hand - self.most // 2, len(rows) - self.most))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return min(self.most, len(self.laid_out(width)))

    def render(self) -> Content:
        width = self.content_size.width
        rows = self.laid_out(width)
        first = self.first_shown(rows)
        shown = rows[first : first + self.most]
        drawn = [Content("").join([each.drawn(self.cells[each.key]) for each in row]) for row in shown]
        above = sum(len(row) for row in rows[:first])
        below = sum(len(row) for row in rows[first + self.most :])
        if len(drawn) == 1:
            ends = [f"{f'‹{above}' if above else ''}{f'›{below}' if below else ''}"]
        else:
            ends = [f"▴ {above}" if above else "", *[""] * (len(drawn) - 2), f"▾ {below}" if below else ""]
        return Content("\n").join(
            [row.truncate(width - MORE_CELLS, pad=True) + end for row, end in zip(drawn, ends, strict=True)]
        )

    def on_click(self, event: events.Click) -> None:
        rows = self.laid_out(self.content_size.width)
        index = event.y + self.first_shown(rows)
        if index >= len(rows):
            return
        edge = 0
        for each in rows[index]:
            edge += self.length_of(each)
            if event.x < edge:
                self.post_message(self.Chosen(each.key))
                return
