"""A page of text to read: opened over a screen, closed by any of the keys that go back."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from tui.widgets.band import Band


class Page(Screen[bool]):
    """Shows ``paragraphs`` under a title. The text is data, never markup."""

    DEFAULT_CSS = """
    Page { background: $sheet; color: $ink; }
    Page .title { padding: 0 1; text-style: bold; }
    Page .end { padding: 0 1; }
    Page VerticalScroll { height: 1fr; padding: 1 2; background: $sheet; scrollbar-size-vertical: 1; }
    Page Static { height: auto; color: $ink; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        *[Binding(key, "back", show=False) for key in ("escape", "b", "h", "w", "i", "enter", "space")],
        *[Binding(key, "scroll(1)", show=False) for key in ("down", "f", "right", "c")],
        *[Binding(key, "scroll(-1)", show=False) for key in ("up", "r", "left")],
    ]

    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = ()
    """Keys of this page besides those to scroll and to go back."""

    def __init__(self, title: str, paragraphs: tuple[Content, ...]) -> None:
        super().__init__()
        self.page_title = title
        self.paragraphs = paragraphs
        self.more_keys = self.MORE_KEYS

    def compose(self) -> ComposeResult:
        title = Band()
        title.add_class("title")
        title.show(Content(self.page_title))
        yield title
        with VerticalScroll():
            yield Static(Content("\n").join(self.paragraphs), markup=False)
        end = Band()
        end.add_class("end")
        more = [Content.assemble((key, "bold"), f" {label}   ") for key, label in self.more_keys]
        back = Content.assemble(("b", "bold"), " back   ")
        scroll = Content.assemble(("f", "bold"), " and ", ("r", "bold"), " scroll")
        end.show(Content("").join([back, *more, scroll]))
        yield end

    def action_back(self) -> None:
        self.dismiss(False)

    def action_scroll(self, lines: int) -> None:
        self.query_one(VerticalScroll).scroll_relative(y=3 * lines, animate=False)
