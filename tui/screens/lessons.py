"""The lessons: each opens as a form, and a new one begins with a usual lesson or from nothing."""

from __future__ import annotations

from datetime import date

from checklists.forms.fields import field_of
from checklists.forms.typed import CannotBe
from checklists.plan.plan_files import PlanFiles
from tui.screens.plan_list import PlanListScreen

TO_A_GRADE = "Say which grade is taught it when: What each grade is taught, in Set up and change."


class LessonsScreen(PlanListScreen):
    """All lessons there are, hers; a starts one from a usual lesson, o one from nothing."""

    def __init__(self, on: date) -> None:
        super().__init__(on, ("lessons",), "Lessons", field_of(PlanFiles, "lessons"))

    def action_add(self) -> None:
        """Start from a usual lesson: what it needs enters the catalogue by itself."""
        from tui.screens.lesson_types import LessonTypesScreen

        if self.asked is None and not self.moving:
            self.app.push_screen(LessonTypesScreen(self.date, self.start))

    def start(self, type_id: str) -> None:
        """Make it hers, as a step."""
        from checklists.lesson_types import lesson_type, start_from
        from checklists.pages.lesson_types import say_labels
        from tui.widgets.follows import Follows

        try:
            files, lesson = start_from(self.files, type_id)
            title = next(each.title for each in files.lessons if each.id == lesson)
            self.change(files, f"new lesson {title}", lesson)
            labels = say_labels(lesson_type(type_id), "")
            self.query_one(Follows).tell("Before it is taught", (TO_A_GRADE, *([labels] if labels else [])))
        except CannotBe as why:
            self.refuse(why)

    def action_add_empty(self) -> None:
        """A lesson with nothing in it yet."""
        super().action_add()
