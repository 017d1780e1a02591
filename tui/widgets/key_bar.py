"""The last line: as many of the most used keys as fit."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from tui.keys import Key

ALWAYS = ("undo", "back", "help")
"""Actions whose keys show however narrow the window is."""


MORE = "all keys"
"""Of the help's key where not every key fits: the others are behind it."""


def _drawn(key: Key, label: str) -> Content:
    return Content.assemble((key.shown, "bold"), f" {label}")


class KeyBar(Widget):
    """Keys with their labels, cut between two keys, never within one. Choices that need a second row take its place."""

    DEFAULT_CSS = "KeyBar { height: 1; width: 1fr; background: $board; color: $ink; }"

    def __init__(self, keys: tuple[Key, ...], *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id, markup=False)
        self.keys = tuple(key for key in keys if key.label)
        self.cover: Content | None = None

    def show_instead(self, cover: Content | None) -> None:
        """Show this in place of the keys, or the keys again."""
        if (self.cover, cover) != (None, None):
            self.cover = cover
            self.refresh()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 1

    def render(self) -> Content:
        width = self.content_size.width
        if self.cover is not None:
            return self.cover.truncate(width, ellipsis=True)
        drawn = {key: _drawn(key, key.label) for key in self.keys}
        left_out = [key for key in reversed(self.keys) if key.action not in ALWAYS]
        keys = list(self.keys)
        while left_out and Content("  ").join([drawn[key] for key in keys]).cell_length > width:
            keys.remove(left_out.pop(0))
            drawn |= {key: _drawn(key, MORE) for key in keys if key.action == "help" and key.label == "keys"}
        return Content("  ").join([drawn[key] for key in keys])
