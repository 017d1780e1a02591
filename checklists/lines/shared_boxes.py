"""Containers that several visits have along: what must not meet one class must not be in them for another either."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from checklists.lines.amending import share_prohibitions
from checklists.lines.containers import CART
from checklists.lines.need import Need, because_of
from checklists.lines.reasoning import Judged, Reasoning
from checklists.lines.records import Visit
from checklists.rules.records import Effect, Forbid
from checklists.rules.vocabulary import marks_of_supply

MOST_ROUNDS = 5
"""Times that what comes in place of a thing is looked at in turn."""


def safe_together(reasoning: Reasoning, day: date, judged: Sequence[Judged], needs: Sequence[Need]) -> list[Need]:
    """The needs of a day, with what stands in a container and must come out, and what all of its visits do without.

    Of what others need, and of what stands on the cart that every class meets, only what rests on a child's need or on
    what a class avoids counts: a grade's own limits are for that grade.
    """
    plan = reasoning.plan
    together = share_prohibitions(plan, needs)
    together += _to_come_out(reasoning, day, judged, together)
    for _ in range(MOST_ROUNDS):
        together = share_prohibitions(plan, together)
        found = list(_met_by_sharing(reasoning, day, judged, together))
        if not found:
            break
        together += found
    return _without_nothing(reasoning, together)


def _to_come_out(reasoning: Reasoning, day: date, judged: Sequence[Judged], needs: Sequence[Need]) -> Iterator[Need]:
    """What stands in a container that a visit has along, is not on its list, and is forbidden in it."""
    for one in judged:
        for container, mine in _along(one, needs).items():
            held = reasoning.state.contents.get(container, {})
            idle = {each for each in held if held[each] and each in reasoning.plan.supply_by_id and each not in mine}
            for effect, supply in _forbidden(reasoning, day, one, idle):
                if container != CART or effect.rule.private:
                    yield _prohibition(reasoning, one.visit, container, supply, effect)


def _met_by_sharing(reasoning: Reasoning, day: date, judged: Sequence[Judged], needs: Sequence[Need]) -> Iterator[Need]:
    """What a visit would meet only because another one needs it in the same container, and must not meet."""
    for one in judged:
        key = one.visit.key
        for container, mine in _along(one, needs).items():
            here = [need for need in needs if need.container == container and not need.forbidden]
            known = {
                need.supply for need in needs if need.visit == key and need.container == container and need.forbidden
            }
            met = {need.supply for need in here if need.visit != key or need.shared} - known
            for effect, supply in _forbidden(reasoning, day, one, met - (mine - _shared(here, key))):
                if effect.rule.private:
                    yield _prohibition(reasoning, one.visit, container, supply, effect)


def _shared(needs: Sequence[Need], visit: str) -> set[str]:
    return {need.supply for need in needs if need.visit == visit and need.shared}


def _along(one: Judged, needs: Sequence[Need]) -> dict[str, set[str]]:
    """Container that a visit has along -> supplies it needs in it; none for a visit without a lesson."""
    found: dict[str, set[str]] = {CART: set()} if one.by_step and not one.stopped else {}
    for need in needs:
        if need.visit == one.visit.key and found:
            found.setdefault(need.container, set()).add(need.supply)
    return found


def _forbidden(reasoning: Reasoning, day: date, one: Judged, supplies: set[str]) -> Iterator[tuple[Effect, str]]:
    if not supplies:
        return
    for effect in reasoning.safety_of(day, one.visit, one.by_step[0][0], sorted(supplies), only_forbidden=True):
        if isinstance(effect.action, Forbid):
            what = effect.action.what
            for supply in sorted(supplies):
                marks = marks_of_supply(reasoning.plan.supply_by_id[supply])
                if supply == (effect.item or what) or (not effect.item and what in marks):
                    yield effect, supply


def _prohibition(reasoning: Reasoning, visit: Visit, container: str, supply: str, effect: Effect) -> Need:
    instead = effect.action.instead if isinstance(effect.action, Forbid) else ""
    return Need(
        supply,
        visit.key,
        0,
        0,
        per_student=False,
        forbidden=effect.because,
        instead=instead or reasoning.plan.supply_by_id[supply].instead or "",
        container=container,
        because=because_of(effect, visit),
    )


def _without_nothing(reasoning: Reasoning, needs: Sequence[Need]) -> list[Need]:
    """Without prohibitions of what is neither needed by anybody nor in the container."""
    asked = {(need.container, need.supply) for need in needs if need.amount or need.reserve or need.spared}
    held = reasoning.state.contents
    return [
        need
        for need in needs
        if need.amount
        or not need.forbidden
        or (need.container, need.supply) in asked
        or held.get(need.container, {}).get(need.supply, 0)
    ]
