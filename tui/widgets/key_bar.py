"""The last line: as many of the most used keys as fit."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.keys import Key


class KeyBar(Widget):
    """Keys with their labels, cut between two keys, never within one; the key of the help page always shows."""

    DEFAULT_CSS = "KeyBar { height: 1; width: 1fr; background: $board; color: $ink; }"

    def __init__(self, keys: tuple[Key, ...], *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False)
        self.keys = tuple(key for key in keys if key.label)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 1

    def render(self) -> Content:
        parts = [Content.assemble((key.shown, "bold"), f" {key.label}") for key in self.keys]
        between, width = Content("  "), self.content_size.width
        last = next((part for key, part in zip(self.keys, parts, strict=True) if key.action == "help"), Content(""))
        fitting = [part for part in parts if part is not last]
        while fitting and between.join([*fitting, last]).cell_length > width:
            fitting.pop()
        return between.join([*fitting, last])
