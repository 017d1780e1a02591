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
    together = share_prohibitions(reasoning.plan, needs)
    for _ in range(MOST_ROUNDS):
        found = list(_met_unasked(reasoning, day, judged, together))
        if not found:
            break
        together = share_prohibitions(reasoning.plan, [*together, *found])
    return _without_nothing(reasoning, together)


def _met_unasked(reasoning: Reasoning, day: date, judged: Sequence[Judged], needs: Sequence[Need]) -> Iterator[Need]:
    """Prohibitions of what a visit would meet in its containers without asking for it."""
    for one in judged:
        if one.stopped or not one.by_step:
            continue
        unasked = _unasked(reasoning, one.visit.key, needs)
        for effect, supply in _forbidden(reasoning, day, one, {supply for _, supply in unasked}):
            for (container, each), stands in unasked.items():
                if each == supply and (stands or effect.rule.private):
                    yield _prohibition(reasoning, one.visit, container, supply, effect)


def _unasked(reasoning: Reasoning, visit: str, needs: Sequence[Need]) -> dict[tuple[str, str], bool]:
    """Container and supply of what a visit has along unasked -> whether it stands there, the cart apart."""
    mine = [need for need in needs if need.visit == visit]
    along = dict.fromkeys((CART, *(need.container for need in mine)))
    asked = {(need.container, need.supply) for need in mine}
    settled = {(need.container, need.supply) for need in mine if need.forbidden or not need.shared}
    found: dict[tuple[str, str], bool] = {}
    for container in along:
        for supply, count in reasoning.state.contents.get(container, {}).items():
            if count and supply in reasoning.plan.supply_by_id and (container, supply) not in asked:
                found[container, supply] = container != CART
    for need in needs:
        place = need.container, need.supply
        if need.container in along and not need.forbidden and place not in settled:
            found.setdefault(place, False)
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
