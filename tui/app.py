"""The application: opens on the day's list, keeps everything saved, leaves the terminal as it found it."""

from __future__ import annotations

import gc
import logging
import os
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any

from rich.text import Text
from textual.app import App
from textual.timer import Timer

from checklists.book import Book, NotSaved
from tui.ending import on_leaving_signals
from tui.notices import is_without_day
from tui.recorder import Recorder
from tui.screens.morning import MorningScreen
from tui.themes import THEMES

FOLD_AFTER = 0.3
"""Seconds after the last key until the day's file is written; each step is in its journal before that."""


class TrundleApp(App[None]):
    """One book on screen. ``now`` is the only clock."""

    ENABLE_COMMAND_PALETTE = False
    TITLE = "Trundle"

    def __init__(self, book: Book, now: Callable[[], datetime], *, on: date | None = None) -> None:
        super().__init__()
        self.recorder = Recorder(book)
        self.now = now
        listed = book.list_date(now().date())  # also tells the book what is still to come
        self.opening_date: date = on or self.unsaid_today(book, now().date()) or listed
        self.opened_on = now().date()
        self.has_shown_open = False
        self._folding: Timer | None = None
        self.wants_own_school = False
        """Whether what is left is the demo school, for setting up her own."""
        self.greeting = ""
        """What the list says when it opens."""
        dress(self)

    @staticmethod
    def unsaid_today(book: Book, today: date) -> date | None:
        """Today, where nobody has said yet who comes: its list asks for that."""
        if not is_without_day(book, today):
            return None
        from checklists.first_start.later_days import first_unsaid

        return first_unsaid(book, (today,))

    def get_default_screen(self) -> MorningScreen:
        return MorningScreen(self.opening_date)

    def on_mount(self) -> None:
        on_leaving_signals(self.leave, self.save_and_give_back)
        self.app_resume_signal.subscribe(self, lambda _: self.refresh(layout=True))
        self.call_after_refresh(self.settle_memory)

    @staticmethod
    def settle_memory() -> None:
        """Collect once after the first paint, and never look at the long-lived records again."""
        gc.enable()
        gc.collect()
        gc.freeze()

    def day_that_came(self) -> date | None:
        """The day whose list is due since midnight has passed with the window open; None while it is the one shown."""
        today = self.now().date()
        if today == self.opened_on:
            return None
        due = self.recorder.book.list_date(today)
        if due == self.opening_date:
            self.opened_on = today
            return None
        return due

    def turn_to(self, due: date) -> None:
        """From now on ``due`` is the day she is at."""
        self.opening_date, self.opened_on = due, self.now().date()

    def change_theme(self) -> None:
        """The other of the two looks."""
        names = [theme.name for theme in THEMES]
        self.theme = names[(names.index(self.theme) + 1) % len(names)]

    # --------------------------------------------------------------------------------------------- saving, leaving

    def fold_soon(self) -> None:
        """Write the day's file a moment after the last key."""
        if self._folding is not None:
            self._folding.stop()
        self._folding = self.set_timer(FOLD_AFTER, self.fold_now)

    def fold_now(self) -> None:
        if self._folding is not None:
            self._folding.stop()
            self._folding = None
        try:
            self.recorder.book.fold()
        except NotSaved as problem:  # each step is safe in the journal; the next fold tries again
            logging.getLogger("trundle").warning("day file not written: %s", problem)

    def save_and_give_back(self) -> None:
        """Everything to disk, and the folder free for another window."""
        self.recorder.save_again()
        self.fold_now()
        self.recorder.book.release()

    def leave(self, return_code: int = 0) -> None:
        """Everything to disk, then out."""
        self.recorder.save_again()
        self.fold_now()
        self.exit(return_code=return_code)

    async def action_quit(self) -> None:
        self.leave()

    def _fatal_error(self) -> None:
        """An error nobody foresaw: one plain line on the terminal, the rest into the log, nothing of hers on screen."""
        path = write_log()
        try:
            self.recorder.save_again()
            self.recorder.book.fold()
        except Exception:  # what was saved stays saved; there is nothing more to be done here
            logging.getLogger("trundle").exception("while leaving")
        self.panic(
            Text(f"Trundle had to stop because of an error of its own. What was ticked is saved. Details: {path}")
        )


def dress(app: App[Any]) -> None:
    """Give an application the two looks, and the one that was asked for."""
    for theme in THEMES:
        app.register_theme(theme)
    names = [theme.name for theme in THEMES]
    wanted = os.environ.get("TEXTUAL_THEME", "")
    app.theme = wanted if wanted in names else names[0]


def write_log() -> Path:
    """Write the error at hand, without values of variables, into the log folder; where that is."""
    import traceback

    from platformdirs import user_log_path

    folder = user_log_path("trundle", appauthor=False, ensure_exists=True)
    path = folder / "errors.txt"
    with path.open("a", encoding="utf-8") as log:
        log.write(f"{datetime.now():%Y-%m-%d %H:%M:%S}\n{traceback.format_exc()}\n")
    return path
