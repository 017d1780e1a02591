"""What a container still holds of lessons that are over: back to the shelf with it, when no class needs it any more."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.class_places import place_after, progress_of
from checklists.daybook.state import State
from checklists.lines.catch_up import part_of
from checklists.lines.containers import CART, box_of, container_for, standing_in
from checklists.lines.records import Because, Container, Line, TakeOut
from checklists.plan.records import Item, Lesson, Plan, SchoolClass
from checklists.words import join_words

MOST_NAMED = 3
"""Lessons that are named as what a thing was for."""


def to_take_out(
    plan: Plan, state: State, containers: Sequence[Container], lines: Sequence[Line], number: int
) -> tuple[TakeOut, ...]:
    """For the day's boxes and kits, numbered from ``number``. What stands in them, and what rules add, stays.

    Needed is what the parts still to come of each class's lesson list, what its next lesson lists,
    and what a class is owed or has not finished: so the slower class and those who catch up keep theirs.
    """
    found: list[TakeOut] = []
    wanted: set[tuple[str, str]] | None = None
    for container in containers:
        held = state.contents.get(container.id, {})
        if container.id == CART or not held:
            continue
        kept = {line.supply for line in lines if line.container == container.id} | standing_in(
            plan, container.id
        ).keys()
        idle = [each for each, count in held.items() if count and each in plan.lessons_with and each not in kept]
        if idle and wanted is None:
            wanted = {each for class_ in plan.classes for each in _needed_by(plan, state, class_)}
        for supply in idle:
            if (container.id, supply) in (wanted or ()) or supply not in plan.supply_by_id:
                continue
            known = plan.supply_by_id[supply]
            found.append(
                TakeOut(
                    key=f"take out/{container.id}/{supply}",
                    number=number + len(found),
                    container=container.id,
                    supply=supply,
                    name=known.name,
                    count=held[supply],
                    shelf=known.shelf,
                    because=(Because(_why(plan, container, supply)),),
                )
            )
    return tuple(found)


def _why(plan: Plan, container: Container, supply: str) -> str:
    titles = {lesson.title for lesson in plan.lessons if container.id in lesson.kits}
    if container.id not in plan.kit_by_id:
        taught = plan.teaching.get(container.id.removeprefix("box-"), ())
        titles = {plan.lesson_by_id[each].title for each in taught if each in plan.lesson_by_id}
    named = [each for each in plan.lessons_with[supply] if each in titles] or plan.lessons_with[supply]
    lessons = join_words(named[:MOST_NAMED])
    return f"it was for {lessons}; no class with {container.name} needs it in the parts to come"


def _needed_by(plan: Plan, state: State, class_: SchoolClass) -> Iterator[tuple[str, str]]:
    """Container and supply of what a class will need, by where it is now."""
    for lesson, items in _items_to_come(plan, state, class_):
        for item in items:
            if item.is_for(class_.id):
                yield container_for(plan, item.supply, class_.grade, lesson, item.into), item.supply
    owed = [(each.lesson, each.part) for each in state.owed.get(class_.id, ())]
    unfinished = [(each.lesson, each.part) for each in state.unfinished.get(class_.id, ())]
    for missed_lesson, number in (*owed, *unfinished):  # catch-up kits and finish-up sets ride in the box
        part = part_of(plan, missed_lesson, number)
        for item in (*part.items, *part.short_version) if part is not None else ():
            if item.is_for(class_.id):
                yield box_of(class_.grade), item.supply


def _items_to_come(plan: Plan, state: State, class_: SchoolClass) -> Iterator[tuple[Lesson, tuple[Item, ...]]]:
    progress = progress_of(plan, state, class_)
    lesson = plan.lesson_by_id.get(progress.lesson) if progress is not None else None
    if progress is None or lesson is None:
        return
    yield lesson, tuple(lesson.items_from(progress.part, but=progress.done_ahead))
    every = range(1, len(lesson.parts) + 1)
    following = place_after(plan, class_, progress, every, plan.school.first_day)
    if following.lesson != progress.lesson and following.lesson in plan.lesson_by_id:
        yield plan.lesson_by_id[following.lesson], tuple(plan.lesson_by_id[following.lesson].items_from(1))
