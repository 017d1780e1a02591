"""Which grade is taught what, in which order, and where is each class?"""

from __future__ import annotations

from datetime import date
from typing import Any, ClassVar

from msgspec import structs
from textual import on
from textual.binding import BindingType

from checklists.changing_days import state_now
from checklists.daybook.entries import ClassPlace
from checklists.forms.fields import GRADES, Field, field_of
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.class_notes import Known, narrowed
from checklists.plan.records import Classes
from checklists.words import clean, plural, say_grade
from tui.class_rows import rows_of_known
from tui.columns import fit
from tui.keys import PLAN_SUBJECTS, bindings_of
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.plan_list import PlanListScreen
from tui.screens.plan_screen import PlanScreen
from tui.widgets.line_list import LineList

CLASS = "class "
"""Begins the key of a class's row."""
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
        plan = self.book.plan
        progress = state_now(self.book, self.date).progress
        rows = []
        for grade in self.grades:
            lessons = value.get(grade, ())
            rows.append(Row("matter", grade, f"{fit(say_grade(grade), 20)} {plural(len(lessons), 'lesson')}"))
            for each in plan.classes:
                at = progress.get(each.id)
                if each.grade == grade:
                    where = f"{plan.title_of_lesson(at.lesson)}, part {at.part}" if at is not None else "not begun"
                    rows.append(Row("matter", f"{CLASS}{each.id}", clean(f"   {fit(each.id, 10)} {where}")))
        self.list.show(rows, self.list.cursor, key=key or self.key_in_hand)

    def about(self, value: Any) -> str:
        return "Enter opens the lessons of a grade; on a class it says which part is its next one."

    def action_accept(self) -> None:
        grade = self.key_in_hand
        if grade.startswith(CLASS):
            self.ask_place(grade.removeprefix(CLASS))
            return
        if not grade:
            return
        if grade not in self.files.classes.teaching:
            classes = self.files.classes
            teaching = {each: classes.teaching.get(each, ()) for each in self.grades}
            files = structs.replace(self.files, classes=structs.replace(classes, teaching=teaching))
            try:
                self.change(files, f"a list of lessons for grade {grade}", grade)
            except CannotBe as why:
                self.say(str(why), alarm=True)
                return
        self.app.push_screen(PlanListScreen(self.date, (*self.place, grade), f"Lessons of grade {grade}", TAUGHT))

    def ask_place(self, class_id: str) -> None:
        """Which part of which lesson is the class's next one, whatever was told before."""
        plan = self.book.plan
        lessons = plan.teaching.get(plan.class_by_id[class_id].grade, ())
        order = [*lessons, *(each.id for each in plan.lessons if each.id not in lessons)]
        parts = [
            Known(f"{number} {lesson}", clean(f"{plan.title_of_lesson(lesson)}, part {number}: {part.title}"), "")
            for lesson in order
            for number, part in enumerate(plan.lesson_by_id[lesson].parts, 1)
        ]

        def offers(typed: str) -> list[Row]:
            return rows_of_known(narrowed(parts, typed), (), "")

        def take(chosen: str) -> None:
            number, _, lesson = chosen.partition(" ")
            entry = ClassPlace(at=self.trundle.now(), class_id=class_id, lesson=lesson, part=int(number))
            before = self.trundle.recorder.day(self.date)
            problem = self.record(entry)
            self.reread(f"{CLASS}{class_id}")
            self.tell_what_follows(before)
            said = f"{class_id} is at {plan.title_of_lesson(lesson)}, part {number}. u takes it back."
            self.say(problem or said, alarm=bool(problem))

        self.app.push_screen(ChoosingScreen(self.date, f"{class_id}: which part comes next?", offers, take))

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        """A second click opens it."""
        if event.again:
            self.action_accept()

    def action_digit(self, digit: str) -> None:
        """Nothing here is asked by digit; a digit is the grade."""
        self.go_to(digit)
