"""The containers a day needs: where each is, what it is for, what it weighs when packed."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from checklists.daybook.state import State
from checklists.lines.containers import CART, kits_along, name_of
from checklists.lines.loads import held_when_packed
from checklists.lines.records import Container, ContainerKind, Line, Visit
from checklists.plan.records import Plan
from checklists.walks import STORE
from checklists.words import say_date


def containers_of(plan: Plan, state: State, visits: Sequence[Visit], lines: Sequence[Line]) -> tuple[Container, ...]:
    """The cart first, then every container with lines and every kit of a part, in the order of the first visit."""
    needed: dict[str, list[Visit]] = {CART: list(visits)} if visits else {}
    by_key = {visit.key: visit for visit in visits}
    for visit in visits:
        for step in visit.steps if not visit.substitute else ():
            grade = plan.class_by_id[visit.class_id].grade
            for kit in kits_along(plan, plan.lesson_by_id[step.lesson], step.part, grade):
                _need(needed, kit, visit)
    for line in lines:
        needed.setdefault(line.container, [])  # one that is only filled for later days has no visit today
        for key in line.visits:
            _need(needed, line.container, by_key[key])
    order = sorted(needed, key=lambda each: (each != CART, _first_number(needed[each]), each))
    return tuple(_container(plan, state, each, needed[each], lines) for each in order)


def _first_number(visits: Sequence[Visit]) -> float:
    return min((visit.number for visit in visits), default=inf)


def _need(needed: dict[str, list[Visit]], container: str, visit: Visit) -> None:
    visits = needed.setdefault(container, [])
    if visit not in visits:
        visits.append(visit)


def _container(plan: Plan, state: State, container: str, visits: Sequence[Visit], lines: Sequence[Line]) -> Container:
    kind: ContainerKind = "cart" if container == CART else "box" if container.startswith("box-") else "kit"
    shelf, sign = "", ""
    if kind == "box":
        box = plan.box_by_grade.get(container.removeprefix("box-"))
        shelf, sign = (box.shelf, box.sign) if box is not None else ("", "")
    elif kind == "kit" and container in plan.kit_by_id:
        shelf = plan.kit_by_id[container].shelf
    place = state.places.get(container)
    return Container(
        id=container,
        name=name_of(plan, container),
        kind=kind,
        shelf=shelf,
        sign=sign,
        place=place.where if place is not None else STORE,
        place_since=f"{say_date(place.since)} {place.period}".strip() if place is not None else "",
        visits=tuple(visit.key for visit in sorted(visits, key=lambda each: each.number)),
        kilograms=_kilograms(plan, state, container, lines),
    )


def _kilograms(plan: Plan, state: State, container: str, lines: Sequence[Line]) -> float | None:
    """Mass of what it holds when packed, in kilograms, pails beside it left out; None where no mass is known."""
    held = held_when_packed(state, container, lines)
    known = [plan.supply_by_id[supply] for supply in held if supply in plan.supply_by_id]
    if all(each.grams is None for each in known):
        return None
    return round(sum((each.grams or 0) * held[each.id] for each in known) / 1000, 1)
