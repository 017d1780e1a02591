"""What all screens of one day share: saving a step, taking it back, help, quitting."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, ClassVar, cast

from textual.screen import Screen

from checklists.book import Book, NotSaved
from checklists.words import clean
from tui.keys import Key
from tui.widgets.message_line import MessageLine

if TYPE_CHECKING:
    from checklists.daybook.entries import AnyEntry
    from tui.app import TrundleApp


class DayScreen(Screen[None]):
    """A screen over one date. ``reread`` shows what the book says now."""

    KEYS: ClassVar[tuple[Key, ...]] = ()
    TITLE_OF_KEYS: ClassVar[str] = ""
    SIGNS: ClassVar[tuple[tuple[str, str], ...]] = ()
    """Signs that stand on this screen, with what they mean."""
    WORDS: ClassVar[tuple[tuple[str, str], ...]] = ()
    """Words that do."""

    def __init__(self, on: date) -> None:
        super().__init__()
        self.date = on

    @property
    def trundle(self) -> TrundleApp:
        return cast("TrundleApp", self.app)

    @property
    def book(self) -> Book:
        return self.trundle.recorder.book

    def reread(self) -> None:
        raise NotImplementedError

    def say(self, text: str, *, alarm: bool = False) -> None:
        self.query_one(MessageLine).say(clean(text), alarm=alarm)

    def record(self, *entries: AnyEntry, on: date | None = None) -> str:
        """Save one step; "" or, in words, why it is not on disk yet. The day's file follows after the last key."""
        problem = self.trundle.recorder.do(on or self.date, *entries)
        self.trundle.fold_soon()
        return problem

    def take_back(self) -> str:
        """Take back the newest step and say which it was; "" where nothing was taken back."""
        try:
            said = self.trundle.recorder.undo(self.date)
        except NotSaved as problem:
            self.say(f"Nothing taken back: {problem}", alarm=True)
            return ""
        if said is None:
            self.say("Nothing left to take back.")
            return ""
        self.trundle.fold_soon()
        self.reread()
        self.say(f"Taken back: {said}.")
        return said

    def action_save_again(self) -> None:
        if not self.trundle.recorder.waiting:
            return
        problem = self.trundle.recorder.save_again()
        self.reread()
        self.say(problem or "Everything is saved now.", alarm=bool(problem))

    def action_colours(self) -> None:
        self.trundle.change_theme()

    def action_help(self) -> None:
        from tui.screens.help import HelpScreen

        self.app.push_screen(HelpScreen(self.TITLE_OF_KEYS, self.KEYS, self.SIGNS, self.WORDS))

    def action_back(self) -> None:
        self.trundle.fold_now()
        self.dismiss()

    def action_quit(self) -> None:
        self.trundle.leave()

    def on_screen_resume(self) -> None:
        self.reread()
