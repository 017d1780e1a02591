"""One thing to type: a number or a few words, held against what can be at every key."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from checklists.plan.class_notes import CannotNote
from checklists.words import clean
from tui.keys import TYPING, bindings_of
from tui.screens.day_screen import DayScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

LONGEST_TYPED = 80


class TypingScreen(DayScreen):
    """What is asked, what is typed, and in words why it cannot be. ``check`` raises CannotNote; ``take`` gets it."""

    DEFAULT_CSS = """
    TypingScreen { background: $sheet; color: $ink; }
    TypingScreen #typed { height: 1fr; padding: 1; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(TYPING)]
    KEYS = TYPING
    TITLE_OF_KEYS = "Typing"

    def __init__(
        self, on: date, asked: str, hint: str, check: Callable[[str], object], take: Callable[[str], None]
    ) -> None:
        super().__init__(on)
        self.asked = asked
        self.hint = hint
        self.check = check
        self.take = take
        self.typed = ""

    def compose(self) -> ComposeResult:
        yield Question()
        yield Static(id="typed", markup=False)
        yield MessageLine()
        yield KeyBar(TYPING)

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    def reread(self) -> None:
        width = max(10, self.size.width - 2)
        asked = Content.assemble((self.asked, "bold")).wrap(width)
        self.query_one(Question).show(*asked, *Content(self.hint).wrap(width))
        self.query_one("#typed", Static).update(Content.assemble((f"{self.typed}_", "bold $ask")))
        problem = self.why_not() if self.typed else ""
        self.say(problem, alarm=bool(problem))

    def why_not(self) -> str:
        """Why what is typed cannot be; empty where it can."""
        try:
            self.check(self.typed.strip())
        except CannotNote as problem:
            return str(problem)
        return ""

    def on_key(self, event: events.Key) -> None:
        """Every sign is only a sign."""
        if event.is_printable and event.character is not None:
            event.stop()
            self.typed = clean(self.typed + event.character)[:LONGEST_TYPED].lstrip()
            self.reread()

    def action_digit(self, digit: str) -> None:
        """Digits come by ``on_key``."""

    def action_erase(self) -> None:
        if self.typed:
            self.typed = self.typed[:-1]
            self.reread()
        else:
            self.action_back()

    def action_accept(self) -> None:
        problem = self.why_not()
        if problem:
            self.say(problem if self.typed else f"Nothing is typed yet. {self.hint}", alarm=True)
            return
        self.dismiss()
        self.take(self.typed.strip())
