"""What setting up a school and saying another day share: every answer is on disk before the next question shows."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.files.safely import NotSaved
from checklists.files.set_up_file import keep_set_up, read_set_up
from checklists.first_start.going import Way, answered, go_through, gone_back
from checklists.first_start.making import choices_to_begin_with
from checklists.first_start.question import Asking, Question
from tui.screens.asking import AskingScreen


class KeptAnswersScreen(AskingScreen):
    """Goes through questions with the answers kept in a folder; what they come to is handed to ``finish``."""

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self.folder = folder
        self.said = read_set_up(folder)
        self.choices = choices_to_begin_with()
        self.way = self.go_through()

    def go_through(self) -> Way:
        return go_through(self.asking(), self.said)

    # ------------------------------------------------------------------------------------- what a screen of it says

    def asking(self) -> Asking[Any]:
        """The questions from the first one on."""
        raise NotImplementedError

    def last_question(self) -> Question[Any]:
        """Asked once everything is said."""
        raise NotImplementedError

    def finish(self, said: Any) -> None:
        """Everything is said and the last question taken."""
        raise NotImplementedError

    def action_stop(self) -> None:
        """Away from here; what was answered is kept."""
        raise NotImplementedError

    # ------------------------------------------------------------------------------------------------------ answering

    def question(self) -> Question[Any]:
        return self.way.open if self.way.open is not None else self.last_question()

    def answers(self) -> tuple[tuple[str, str], ...]:
        return tuple((each.question.topic, each.words) for each in self.way.answered)

    def why(self) -> str:
        return self.way.why

    def take(self, typed: str) -> None:
        if self.way.open is None:
            self.finish(self.way.said)
            return
        said = answered(self.said, self.way.open, typed)
        try:
            keep_set_up(self.folder, said)
        except NotSaved as problem:
            self.alarm = f"Not kept: {problem}"
            return
        self.alarm = ""
        self.said = said
        self.way = self.go_through()

    def action_back(self) -> None:
        """Leave a half-typed answer alone; else to the question before, its answer ready to be taken again."""
        if self.typed:
            self.typed = self.alarm = ""
        else:
            before = gone_back(self.said, self.way)
            if before is None:
                self.action_stop()
                return
            self.said = before
            self.way = self.go_through()
        self.show()


def to_the_list(text: str, how: str, enter: str) -> Question[Any]:
    """The last question: ``enter`` is what Enter does, in words."""
    return Question("list", "List", text, how, "list", lambda typed: typed, lambda _: enter)
