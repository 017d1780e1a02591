"""The rule in hand in words: when it applies, what it does, why, and from where."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.content import Content

from tui.widgets.band import Band

ROWS = ((30, 10), (22, 6), (0, 3))
"""From which height of the window on there are how many rows."""


class RuleCard(Band):
    """A title and what there is to say, each on its own lines; what does not fit is left for the whole page."""

    DEFAULT_CSS = "RuleCard { padding: 0 1; background: $hand; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.title = ""
        self.said: tuple[tuple[str, str], ...] = ()

    def tell(self, title: str, said: Sequence[tuple[str, str]]) -> None:
        """``said`` is what each thing is called, and the thing."""
        self.title, self.said = title, tuple(said)
        self.lay_out()

    def lay_out(self) -> None:
        """Always as high as it may be, so that the list does not move."""
        most = next(rows for height, rows in ROWS if self.app.size.height >= height)
        width = max(20, self.app.size.width - 2)
        rows = [Content.assemble((self.title, "bold"))]
        for name, text in self.said:
            rows += Content.assemble((f"{name}: ", "$quiet"), text).wrap(width)
        rows += [Content("")] * (most - len(rows))
        self.show(*rows[:most])

    def on_resize(self, event: events.Resize) -> None:
        self.lay_out()
