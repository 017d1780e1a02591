"""The shelf: every container with what is open in it, the one in hand marked."""

from __future__ import annotations

from typing import NamedTuple

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget


class Standing(NamedTuple):
    """One container, shelf or class on the shelf. ``away``: it does not stand at the store."""

    key: str
    name: str
    open: int
    critical: int
    away: str
    in_hand: bool

    @property
    def label(self) -> str:
        return f"{self.name} @{self.away} " if self.away else f"{self.name} "

    @property
    def said(self) -> str:
        return f"{self.open}{'!' if self.critical else ''}" if self.open else "ready"

    def drawn(self) -> Content:
        """Between two posts when it is in hand."""
        left, right = ("▐", "▌") if self.in_hand else (" ", " ")
        style = "bold $alarm" if self.critical else "" if self.open else "$ready"
        drawn = Content.assemble(left, self.label, (self.said, style), right)
        return drawn.stylize("bold on $hand") if self.in_hand else drawn


class ContainerShelf(Widget):
    """Containers beside each other on as many rows as they need. Says which one was clicked."""

    DEFAULT_CSS = "ContainerShelf { height: auto; max-height: 4; width: 1fr; background: $board; color: $ink; }"

    class Chosen(Message):
        """A container was clicked."""

        def __init__(self, key: str) -> None:
            self.key = key
            super().__init__()

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False)
        self.standing: tuple[Standing, ...] = ()

    def show(self, standing: tuple[Standing, ...]) -> None:
        if standing != self.standing:
            width = self.content_size.width
            before = len(self.laid_out(width))
            self.standing = standing
            self.refresh(layout=len(self.laid_out(width)) != before)

    def laid_out(self, width: int) -> list[list[Standing]]:
        """What stands on which row."""
        rows: list[list[Standing]] = [[]]
        used = 0
        for each in self.standing:
            length = each.drawn().cell_length
            if rows[-1] and used + length > width:
                rows.append([])
                used = 0
            rows[-1].append(each)
            used += length
        return rows

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.laid_out(width))

    def render(self) -> Content:
        rows = self.laid_out(self.content_size.width)
        return Content("\n").join([Content("").join([each.drawn() for each in row]) for row in rows])

    def on_click(self, event: events.Click) -> None:
        rows = self.laid_out(self.content_size.width)
        if event.y >= len(rows):
            return
        edge = 0
        for each in rows[event.y]:
            edge += each.drawn().cell_length
            if event.x < edge:
                self.post_message(self.Chosen(each.key))
                return
