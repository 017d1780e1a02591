"""What rules make of the needs of a visit: replaced, raised, forbidden. Needs by supply are amended in place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import structs

from checklists.lines.need import Need, amount_of, because_of
from checklists.lines.quantities import larger_spare
from checklists.lines.records import Because, Visit
from checklists.plan.records import Plan
from checklists.rules.records import Effect, Forbid, Raise, Replace
from checklists.rules.vocabulary import marks_of_supply
from checklists.words import say_number

FOR_EACH_CHILD = "for each child"
"""What a rule may raise: all that the part itself lists per student or per pair."""


def _matching(plan: Plan, needs: dict[str, Need], what: str, item: str) -> list[Need]:
    """Needs of ordinary supplies that a rule speaks of: those so marked, or "item", the one its conditions found."""
    if what == "item":
        return [needs[item]] if item in needs else []
    if what == FOR_EACH_CHILD:
        return [need for need in needs.values() if need.each]
    return [
        need
        for need in needs.values()
        if not need.adapted
        and need.supply in plan.supply_by_id
        and (what == need.supply or what in marks_of_supply(plan.supply_by_id[need.supply]))
    ]


def replace_part(plan: Plan, needs: dict[str, Need], visit: Visit, effect: Effect, action: Replace) -> tuple[str, ...]:
    """Move an amount from ordinary supplies to the one that takes their place; the total stays.

    What could not be met comes back in words.
    """
    matching = _matching(plan, needs, action.what, effect.item)
    pool = [need for need in matching if need.supply != action.supply and not need.adapted]
    total = sum(need.amount for need in pool)
    if not total and not (action.everything and any(need.reserve or need.spared for need in pool)):
        return ()
    wanted = total if action.everything else amount_of(plan, visit, action)
    left = min(wanted, total)
    supply = plan.name_of_supply(action.supply)
    too_many = f"{visit.name} {visit.class_id}: not enough ordinary ones for all the {supply} that are to replace them."
    if not effect.rule.private:
        too_many = (
            f"{visit.name} {visit.class_id}: {effect.rule.title.lower()} asks for {say_number(wanted)}, "
            f"but there are only {say_number(total)} to replace."
        )
    notes = (too_many,) if wanted > total else ()
    taken_from: list[Need] = []
    for need in pool:
        taken = min(left, need.amount)
        if taken <= 0 and not (action.everything and (need.reserve or need.spared)):
            continue
        left -= taken
        taken_from.append(need)
        if action.everything or (taken >= need.amount and not need.spared):
            del needs[need.supply]
        else:  # the spare is of the ordinary thing, also where every child has an adapted one
            left_over = need.amount - taken
            because = (*need.because, *because_of(effect, visit))
            needs[need.supply] = structs.replace(
                need, amount=left_over, once=min(need.once, left_over), because=because
            )
    if not taken_from:
        return notes
    whole = taken_from[0]
    if action.everything:
        for need in taken_from[1:]:
            whole = _together(whole, need)
    moved = structs.replace(
        whole,
        supply=action.supply,
        amount=min(wanted, total),
        spared=whole.spared if action.everything else 0,
        once=whole.once if action.everything else 0,
        reserve=whole.reserve if action.everything else 0,
        each=whole.each if action.everything else 0,
        spare=whole.spare if action.everything else None,
        raised=whole.raised if action.everything else None,
        critical=action.critical or (whole.critical and action.everything),
        group=action.group or whole.group,
        into="",
        adapted=not action.everything,
        because=(*(whole.because if action.everything else ()), *because_of(effect, visit)),
    )
    before = needs.get(action.supply)
    needs[action.supply] = moved if before is None else _together(before, moved, of=moved)
    return notes


def _together(one: Need, other: Need, of: Need | None = None) -> Need:
    """Two needs of a visit as one: amounts add up, reasons are stacked. What else there is stays as in ``of``."""
    return structs.replace(
        of or one,
        amount=one.amount + other.amount,
        spared=one.spared + other.spared,
        per_student=one.per_student and other.per_student,
        lesson_wide=one.lesson_wide or other.lesson_wide,
        once=one.once + other.once,
        reserve=one.reserve + other.reserve,
        spare=larger_spare(one.spare, other.spare),
        raised=larger_spare(one.raised, other.raised),
        each=one.each + other.each,
        into=(of or one).into or one.into or other.into,
        critical=one.critical or other.critical,
        because=one.because + other.because,
    )


def raise_need(plan: Plan, needs: dict[str, Need], visit: Visit, effect: Effect, action: Raise) -> None:
    for need in _matching(plan, needs, action.what, effect.item):
        needs[need.supply] = structs.replace(
            need,
            amount=need.amount * action.times + need.each * action.sets,
            each=need.each * action.times,
            spared=need.spared * action.times,
            once=need.once * action.times,
            raised=larger_spare(need.raised, action.spare),
            because=(*need.because, *because_of(effect, visit)),
        )


def forbid_all(plan: Plan, needs: dict[str, Need], visit: Visit, effects: Sequence[Effect]) -> None:
    """Mark what must not come along, and put what to use in its place on the list where that is known.

    What comes in place of a thing may be forbidden itself, so this goes on until nothing new is.
    """
    asked = [(effect, effect.action) for effect in effects if isinstance(effect.action, Forbid)]
    done: set[tuple[int, str]] = set()
    goes_on = True
    while goes_on:
        goes_on = False
        for n, (effect, action) in enumerate(asked):
            for need in _matching(plan, needs, action.what, effect.item):
                if (n, need.supply) not in done:
                    done.add((n, need.supply))
                    goes_on = True
                    _forbid(plan, needs, visit, effect, action, need)


def _forbid(plan: Plan, needs: dict[str, Need], visit: Visit, effect: Effect, action: Forbid, need: Need) -> None:
    supply = plan.supply_by_id[need.supply]
    instead = need.instead or action.instead or supply.instead or ""
    needs[need.supply] = structs.replace(
        need, forbidden=effect.because, instead=instead, because=(*need.because, *because_of(effect, visit))
    )
    if need.instead or instead not in plan.supply_by_id:
        return  # a second rule against the same thing does not ask for its replacement twice
    because = because_of(effect, visit, f"in place of {supply.name}: {effect.because}")
    replacing = structs.replace(need, supply=instead, into="", forbidden="", because=because)
    _put_in_place(plan, needs, replacing, {need.supply})


def _put_in_place(plan: Plan, needs: dict[str, Need], replacing: Need, seen: set[str]) -> None:
    """Add what comes in place of something; where that is forbidden as well, also to what comes in its own place."""
    before = needs.get(replacing.supply)
    needs[replacing.supply] = replacing if before is None else _together(before, replacing)
    seen.add(replacing.supply)
    if before is not None and before.forbidden and before.instead in plan.supply_by_id and before.instead not in seen:
        _put_in_place(plan, needs, structs.replace(replacing, supply=before.instead), seen)


def made_safe(plan: Plan, visit: Visit, needs: Iterable[Need], effects: Sequence[Effect]) -> tuple[Need, ...]:
    """What is packed for one visit beside its part, with all that rules replace altogether or forbid."""
    by_supply: dict[str, Need] = {}
    for need in needs:
        before = by_supply.get(need.supply)
        by_supply[need.supply] = need if before is None else _together(before, need)
    for effect in effects:
        if isinstance(effect.action, Replace) and effect.action.everything:
            replace_part(plan, by_supply, visit, effect, effect.action)
    forbid_all(plan, by_supply, visit, effects)
    return tuple(structs.replace(need, critical=False) for need in by_supply.values())


def share_prohibitions(plan: Plan, needs: Sequence[Need]) -> list[Need]:
    """What one class must not meet in a container, its other visits do without as well, if there is something else."""
    instead_of = {(need.container, need.supply): need.instead for need in needs if need.forbidden and need.instead}
    shared: list[Need] = []
    for need in needs:
        instead = instead_of.get((need.container, need.supply), "")
        if need.forbidden or instead not in plan.supply_by_id:
            shared.append(need)
            continue
        name = plan.supply_by_id[need.supply].name
        because = Because(f"in place of {name}, which must not be in a box that others share", (need.visit,))
        shared.append(structs.replace(need, supply=instead, shared=True, because=(*need.because, because)))
    return shared
