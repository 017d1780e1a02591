"""Where a class is, told and said: which part of which lesson is next."""

from __future__ import annotations

from datetime import datetime

from checklists.class_places import progress_in, with_class_places
from checklists.daybook.entries import ClassPlace
from checklists.daybook.marks import Marks
from checklists.daybook.state import Progress, State
from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Plan


def place_now(plan: Plan, opening: State, marks: Marks, class_id: str) -> Progress | None:
    """The class's place as a day opens, with what was said of it on the day; None: no lesson is left for it."""
    return progress_in(plan, with_class_places(opening, marks.class_places), class_id)


def say_class_place(plan: Plan, place: Progress | None) -> str:
    """ "Burlap birds, part 2 of 4"."""
    if place is None or place.lesson not in plan.lesson_by_id:
        return "no lesson is left for it"
    lesson = plan.lesson_by_id[place.lesson]
    return f"{lesson.title}, part {place.part} of {len(lesson.parts)}"


def placing(plan: Plan, place: Progress | None, class_id: str, part: int, at: datetime) -> ClassPlace:
    """That another part of its lesson is the class's next one. Raises CannotNote."""
    if place is None or place.lesson not in plan.lesson_by_id:
        raise CannotNote(f"No lesson is left for {class_id}, so that no part of one can be next.")
    lesson = plan.lesson_by_id[place.lesson]
    if not 1 <= part <= len(lesson.parts):
        raise CannotNote(f"{lesson.title} has parts 1 to {len(lesson.parts)}, no part {part}.")
    return ClassPlace(at=at, class_id=class_id, lesson=lesson.id, part=part)
