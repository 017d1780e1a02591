"""Walks with the cart: minutes between two places, of which the store is one, as far as they are said and where not.

A pair that nobody has said is assumed by wing and floor, else by way of the store, and never longer than that. The
minutes assumed are common practice, no source; all are habits of hers to change.
"""

from __future__ import annotations

from checklists.plan.records import Plan

STORE = "store"


def walk_between(plan: Plan, start: str, end: str) -> int:
    """Minutes with the cart from one place to another on a usual day, either way round."""
    if start == end:
        return 0
    known = plan.walk_minutes.get(frozenset((start, end)))
    if known is not None:
        return known
    if STORE in (start, end):
        return _assumed_from_store(plan, end if start == STORE else start)
    by_store = walk_between(plan, start, STORE) + walk_between(plan, STORE, end)
    near = _assumed_near(plan, start, end)
    return by_store if near is None else min(near, by_store)


def _assumed_from_store(plan: Plan, room: str) -> int:
    habits, building = plan.school.habits, plan.building_of_room.get(room)
    if building is not None:
        return habits.default_walk + building.drive_minutes + building.unload_minutes
    return habits.default_walk + (habits.elevator_minutes if is_upstairs(plan, room) else 0)


def _assumed_near(plan: Plan, start: str, end: str) -> int | None:
    """Where one gets from room to room without the store: in another building, or along the wing they both say."""
    there, here = plan.building_of_room.get(start), plan.building_of_room.get(end)
    if there is not None or here is not None:
        return plan.school.habits.default_walk if there is here else None
    same_wing = wing_of(plan, start) == wing_of(plan, end) != ""
    same_floor = is_upstairs(plan, start) == is_upstairs(plan, end)
    return plan.school.habits.neighbour_minutes if same_wing and same_floor else None


def is_upstairs(plan: Plan, room: str) -> bool:
    known = plan.room_by_id.get(room)
    return known is not None and known.upstairs


def wing_of(plan: Plan, room: str) -> str:
    """The wing a room says, in small letters, so that "B" and "b" are one; "" where it says none."""
    known = plan.room_by_id.get(room)
    return folded(known.wing) if known is not None else ""


def folded(wing: str) -> str:
    return " ".join(wing.split()).casefold()
