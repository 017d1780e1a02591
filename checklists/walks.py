"""Walks with the cart: the store as a place, and the minutes between two places."""

from __future__ import annotations

from checklists.plan.records import Plan

STORE = "store"


def walk_between(plan: Plan, start: str, end: str) -> int:
    """Minutes with the cart from one place to another; a pair that is not known goes by the store.

    Between rooms of another building it does not: that would be a drive there and back.
    """
    if start == end:
        return 0
    known = plan.walk_minutes.get(frozenset((start, end)))
    if known is not None:
        return known
    there, here = plan.building_of_room.get(start), plan.building_of_room.get(end)
    if STORE in (start, end):
        other = there or here
        return plan.school.habits.default_walk + (other.drive_minutes + other.unload_minutes if other else 0)
    if there is not None and there is here:
        return plan.school.habits.default_walk
    return walk_between(plan, start, STORE) + walk_between(plan, STORE, end)
