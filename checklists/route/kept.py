"""The route she was going by when something changed: as an entry of the day, and as what the new one begins from.

Visits are named by their keys in it, so that it can be held against a day that has others by now.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from checklists.daybook.entries import KeptAhead, KeptLeg, RouteKept
from checklists.route.legs import Like
from checklists.route.problem import STANDS, Begun, LeftAhead, Leg, RoutePlan, RouteProblem, Session, visit_it_is_for


def keep_route(problem: RouteProblem, plan: RoutePlan) -> tuple[KeptLeg, ...]:
    """A plan by the keys of its visits."""
    keys = [visit.key for visit in problem.visits]
    return tuple(
        KeptLeg(
            tuple(keys[leg.first : leg.last + 1]),
            leg.rides,
            leg.kept,
            tuple(_keep_ahead(problem, keys, leg, each) for each in leg.ahead),
        )
        for leg in plan.legs
    )


def _keep_ahead(problem: RouteProblem, keys: Sequence[str], leg: Leg, each: LeftAhead) -> KeptAhead:
    after = problem.sessions[each.session].after if each.session != STANDS else 0
    return KeptAhead(
        container=each.container,
        visit=keys[visit_it_is_for(problem, leg, each)],
        room=each.room,
        after=keys[after - 1] if after else "",
        stands=each.session == STANDS,
        joins=each.joins,
    )


class KeptNow(Struct, frozen=True):
    """A kept route in the visits there are now."""

    begun: Begun = Begun()
    like: Like | None = None
    stands: tuple[tuple[str, str], ...] = ()
    """Container and room: what was left ahead, as far as she went by it, and was not taken along since."""


def kept_now(kept: RouteKept | None, keys: Sequence[str], sessions: Sequence[Session]) -> KeptNow:
    """What a kept route says of the visits that there are now, by their keys in time order.

    A leg of which no visit is left is gone; a visit that is new belongs to the leg it comes in.
    """
    if kept is None:
        return KeptNow()
    at = {key: n for n, key in enumerate(keys)}
    over = max((at[key] for key in kept.begun if key in at), default=-1) + 1
    there = [leg for leg in kept.legs if any(key in at for key in leg.visits)]
    starts = [min(at[key] for key in leg.visits if key in at) if n else 0 for n, leg in enumerate(there)]
    if not there or starts != sorted(set(starts)):  # a day of quite other visits
        return KeptNow()
    on = _leg_she_is_on(kept)
    out = kept.out and on in there
    legs: list[Leg] = []
    ahead: dict[tuple[str, int], int] = {}
    stands: list[tuple[str, str]] = []
    for first, end, leg in zip(starts, [*starts[1:], len(keys)], there, strict=True):
        has_begun = any(key in kept.begun for key in leg.visits) or (out and leg is on)
        taken: list[LeftAhead] = []
        for each in (one for one in leg.ahead if one.visit in at):
            session = _session_now(kept, each, at, sessions)
            if at[each.visit] < over:
                here = STANDS if each.stands or session is None else session
                taken.append(LeftAhead(each.container, each.room, here, each.joins))
            elif each.stands or has_begun or _is_over(kept, each):
                stands.append((each.container, each.room))
            elif session is not None:
                ahead[each.container, at[each.visit]] = session
        if has_begun:
            set_out_for = max(at[key] for key in leg.visits if key in at)
            under_way = out and leg is on
            last = max(set_out_for, over - 1) if under_way else min(end, max(over, first + 1)) - 1
            legs.append(Leg(first, last, leg.rides, tuple(sorted(taken)), leg.kept))
    like = None if kept.anew else Like(frozenset(starts) - {0}, ahead)
    left = tuple(_left_in_rooms(kept, at, over))
    return KeptNow(Begun(tuple(legs), over, out), like, (*stands, *left))


def _left_in_rooms(kept: RouteKept, at: dict[str, int], over: int) -> Iterator[tuple[str, str]]:
    """What was left ahead for a visit that fell out, or was left behind by one that is over."""
    on = _leg_she_is_on(kept)
    for leg in kept.legs:
        has_begun = any(key in kept.begun for key in leg.visits) or (kept.out and leg is on)
        for each in leg.ahead:
            was_taken = each.stands or has_begun or _is_over(kept, each)
            is_used = each.visit in at and at[each.visit] < over
            if was_taken and (each.visit not in at or (is_used and not each.joins)):
                yield each.container, each.room


def _leg_she_is_on(kept: RouteKept) -> KeptLeg:
    """The leg of the last visit that has begun, or the day's first."""
    return next((leg for leg in reversed(kept.legs) if set(leg.visits) & set(kept.begun)), kept.legs[0])


def _place_after(kept: RouteKept, each: KeptAhead) -> int:
    """Of how many visits of the kept route the session comes after in which something was to be left ahead."""
    order = [key for leg in kept.legs for key in leg.visits]
    return order.index(each.after) + 1 if each.after in order else 0


def _is_over(kept: RouteKept, each: KeptAhead) -> bool:
    """Whether that session was over when the route was kept: she has set out from it."""
    order = [key for leg in kept.legs for key in leg.visits]
    set_out_at = order.index(_leg_she_is_on(kept).visits[0])
    place = _place_after(kept, each)
    return place < len(kept.begun) or (kept.out and place <= set_out_at)


def _session_now(kept: RouteKept, each: KeptAhead, at: dict[str, int], sessions: Sequence[Session]) -> int | None:
    """The same session among those there are now: after the last visit before it that is still one of the day."""
    order = [key for leg in kept.legs for key in leg.visits]
    before = [at[key] for key in order[: _place_after(kept, each)] if key in at]
    after = max(before, default=-1) + 1
    return next((n for n, session in enumerate(sessions) if session.after == after), None)
