"""All that a day's visits need, each thing with its container: the parts, what is owed, guests, what must come out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec import structs

from checklists.class_places import progress_in
from checklists.daybook.state import Progress
from checklists.lines.amending import made_safe
from checklists.lines.catch_up import needs_owed
from checklists.lines.containers import box_of, container_for
from checklists.lines.merge import choose_step_needs
from checklists.lines.need import Need
from checklists.lines.needs import folders_of_others, needs_of
from checklists.lines.reasoning import Judged, Reasoning
from checklists.lines.records import Step, Visit
from checklists.lines.shared_boxes import safe_together


def needs_of_day(
    reasoning: Reasoning, day: date, judged: Sequence[Judged], *, with_owed: bool = True
) -> tuple[list[Need], list[str]]:
    """The needs of a day's visits, and notes about what could not be met. A visit that is stopped needs nothing yet."""
    needs: list[Need] = []
    notes: list[str] = []
    given: set[tuple[str, str, Step]] = set()
    for one in judged:
        if one.stopped:
            continue
        found, said = _of_parts(reasoning, one)
        notes.extend(said)
        needs.extend(found)
        if with_owed and not one.visit.substitute:
            needs.extend(_owed(reasoning, day, one.visit, {need.supply for need in found}, given))
    return safe_together(reasoning, day, judged, needs), notes


def _of_parts(reasoning: Reasoning, one: Judged) -> tuple[list[Need], list[str]]:
    plan, visit = reasoning.plan, one.visit
    of_steps: list[list[Need]] = []
    notes: list[str] = []
    for step, effects in one.by_step:
        lesson = plan.lesson_by_id[step.lesson]
        found, said = needs_of(plan, visit, step, effects)
        found = (*found, *folders_of_others(visit, step, found, _places_of_others(reasoning, visit)))
        of_steps.append(
            [
                structs.replace(need, container=container_for(plan, need.supply, visit.grade, lesson, need.into))
                for need in found
                if need.supply in plan.supply_by_id
            ]
        )
        notes.extend(said)
    return list(choose_step_needs(of_steps)) if of_steps else [], notes


def _places_of_others(reasoning: Reasoning, visit: Visit) -> dict[str, Progress]:
    """Where each class stands whose children join the visit."""
    others = (*visit.guests, *visit.joined)
    places = ((each.of, progress_in(reasoning.plan, reasoning.state, each.of)) for each in others)
    return {class_id: progress for class_id, progress in places if progress is not None}


def _owed(
    reasoning: Reasoning, day: date, visit: Visit, ordinary: set[str], given: set[tuple[str, str, Step]]
) -> Iterator[Need]:
    """What is owed to the class, as safe as the ordinary things; tools that are along anyway serve for it as well.

    ``given`` is what a visit earlier in the day has along already: a class that comes twice gets it once.
    """
    plan, earlier = reasoning.plan, frozenset(given)
    for owed in needs_owed(plan, reasoning.state, visit, reasoning.rules.vocabulary.media):
        if (visit.class_id, owed.what, owed.step) in earlier:
            continue
        given.add((visit.class_id, owed.what, owed.step))
        needs: tuple[Need, ...] = owed.needs
        if effects := reasoning.safety_of(day, visit, owed.step, {need.supply for need in needs}):
            needs = made_safe(plan, visit, needs, effects)
        for need in needs:
            supply = plan.supply_by_id.get(need.supply)
            if supply is None or (supply.comes_back and need.supply in ordinary):
                continue
            if need.catch_up_for:
                yield structs.replace(need, container=box_of(visit.grade))
            else:
                lesson = plan.lesson_by_id[visit.steps[0].lesson] if visit.steps else None
                where = container_for(plan, need.supply, visit.grade, lesson, need.into)
                yield structs.replace(need, container=where)
