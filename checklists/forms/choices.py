"""The things there are of a kind, to choose one of: what each is called, and what it means."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from checklists.forms.fields import GRADES
from checklists.forms.said import say_one
from checklists.plan import naming
from checklists.plan.class_notes import Known, things_to_avoid, things_to_need
from checklists.plan.records import Plan
from checklists.rules.read import vocabulary
from checklists.walks import STORE
from checklists.words import say_room


def choices_of(plan: Plan, kind: str) -> tuple[Known, ...]:
    """Everything of a kind that can be named, in the order of the plan. A kind nobody chooses from has nothing."""
    return tuple(_THINGS[kind](plan)) if kind in _THINGS else ()


def _rooms(plan: Plan) -> Iterable[Known]:
    return (Known(each, say_room(each)) for each in plan.rooms)


def _places(plan: Plan) -> Iterable[Known]:
    return (Known(STORE, "the store"), *_rooms(plan))


def _supplies(plan: Plan) -> Iterable[Known]:
    return (Known(each.id, each.name) for each in plan.supplies)


def _containers(plan: Plan) -> Iterable[Known]:
    return (Known("box", "the grade's box"), Known("cart", "the cart"), *_kits(plan))


def _kits(plan: Plan) -> Iterable[Known]:
    return (Known(each.id, f"{each.name} kit") for each in plan.kits)


def _avoided(plan: Plan) -> Iterable[Known]:
    return things_to_avoid(plan, vocabulary().avoid, vocabulary().marks)


def _needs(plan: Plan) -> Iterable[Known]:
    return things_to_need(plan, vocabulary().needs)


def _tags(plan: Plan) -> Iterable[Known]:
    known = dict(vocabulary().part)
    for lesson in plan.lessons:
        for part in lesson.parts:
            known |= {tag: "" for tag in part.tags if tag not in known}
    return (Known(word, word, meaning) for word, meaning in known.items())


def _marks(plan: Plan) -> Iterable[Known]:
    known = dict(vocabulary().marks)
    for supply in plan.supplies:
        known |= {mark: "" for mark in supply.marks if mark not in known}
    return (Known(word, word.replace("-", " "), meaning) for word, meaning in known.items())


_THINGS: dict[str, Callable[[Plan], Iterable[Known]]] = {
    naming.ROOM: _rooms,
    naming.PLACE: _places,
    naming.CLASS: lambda plan: (Known(each.id, each.id, say_room(each.room)) for each in plan.classes),
    naming.SUPPLY: _supplies,
    naming.KIT: _kits,
    naming.LESSON: lambda plan: (Known(each.id, each.title, say_one(plan, each)) for each in plan.lessons),
    naming.CONTAINER: _containers,
    naming.AVOIDED: _avoided,
    naming.NEED: _needs,
    naming.TAG: _tags,
    naming.MARK: _marks,
    naming.GRADE: lambda _: (Known(each, each) for each in GRADES),
}
