"""Where in a lesson a line comes from, and the lesson with that item changed or left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct, structs

from checklists.lines.records import Day, Line, Visit
from checklists.plan.class_notes import CannotNote
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Item, Lesson, Plan

EXTENSION = 0
"""In place of a part: what is for those who finish early."""


class Listed(Struct, frozen=True):
    """An item of a lesson that a line comes from, with the day's visits it is in."""

    lesson: Lesson
    part: int
    """From 1; 0 for what is for those who finish early."""
    place: int
    """Among the items of the part."""
    item: Item
    visits: tuple[Visit, ...]

    @property
    def key(self) -> str:
        return f"{self.lesson.id}/{self.part}/{self.place}"

    @property
    def where(self) -> str:
        """ "Paper Hills, part 1"."""
        if self.part == EXTENSION:
            return f"{self.lesson.title}, for those done early"
        return self.lesson.title if len(self.lesson.parts) == 1 else f"{self.lesson.title}, part {self.part}"

    @property
    def classes(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(class_id for visit in self.visits for class_id in visit.classes))


def visits_of(day: Day, line: Line) -> tuple[Visit, ...]:
    """The day's visits a line is for."""
    return tuple(visit for visit in day.visits if visit.key in line.visits)


def listed_for(plan: Plan, day: Day, line: Line) -> tuple[Listed, ...]:
    """The items of lessons that a line comes from; of a catch-up kit none, it goes by what was taught before."""
    if line.catch_up_for:
        return ()
    found: dict[str, Listed] = {}
    for visit in visits_of(day, line):
        for each in _of_visit(plan, visit, line.supply):
            before = found.get(each.key)
            visits = (*before.visits, visit) if before is not None else (visit,)
            found[each.key] = structs.replace(each, visits=visits)
    return tuple(found.values())


def _of_visit(plan: Plan, visit: Visit, supply: str) -> Iterator[Listed]:
    for step in visit.steps:
        lesson = plan.lesson_by_id[step.lesson]
        places = [(step.part, place, item) for place, item in enumerate(lesson.parts[step.part - 1].items)]
        places += [(EXTENSION, place, item) for place, item in enumerate(lesson.extension)]
        for part, place, item in places:
            if item.supply == supply and item.is_for(*visit.classes):
                yield Listed(lesson, part, place, item, ())


def with_item(files: PlanFiles, listed: Listed, change: Callable[[Item], Item | None]) -> PlanFiles:
    """The plan with one item as ``change`` makes it; None leaves it out. Raises CannotNote where it is gone."""
    lesson = next((each for each in files.lessons if each.id == listed.lesson.id), None)
    if lesson is None or _item_in(lesson, listed) != listed.item:
        raise CannotNote(f"{listed.where} was changed meanwhile. Look at the line again.")
    new = change(listed.item)
    if new == listed.item:
        raise CannotNote("That is so already.")
    items = list(lesson.extension if listed.part == EXTENSION else lesson.parts[listed.part - 1].items)
    items[listed.place : listed.place + 1] = [new] if new is not None else []
    if listed.part == EXTENSION:
        changed = structs.replace(lesson, extension=tuple(items))
    else:
        part = structs.replace(lesson.parts[listed.part - 1], items=tuple(items))
        parts = (part if n == listed.part else each for n, each in enumerate(lesson.parts, 1))
        changed = structs.replace(lesson, parts=tuple(parts))
    return structs.replace(files, lessons=tuple(changed if each is lesson else each for each in files.lessons))


def _item_in(lesson: Lesson, listed: Listed) -> Item | None:
    if listed.part > len(lesson.parts):
        return None
    items = lesson.extension if listed.part == EXTENSION else lesson.parts[listed.part - 1].items
    return items[listed.place] if listed.place < len(items) else None
