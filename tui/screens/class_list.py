"""Which class is it about?"""

from __future__ import annotations

from datetime import date

from textual.content import Content

from checklists.words import say_date
from tui.class_rows import rows_of_classes
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen


class ClassListScreen(ChoosingScreen):
    """Every class, today's first; its first signs are enough, "2r" for 2-R."""

    TITLE_OF_KEYS = "Notes about a class"
    closes = False

    def __init__(self, on: date) -> None:
        super().__init__(on, "Notes about a class", self.rows_for, self.open_class, nothing="No class begins so.")

    def rows_for(self, typed: str) -> list[Row]:
        recorder = self.trundle.recorder
        return rows_of_classes(recorder.book.plan, recorder.day(self.date).visits, typed)

    def question(self) -> tuple[Content, ...]:
        title = Content.assemble((say_date(self.date), "bold"), "  Notes about a class: which one?")
        return title, Content("Needs and what is avoided stand on the next screen only. No names anywhere.")

    def open_class(self, class_id: str) -> None:
        from tui.screens.class_notes import ClassNotesScreen

        self.app.push_screen(ClassNotesScreen(self.date, class_id), lambda _: self.begin_anew())

    def begin_anew(self) -> None:
        self.typed = ""
        self.show_offers()
