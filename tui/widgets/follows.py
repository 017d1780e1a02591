"""What follows from something she just said, in a few lines below the list."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.content import Content

from tui.widgets.band import Band

MOST_ROWS = 6
LEAST_FOR_THE_LIST = 12
"""Rows of the window that are kept for the list and the other bars."""


class Follows(Band):
    """A title and sentences, each wrapped; what does not fit is counted. Without a title: no row at all."""

    DEFAULT_CSS = "Follows { padding: 0 1; background: $hand; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self.title = ""
        self.sentences: tuple[str, ...] = ()

    def tell(self, title: str, sentences: Sequence[str]) -> None:
        self.title, self.sentences = title, tuple(sentences)
        self.lay_out()

    def lay_out(self) -> None:
        if not self.title:
            self.show()
            return
        width = max(20, self.app.size.width - 2)
        most = max(2, min(MOST_ROWS, self.app.size.height - LEAST_FOR_THE_LIST))
        rows: list[Content] = []
        shown = 0
        for sentence in self.sentences:
            wrapped = Content(f"- {sentence}").wrap(width)
            is_last = shown == len(self.sentences) - 1
            if shown and len(rows) + len(wrapped) > most - 1 - (not is_last):
                break
            rows += wrapped
            shown += 1
        left = len(self.sentences) - shown
        more = [Content(f"and {left} more: the list has them all")] if left else []
        self.show(Content.assemble((self.title, "bold")), *rows, *more)

    def on_resize(self, event: events.Resize) -> None:
        self.lay_out()
