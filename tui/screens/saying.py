"""Say one thing by choosing it: what can be said stands in a list, and what is typed narrows it or says more."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from checklists.daybook.besides import said_besides
from checklists.daybook.matters import Choice
from checklists.daybook.said import say_entry
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.wording import sentence

CanSay = Callable[[str, datetime], tuple[Choice, ...] | str]
"""What can be said with what was typed so far, at a moment; or what to type, in words."""


class SayingScreen(ChoosingScreen):
    """Takes one of the choices as a step and closes; ``said`` is what was noted then, empty where nothing was."""

    closes = False

    def __init__(self, on: date, title: str, can_say: CanSay) -> None:
        super().__init__(on, title, self.rows_for, self.take_label, nothing="Nothing begins so.")
        self.can_say = can_say
        self.said = ""

    def rows_for(self, typed: str) -> list[Row]:
        found = self.can_say(typed, self.trundle.now())
        if isinstance(found, str):
            return [Row("text", "what to type", found)]
        return [Row("todo", choice.label, choice.label) for choice in found]

    def take_label(self, label: str) -> None:
        found = self.can_say(self.typed, self.trundle.now())
        choice = next((each for each in found if isinstance(each, Choice) and each.label == label), None)
        if choice is None:
            return
        recorder = self.trundle.recorder
        day = recorder.day(self.date)
        problem = self.record(*choice.entries)
        said = sentence(say_entry(choice.entries[0], day, self.book.plan))
        marks, opening = recorder.marks(self.date), self.book.opening(self.date)
        besides = said_besides(self.book.plan, day, marks, opening, choice.entries, brief=True)
        self.said = problem or " ".join((said, *besides))
        self.dismiss()
