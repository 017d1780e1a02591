"""The first start on screen: where to begin, the questions one after the other, and the first list at their end."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from checklists.files.safely import NotSaved
from checklists.files.set_up_file import FolderHolds, read_set_up
from checklists.first_start.going import AllSaid, ask_all, with_other_days
from checklists.first_start.making import made_from
from checklists.first_start.question import Asking, Option, Question, option_typed
from checklists.first_start.starting import start_with
from checklists.words import join_words, plural, say_date
from tui.keys import SET_UP_MENU
from tui.screens.asking import AskingScreen
from tui.screens.kept_answers import KeptAnswersScreen, to_the_list

DEMO = Option("demo", "Look at the demo school, in the middle of its year")
OWN = Option("own", "Set up my own school: Enter takes a usual answer, 15 minutes")
HERE = Option("own", "Set up my own school in this folder all the same")
GO_ON = Option("own", "Go on setting up my own school")
AFRESH = Option("afresh", "Set up my own school afresh")
BACKUP = Option("backup", "I have a backup: put it back")
QUIT = Option("quit", "Quit")
LEFT = "Your answers are kept: trundle goes on there next time."


class StartScreen(AskingScreen):
    """Where to begin. What is chosen is handed to ``begin``: "demo", "own", "afresh", "backup", "quit"."""

    KEYS = SET_UP_MENU

    def __init__(self, folder: Path, holds: FolderHolds, begin: Callable[[str], None]) -> None:
        super().__init__()
        self.folder, self.holds, self.begin = folder, holds, begin

    def heading(self) -> str:
        return "Trundle: what goes on the cart, for every class of the day"

    def question(self) -> Question[Any]:
        how = "Type the number or the first letter."
        if self.holds == "half a set-up":
            said = len(read_set_up(self.folder).said)
            options: tuple[Option, ...] = (GO_ON, AFRESH, DEMO, BACKUP, QUIT)
            how = f"{plural(said, 'question is', 'questions are')} answered. {how}"
        elif self.holds == "other things":
            options = (DEMO, HERE, BACKUP, QUIT)
            names = sorted(each.name for each in self.folder.iterdir() if not each.name.startswith("."))
            held = join_words([*names[:3], f"{len(names) - 3} more"] if names[3:] else names)
            how = (
                f"{self.folder} holds other things: {held}. They stay as they are, but a folder of its own is better:"
                f" trundle --data FOLDER. {how}"
            )
        else:
            options = (DEMO, OWN, BACKUP, QUIT)
        return Question(
            "begin",
            "Begin",
            "Where would you like to begin?",
            how,
            "1",
            lambda text: option_typed(text, options),
            lambda option: option.label,
            options,
        )

    def take(self, typed: str) -> None:
        self.begin(self.question().understood(typed).key)

    def action_back(self) -> None:
        """There is nothing before this."""

    def action_stop(self) -> None:
        self.begin("quit")


class SetUpScreen(KeptAnswersScreen):
    """The questions about her own school."""

    def __init__(self, folder: Path, now: datetime, *, stop: Callable[[], None], done: Callable[[], None]) -> None:
        self.now, self.stop, self.done = now, stop, done
        super().__init__(folder)

    def asking(self) -> Asking[AllSaid]:
        return ask_all(self.now, self.choices)

    def heading(self) -> str:
        return f"Setting up your school: {plural(len(self.way.answered), 'answer')} so far"

    def last_question(self) -> Question[Any]:
        """Everything is said: the list is one key away."""
        school, day = self.way.said.school, self.way.said.day
        visits = plural(len(day.visits), "visit") if day.visits else "no visits yet"
        today = "today" if school.day == self.now.date() else say_date(school.day)
        return to_the_list(
            f"That is all for the first list: {visits} {today}.",
            "The other days of the timetable are asked when they come, and everything can be changed later.",
            "your first list",
        )

    def finish(self, said: AllSaid) -> None:
        """Write the plan; then the list opens on it."""
        try:
            said = with_other_days(said, self.said, self.choices)
            start_with(self.folder, said, made_from(said), self.now)
        except NotSaved as problem:
            self.alarm = f"Not saved: {problem}"
            return
        self.done()

    def action_stop(self) -> None:
        self.stop()
