"""Why a line is on the list, in words."""

from __future__ import annotations

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static


class WhyPanel(VerticalScroll, can_focus=False):
    """The reasons of the line in hand, each a paragraph."""

    DEFAULT_CSS = """
    WhyPanel { height: 1fr; padding: 0 1; background: $sheet; color: $ink; scrollbar-size-vertical: 1; }
    WhyPanel Static { height: auto; }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's own name
        super().__init__(id=id)
        self._text = Static("", markup=False)

    def compose(self):  # type: ignore[no-untyped-def]
        yield self._text

    def show(self, title: str, paragraphs: tuple[str, ...]) -> None:
        parts = [Content.assemble((title, "bold")), *[Content(paragraph) for paragraph in paragraphs]]
        self._text.update(Content("\n\n").join(parts))
