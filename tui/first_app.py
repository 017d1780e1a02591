"""The application before there is any plan: where to begin, and setting up a school of her own."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from rich.text import Text
from textual.app import App
from textual.screen import Screen

from checklists.files.safely import NotSaved
from checklists.files.set_up_file import FolderHolds, set_up_afresh, what_is_in
from tui.app import dress, write_log
from tui.ending import on_leaving_signals
from tui.screens.set_up import LEFT, SetUpScreen, StartScreen

if TYPE_CHECKING:
    from checklists.commandline import Request

Chosen = Literal["demo", "list", "put back", "quit"]
GREETING = "Your first list. Tab: the guide, the cart sheet to print. h: keys."
GREETING_OF_WHAT_WAS_PUT_BACK = "Put back. An icon to start it: Tab, Set up and change."


class FirstApp(App[Chosen]):
    """Asks until there is a plan. ``straight``: the questions at once, without asking where to begin."""

    ENABLE_COMMAND_PALETTE = False
    TITLE = "Trundle"

    def __init__(self, folder: Path, now: datetime, holds: FolderHolds, *, straight: bool = False) -> None:
        super().__init__()
        self.folder, self.now, self.holds, self.straight = folder, now, holds, straight
        self.has_answered = holds == "half a set-up"
        dress(self)

    def on_mount(self) -> None:
        on_leaving_signals(self.leave, lambda: None)  # each answer is on disk already
        if self.straight:
            self.ask()
        else:
            self.offer()

    def offer(self) -> None:
        """Where to begin."""
        self.switch_to(StartScreen(self.folder, self.holds, self.begin))

    def ask(self) -> None:
        """The questions, from the first that has no answer on."""
        self.switch_to(SetUpScreen(self.folder, self.now, stop=self.stop_asking, done=lambda: self.exit("list")))

    def look_for_backups(self) -> None:
        """The backups there are, to put one back into this folder."""
        from tui.screens.first_backup import FirstBackupScreen

        self.switch_to(
            FirstBackupScreen(self.folder, self.now, stop=self.stop_asking, done=lambda: self.exit("put back"))
        )

    def switch_to(self, screen: Screen[None]) -> None:
        if len(self.screen_stack) > 1:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def stop_asking(self) -> None:
        """Back to where to begin; what is answered is kept."""
        self.holds = what_is_in(self.folder)
        self.offer()

    def begin(self, chosen: str) -> None:
        """What was chosen to begin with."""
        if chosen in ("demo", "quit"):
            self.exit("demo" if chosen == "demo" else "quit")
            return
        if chosen == "backup":
            self.look_for_backups()
            return
        if chosen == "afresh":
            try:
                set_up_afresh(self.folder)
            except NotSaved as problem:
                self.screen.alarm = str(problem)  # type: ignore[attr-defined]
                return
        self.ask()

    def leave(self, return_code: int = 0) -> None:
        self.exit("quit", return_code=return_code)

    async def action_quit(self) -> None:
        self.leave()

    def _fatal_error(self) -> None:
        """An error nobody foresaw: one plain line on the terminal, the rest into the log."""
        path = write_log()
        self.panic(Text(f"Trundle had to stop because of an error of its own. {LEFT} Details: {path}"))


def begin_in(folder: Path, request: Request, *, straight: bool = False) -> tuple[Chosen, int]:
    """Ask where to begin in a folder without a plan; what was chosen, and the exit status."""
    app = FirstApp(folder, request.now, what_is_in(folder), straight=straight)
    chosen = app.run() or "quit"
    if chosen == "quit" and what_is_in(folder) == "half a set-up":
        sys.stderr.write(f"{LEFT}\n")
    return chosen, app.return_code or 0
