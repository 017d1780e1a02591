"""What is different about this visit?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from checklists.daybook.changing import Topic, Way, lessons_for, topics_of_visit
from checklists.daybook.entries import AnyEntry
from checklists.lines.records import Visit
from checklists.words import clock, say_room
from tui.changed_rows import lesson_rows, taught_in, topic_rows
from tui.keys import CHANGED_VISIT, bindings_of
from tui.rows import Row
from tui.screens.changing import ChangingScreen, letters_of
from tui.widgets.question import Question


class ChangedVisitScreen(ChangingScreen):
    """Another lesson by its digit, and what else may be different. One thing said hands it to ``say_it``."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHANGED_VISIT)]
    KEYS = CHANGED_VISIT
    TITLE_OF_KEYS = "A visit that is different"

    def __init__(self, on: date, visit: str, say_it: Callable[..., None]) -> None:
        super().__init__(on)
        self.visit_key = visit
        self.say_it = say_it

    def reread(self) -> None:
        """Show how it stands; back where the visit is no longer on the day."""
        visit = self.visit
        if visit is None:
            self.dismiss()
            return
        rows = [Row("heading", "heading lessons", "Teach another lesson; the class stays at its part", tone="heading")]
        rows += lesson_rows(self.lessons)
        rows.append(Row("heading", "heading visit", "The visit", tone="heading"))
        rows += topic_rows(self.topics, letters_of(self.KEYS))
        self.list.show(rows, self.list.cursor, key=self.key_in_hand)
        where = f"{visit.name} {visit.class_id}"
        asked = Content.assemble((where, "bold"), f"  {clock(visit.start)}, {say_room(visit.room)}. What is different?")
        self.query_one(Question).show((asked, Content("")), Content(f"Now: {taught_in(self.book.plan, visit)}."))

    @property
    def visit(self) -> Visit | None:
        return next((each for each in self.day.visits if each.key == self.visit_key), None)

    @property
    def lessons(self) -> tuple[Way, ...]:
        visit = self.visit
        if visit is None or visit.substitute:
            return ()
        return lessons_for(self.book.plan, self.day, visit, self.marks.changes, self.trundle.now())

    @property
    def topics(self) -> tuple[Topic, ...]:
        visit = self.visit
        if visit is None:
            return ()
        return topics_of_visit(self.book.plan, self.day, visit, self.marks.changes, self.trundle.now())

    def action_digit(self, digit: str) -> None:
        """A lesson by its number; while something is typed, digits come by ``on_key``."""
        lessons = self.lessons
        if self.typing is None and 1 <= int(digit) <= len(lessons):
            self.take(*lessons[int(digit) - 1].entries)

    def action_accept(self) -> None:
        """Take what was typed, or go on with the row in hand."""
        kind, _, index = self.key_in_hand.partition(" ")
        if self.typing is not None:
            self.take_typed()
        elif kind == "lesson":
            self.take(*self.lessons[int(index) - 1].entries)
        else:
            self.action_topic(self.key_in_hand)

    def take(self, *entries: AnyEntry) -> None:
        self.dismiss()
        self.say_it(*entries)
