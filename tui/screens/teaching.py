"""Which grade is taught what, in which order, and where is each class?"""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar

from msgspec import structs
from textual import on
from textual.binding import BindingType

from checklists.forms.fields import GRADES, Field, field_of
from checklists.plan import naming
from checklists.plan.records import Classes
from checklists.words import clean, plural
from tui.columns import fit
from tui.keys import PLAN_SUBJECTS, bindings_of
from tui.rows import Row
from tui.screens.plan_list import PlanListScreen
from tui.screens.plan_screen import PlanScreen
from tui.widgets.line_list import LineList

TAUGHT: Field = structs.replace(
    field_of(Classes, "teaching"), way="several", names=naming.LESSON, help="In this order. a adds one, m moves it."
)


class TeachingScreen(PlanScreen):
    """The grades that classes have, each with its lessons and where its classes are."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PLAN_SUBJECTS)]
    KEYS = PLAN_SUBJECTS
    TITLE_OF_KEYS = "What each grade is taught"

    def __init__(self, on: date) -> None:
        super().__init__(on, ("classes", "teaching"), "What each grade is taught")

    @property
    def grades(self) -> list[str]:
        classes = self.book.plan.classes
        return sorted({*(each.grade for each in classes), *self.book.plan.teaching}, key=GRADES.index)

    def show_value(self, value: Any, key: str) -> None:
        plan, progress = self.book.plan, self.book.opening(self.date).progress
        rows = []
        for grade in self.grades:
            lessons = value.get(grade, ())
            name = {"K": "kindergarten", "PK": "pre-kindergarten"}.get(grade, f"grade {grade}")
            rows.append(Row("matter", grade, f"{fit(name, 20)} {plural(len(lessons), 'lesson')}"))
            for each in plan.classes:
                at = progress.get(each.id)
                if each.grade == grade and at is not None:
                    where = f"{plan.title_of_lesson(at.lesson)}, part {at.part}"
                    rows.append(Row("text", f"at {each.id}", clean(f"   {fit(each.id, 10)} {where}")))
        self.list.show(rows, self.list.cursor, key=key or self.key_in_hand)

    def about(self, value: Any) -> str:
        return "Enter opens the lessons of a grade in their order. Below each: where its classes are."

    def action_accept(self) -> None:
        grade = self.key_in_hand
        if not grade:
            return
        if grade not in self.files.classes.teaching:
            classes = self.files.classes
            teaching = {each: classes.teaching.get(each, ()) for each in self.grades}
            files = structs.replace(self.files, classes=structs.replace(classes, teaching=teaching))
            self.change(files, f"a list of lessons for grade {grade}", grade)
        self.app.push_screen(PlanListScreen(self.date, (*self.place, grade), f"Lessons of grade {grade}", TAUGHT))

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        """A second click opens it."""
        if event.again:
            self.action_accept()

    def action_digit(self, digit: str) -> None:
        """Nothing here is asked by digit; a digit is the grade."""
        self.go_to(digit)
