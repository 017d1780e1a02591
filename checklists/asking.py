"""What is asked on a day because its list turns on it: facts of rooms, and sizes of classes that are only about.

An answer is a change of the plan, and is never asked again. What is put off is not asked again that day.
"""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from msgspec import Struct, structs

from checklists.daybook.entries import Changed, LetGo
from checklists.daybook.marks import ASK
from checklists.daybook.state import State
from checklists.lines.records import Day, Visit
from checklists.lines.unknown_facts import unknown_facts
from checklists.plan import class_notes
from checklists.plan.class_notes import CannotNote, size_typed
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Plan
from checklists.plan.room_notes import MOST_PLACES, RoomFact, ask_of_room, say_of_room, tell_of_room
from checklists.rules.read import RuleSet
from checklists.words import plural, say_room

Answer = bool | int | str
"""Yes or no, a number, or "about 24"."""


class Asked(Struct, frozen=True):
    """One question. ``takes`` is how it is answered: yes or no, a number, or whether a number is right."""

    key: str
    text: str
    takes: Literal["yes or no", "number", "right or number"]
    visit: str
    """Key of the first visit that turns on it."""
    room: str = ""
    fact: RoomFact = "sink"
    """Of the room, where there is one."""
    class_id: str = ""
    students: int = 0
    """What the class is about."""


def facts_to_ask(plan: Plan, rules: RuleSet, state: State, day: Day, change: Changed | None) -> tuple[Asked, ...]:
    """Every question of a day, in the order of its visits. ``state`` and ``change`` are what the day was made from."""
    found = [
        Asked(
            key=f"{ASK}room {each.room}/{each.fact}",
            text=f"{_capital(say_room(each.room))}, {each.visit.name} {each.visit.class_id}: {ask_of_room(each.fact)}",
            takes="number" if each.fact == "drying_places" else "yes or no",
            visit=each.visit.key,
            room=each.room,
            fact=each.fact,
        )
        for each in unknown_facts(plan, rules, state, day, change)
    ]
    asked: set[str] = set()
    for visit in day.visits:
        class_ = plan.class_by_id[visit.class_id]
        if class_.is_about and visit.about and visit.class_id not in asked and was_visited(state, visit.class_id):
            asked.add(visit.class_id)
            found.append(_about_size(visit, class_.headcount))
    order = {visit.key: visit.number for visit in day.visits}
    return tuple(sorted(found, key=lambda each: order[each.visit]))


def was_visited(state: State, class_id: str) -> bool:
    """Whether the class was visited before, as far as what is told of it shows."""
    progress = state.progress.get(class_id)
    is_further = progress is not None and (progress.taught_on is not None or bool(progress.lessons_done))
    return is_further or any(class_id in each for each in (state.unsure, state.owed, state.unfinished))


def _about_size(visit: Visit, students: int) -> Asked:
    return Asked(
        key=f"{ASK}class {visit.class_id}/children",
        text=f"{visit.class_id}, {visit.name}: {plural(students, 'child')}, is that right?",
        takes="right or number",
        visit=visit.key,
        class_id=visit.class_id,
        students=students,
    )


def answered(files: PlanFiles, asked: Asked, answer: Answer) -> tuple[PlanFiles, str]:
    """The plan with what was answered, and that in words. Raises CannotNote where it cannot be so."""
    if asked.room:
        if isinstance(answer, str):
            raise CannotNote(f'"{answer}" is not a number.')
        school = say_of_room(files.school, asked.room, asked.fact, answer)
        return structs.replace(files, school=school), tell_of_room(asked.room, asked.fact, answer)
    size = asked.students if answer is True else answer
    if isinstance(size, bool):
        raise CannotNote(f"How many children has {asked.class_id}, if not {asked.students}?")
    classes = class_notes.size(files.classes, asked.class_id, size)
    return structs.replace(files, classes=classes), f"{asked.class_id} has {size} children"


def read_answer(asked: Asked, typed: str) -> int | str:
    """What was typed as an answer. Raises CannotNote, in words for a teacher."""
    if asked.class_id:
        return size_typed(typed)
    if not (typed.isascii() and typed.isdigit() and int(typed) <= MOST_PLACES):
        raise CannotNote(f"How many places is a number, 0 to {MOST_PLACES}.")
    return int(typed)


def put_off(asked: Asked, at: datetime) -> LetGo:
    """Not answered now: not asked again that day."""
    return LetGo(at=at, matter=asked.key, reason="not today")


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"
