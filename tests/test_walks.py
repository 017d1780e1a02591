"""Minutes between two places: said, assumed by wing and floor, or by way of the store.

The minutes assumed are common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given

from checklists.plan.records import Habits, Plan
from checklists.walks import STORE, walk_between
from tests.some_walks import places, plan_with, plans


@pytest.mark.parametrize(
    ("start", "end", "minutes", "why"),
    [
        (STORE, "12", 2, "a usual walk"),
        (STORE, "21", 2 + 2, "a usual walk and the elevator"),
        ("12", "14", 1, "neighbours: wing B, one floor"),
        ("21", "23", 1, "neighbours upstairs"),
        ("12", "21", 2 + 4, "one wing and two floors: by the store"),
        ("9", "12", 2 + 2, "two wings: by the store"),
        ("16", "9", 2 + 2, "of Room 16 nobody said the wing"),
        ("16", "a room nobody knows", 2 + 2, "of neither anybody said the wing"),
        (STORE, "L1", 2 + 15 + 7, "a drive, the unloading and a usual walk"),
        ("L1", "L2", 2, "in the other building, not by the store"),
        ("12", "L1", 2 + 24, "by the store to the other building"),
    ],
)
def test_a_walk_that_nobody_has_said_is_assumed(start: str, end: str, minutes: int, why: str) -> None:
    assert walk_between(plan_with(), start, end) == minutes, why


def test_a_walk_that_is_said_is_taken_as_it_is_said() -> None:
    plan = plan_with({(STORE, "21"): 3, ("12", "14"): 7, ("9", "12"): 2})
    assert [walk_between(plan, *pair) for pair in ((STORE, "21"), ("12", "14"), ("12", "9"))] == [3, 7, 2]
    assert walk_between(plan, "21", "16") == 3 + 2


def test_neighbours_beside_the_store_are_no_farther_apart_than_by_the_store() -> None:
    plan = plan_with({(STORE, "12"): 0, (STORE, "14"): 1}, Habits(neighbour_minutes=4))
    assert walk_between(plan, "12", "14") == 1


def test_her_own_habits_come_first() -> None:
    plan = plan_with(habits=Habits(default_walk=3, elevator_minutes=5, neighbour_minutes=2))
    assert [walk_between(plan, *pair) for pair in ((STORE, "9"), (STORE, "21"), ("21", "23"))] == [3, 8, 2]


@given(plans(), places(), places())
def test_there_and_back_are_the_same_and_to_where_one_is_it_is_no_way(plan: Plan, start: str, end: str) -> None:
    assert walk_between(plan, start, end) == walk_between(plan, end, start) >= 0
    assert walk_between(plan, start, start) == 0


@given(plans(), places(), places())
def test_what_nobody_has_said_is_never_longer_than_by_the_store(plan: Plan, start: str, end: str) -> None:
    if frozenset((start, end)) not in plan.walk_minutes:
        assert walk_between(plan, start, end) <= walk_between(plan, start, STORE) + walk_between(plan, STORE, end)
