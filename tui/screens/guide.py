"""What do I do on the first morning?"""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from checklists.guide.first_morning import TITLE, Piece, Step, first_morning
from tui.keys import GUIDE, bindings_of
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar

WIDEST = 90
"""Cells of a row of text beyond which it reads badly."""
INDENT = 4


class GuideScreen(Screen[None]):
    """The guide, as many steps on a page as the window has room for. Needs no plan."""

    DEFAULT_CSS = """
    GuideScreen { background: $sheet; color: $ink; }
    GuideScreen Band { padding: 0 1; }
    GuideScreen Static { height: 1fr; padding: 1 1 0 1; background: $sheet; color: $ink; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(GUIDE)]

    def __init__(self) -> None:
        super().__init__()
        self.steps = first_morning()
        self.first = 0
        """The step on top of the page."""

    def compose(self) -> ComposeResult:
        yield Band()
        yield Static(markup=False)
        yield KeyBar(GUIDE)

    def on_mount(self) -> None:
        self.lay_out()

    def on_resize(self) -> None:
        self.lay_out()

    @property
    def pages(self) -> list[list[int]]:
        """Which steps stand together on a page of this window."""
        room = max(1, self.size.height - 3)
        pages: list[list[int]] = []
        used = room
        for index in range(len(self.steps)):
            rows = len(self.rows_of(index)) + 1
            if not pages or used + rows - 1 > room:
                pages.append([])
                used = 0
            pages[-1].append(index)
            used += rows
        return pages

    def rows_of(self, index: int) -> list[Content]:
        """A step as its rows: the numbered title, the text below it."""
        step: Step = self.steps[index]
        width = max(20, min(WIDEST, self.size.width - 2) - INDENT)
        title = Content.assemble((f"{index + 1:>2}  ", "bold"), *((each.text, "bold") for each in step.title))
        margin = " " * INDENT
        return [title, *(Content.assemble(margin, row) for row in _text(step.text).wrap(width))]

    def lay_out(self) -> None:
        """The page that the step on top is on."""
        pages = self.pages
        at = self.page_in_hand
        shown = [row for index in pages[at] for row in (*self.rows_of(index), Content(""))]
        self.query_one(Static).update(Content("\n").join(shown[:-1]))
        of = Content(f"page {at + 1} of {len(pages)}")
        self.query_one(Band).show((Content.assemble((TITLE, "bold")), of))

    @property
    def page_in_hand(self) -> int:
        return next(n for n, page in enumerate(self.pages) if self.first in page)

    def action_page_after(self) -> None:
        """The next page; behind the last one, back to where she came from."""
        pages, at = self.pages, self.page_in_hand
        if at + 1 == len(pages):
            self.dismiss()
            return
        self.first = pages[at + 1][0]
        self.lay_out()

    def action_page_before(self) -> None:
        self.first = self.pages[max(0, self.page_in_hand - 1)][0]
        self.lay_out()

    def action_back(self) -> None:
        self.dismiss()

    def action_digit(self, digit: str) -> None:
        """Digits choose nothing here."""


def _text(pieces: tuple[Piece, ...]) -> Content:
    return Content.assemble(*((each.text, "bold") if each.stands_out else each.text for each in pieces))
