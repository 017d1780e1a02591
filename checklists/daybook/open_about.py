"""What the daybook has not settled about a thing: asked before it is taken out of the plan for good."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.state import State
from checklists.lines.catch_up import children_in
from checklists.lines.containers import folder_of, name_of
from checklists.plan.naming import CLASS, KIT, LESSON, ROOM, SUPPLY
from checklists.plan.records import Plan
from checklists.words import plural, say_date


def open_about(plan: Plan, state: State, kind: str, name: str) -> tuple[str, ...]:
    """In words, each in one short sentence without an end; empty: nothing is open about it."""
    found = {CLASS: _of_class, LESSON: _of_lesson, SUPPLY: _of_supply, KIT: _of_kit, ROOM: _of_room}
    return tuple(found[kind](plan, state, name)) if kind in found else ()


def _of_class(plan: Plan, state: State, name: str) -> Iterator[str]:
    if owed := state.owed.get(name):
        yield f"{plural(children_in(owed), 'child')} missed a part" if children_in(owed) else "it is owed a part"
    if state.unfinished.get(name):
        yield "children are not done with a part"
    for visit in state.unsure.get(name, ()):
        yield f"nobody has told about {visit.visit} on {say_date(visit.date)}"
    if away := state.work_away.get(name):
        yield f"{plural(away.count, 'piece')} of it hang elsewhere"
    progress = state.progress.get(name)
    if progress is not None and (progress.part > 1 or progress.again):
        yield f"it is in the middle of {plan.title_of_lesson(progress.lesson)}"
    yield from (each.what for each in state.carried if each.for_class == name)
    if folder_of(name) in state.places:
        yield "its folder is not at the store"
    missing = (each for each in state.cases if each.school_class == name)
    yield from (f"{each.count} {plan.name_of_supply(each.supply)} missing since it had them" for each in missing)


def _of_lesson(plan: Plan, state: State, name: str) -> Iterator[str]:
    for class_id, progress in state.progress.items():
        if progress.lesson == name and (progress.part > 1 or progress.again):
            yield f"{class_id} is in the middle of it"
    for class_id, owed in state.owed.items():
        if any(each.lesson == name for each in owed):
            yield f"{class_id} is owed a part of it"
    for class_id, visits in state.unsure.items():
        if any(each.lesson == name for each in visits):
            yield f"nobody has told what became of it in {class_id}"


def _of_supply(plan: Plan, state: State, name: str) -> Iterator[str]:
    for container, held in state.contents.items():
        if held.get(name):
            yield f"{name_of(plan, container)} holds {held[name]}"
    yield from (f"{each.count} of it missing" for each in state.cases if each.supply == name)
    yield from (
        f"{each.count} are lent{f' to {each.to}' if each.to else ''}" for each in state.lent if each.supply == name
    )
    yield from (f"{plural(each.due, 'pack')} of it are on order" for each in state.orders if each.supply == name)


def _of_kit(plan: Plan, state: State, name: str) -> Iterator[str]:
    held = {supply: count for supply, count in state.contents.get(name, {}).items() if count}
    yield from (f"{count} {plan.name_of_supply(supply)} are in it" for supply, count in held.items())
    if name in state.places:
        yield "it is not at the store"
    yield from (each.what for each in state.carried if each.container == name)


def _of_room(plan: Plan, state: State, name: str) -> Iterator[str]:
    for container, place in state.places.items():
        if place.where == name:
            yield f"{name_of(plan, container)} stands there"
