"""What is different about this day?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from checklists.changing_days import Before, before_change
from checklists.daybook.changing import Topic, fallen_out, topics_of_day
from checklists.daybook.entries import AnyEntry
from checklists.words import say_date
from tui.changed_rows import day_rows
from tui.keys import CHANGED_DAY, bindings_of
from tui.screens.changing import ChangingScreen, letters_of
from tui.widgets.question import Question

Tell = Callable[[Before, tuple[AnyEntry, ...]], None]
"""Told of the day as it was, and of what was said."""


class ChangedDayScreen(ChangingScreen):
    """The visits, each with its digit, and what else may be different about the day. One thing said closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHANGED_DAY)]
    KEYS = CHANGED_DAY
    TITLE_OF_KEYS = "A day that is different"

    def __init__(self, on: date, tell: Tell) -> None:
        super().__init__(on)
        self.tell = tell

    def reread(self) -> None:
        plan, day, now = self.book.plan, self.day, self.trundle.now()
        out = fallen_out(plan, day, self.marks.changes, now)
        self.list.show(
            day_rows(plan, day, self.topics, out, letters_of(self.KEYS)), self.list.cursor, key=self.key_in_hand
        )
        letter = f", day {day.day_name}" if day.school_day and plan.school.rotation.kind == "cycle" else ""
        asked = Content.assemble((f"{say_date(self.date)}{letter}", "bold"), "  What is different?")
        self.query_one(Question).show((asked, Content("")), Content("This day only: the plan stays as it is."))

    @property
    def topics(self) -> tuple[Topic, ...]:
        return topics_of_day(self.book.plan, self.day, self.marks, self.trundle.now())

    def action_digit(self, digit: str) -> None:
        """A visit by its number."""
        visit = next((each for each in self.day.visits if str(each.number) == digit), None)
        if visit is not None and self.typing is None:
            self.open_visit(visit.key)

    def open_visit(self, key: str) -> None:
        from tui.screens.changed_visit import ChangedVisitScreen

        self.app.push_screen(ChangedVisitScreen(self.date, key, self.take))

    def action_accept(self) -> None:
        """Take what was typed, or go on with the row in hand."""
        key = self.key_in_hand
        if self.typing is not None:
            self.take_typed()
        elif any(visit.key == key for visit in self.day.visits):
            self.open_visit(key)
        elif key.startswith("out "):
            out = fallen_out(self.book.plan, self.day, self.marks.changes, self.trundle.now())
            back = next((each.back for each in out if each.key == key), ())
            if back:
                self.take(*back)
        else:
            self.action_topic(key)

    def take(self, *entries: AnyEntry) -> None:
        if not entries:
            self.say("All of that has been told already.")
            return
        before = before_change(self.book, self.date)
        problem = self.record(*entries)
        if problem:
            self.reread()
            self.say(problem, alarm=True)
            return
        self.dismiss()
        self.tell(before, entries)
