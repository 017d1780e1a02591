"""Which usual lesson is it to start from?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from textual import on
from textual.content import Content

from checklists.lesson_types import LessonType, lesson_types
from checklists.pages.lesson_types import say_grades
from checklists.pages.plain import pad
from checklists.words import plural
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question

TITLE_CELLS = 24
PARTS_CELLS = 8
GRADES_CELLS = 5
WIDE = 96
"""Cells of a window in which what the children make has room behind the rest."""


class LessonTypesScreen(ChoosingScreen):
    """The lesson types, first those for ``grade``; hands the id of the one taken to ``take``.

    Needs no plan, so that it opens before there is one.
    """

    TITLE_OF_KEYS = "Lesson types"

    def __init__(self, on: date, take: Callable[[str], None], grade: str = "") -> None:
        title = f"What is grade {grade} doing?" if grade else "Which usual lesson is it to start from?"
        super().__init__(on, title, self.rows_for, take, nothing="No lesson type begins so. Backspace: a letter less.")
        self.grade = grade

    def rows_for(self, typed: str) -> list[Row]:
        sign = " ".join(typed.casefold().split())
        found = [each for each in lesson_types() if _begins(each, sign)]
        mine = [each for each in found if self.grade in each.grades]
        if not self.grade or not mine or len(mine) == len(found):
            return [self.row_of(each) for each in found]
        others = [self.row_of(each) for each in found if each not in mine]
        heading = Row("heading", "others", "For other grades", tone="heading")
        return [*(self.row_of(each) for each in mine), heading, *others]

    def row_of(self, kind: LessonType) -> Row:
        """A type as a row; what the children make stands in it where there is room."""
        parts = pad(plural(len(kind.lesson.parts), "part"), PARTS_CELLS)
        told = f"{pad(kind.title, TITLE_CELLS)} {parts} {pad(say_grades(kind.grades), GRADES_CELLS)}"
        return Row("todo", kind.id, f"{told}  {kind.description}" if self.app.size.width >= WIDE else told.rstrip())

    def on_resize(self) -> None:
        self.reread()

    def question(self) -> tuple[Content, ...]:
        row = self.list.row
        made = next((each.description for each in lesson_types() if row is not None and each.id == row.key), "")
        return Content.assemble((self.asked, "bold")), Content(f"{made}." if made else "")

    @on(LineList.Moved)
    def tell_what_they_make(self) -> None:
        self.query_one(Question).show(*self.question())

    def action_back(self) -> None:
        self.dismiss()


def _begins(kind: LessonType, sign: str) -> bool:
    """Whether the title, or its rest from one of its words on, begins with what was typed."""
    words = kind.title.casefold().replace("-", " ").split()
    return any(" ".join(words[index:]).startswith(sign) for index in range(len(words)))
