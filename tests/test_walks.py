"""Minutes between two places: said, assumed by wing and floor, or by way of the store.

The minutes assumed are common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.plan.records import Habits, Plan
from checklists.walks import STORE, DayWalks, is_upstairs, walk_between, way_named
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


# ------------------------------------------------------------------------------------------------ the walks of a day


def test_to_and_from_a_hall_that_is_closed_and_not_within_it() -> None:
    plan, closed = plan_with({("9", "12"): 2}), {"B": 3}
    day = DayWalks(plan, closed)
    assert [day.minutes(*pair) for pair in ((STORE, "12"), ("9", "12"), ("12", "14"), (STORE, "9"))] == [5, 5, 1, 2]
    assert day.minutes("12", "21") == 2 + 3 + 4 + 3  # by the store: out of the wing and into it again


def test_a_room_and_the_hall_it_is_in_are_both_longer() -> None:
    day = DayWalks(plan_with(), {"B": 3, "14": 2})
    assert [day.minutes(*pair) for pair in ((STORE, "12"), (STORE, "14"), ("12", "14"))] == [5, 7, 3]


def test_without_the_elevator_floors_meet_at_the_store_and_upstairs_stays_as_it_is() -> None:
    plan = plan_with({(STORE, "21"): 6, ("16", "21"): 1, ("21", "23"): 2})
    day = DayWalks(plan, elevator_out=True)
    assert [day.minutes(STORE, room) for room in ("21", "23", "16", "L1")] == [3, 3, 2, 24]
    assert [day.minutes(*pair) for pair in (("16", "21"), ("21", "23"), ("12", "14"))] == [2 + 3, 2, 1]


@pytest.mark.parametrize(
    ("word", "place"),
    [("12", "12"), ("room 12", "12"), ("b", "B"), ("Hall B", "B"), ("wing  a", "A"), ("l1", None), ("C", None)],
)
def test_a_way_is_named_by_a_room_or_a_wing(word: str, place: str | None) -> None:
    assert way_named(plan_with(), word) == place


def longer() -> st.SearchStrategy[dict[str, int]]:
    return st.dictionaries(st.sampled_from(["A", "b", "12", "21", "L1", "nowhere"]), st.integers(0, 30), max_size=3)


@given(plans(), longer(), longer(), st.booleans(), places(), places())
def test_longer_ways_only_add(
    plan: Plan, some: dict[str, int], more: dict[str, int], out: bool, start: str, end: str
) -> None:
    both = {place: some.get(place, 0) + more.get(place, 0) for place in {*some, *more}}
    with_some, with_both = DayWalks(plan, some, out).minutes(start, end), DayWalks(plan, both, out).minutes(start, end)
    assert DayWalks(plan, {}, out).minutes(start, end) <= with_some <= with_both


@given(plans(), longer(), st.booleans(), places(), places())
def test_on_any_day_there_and_back_are_the_same_and_by_the_store_is_the_most(
    plan: Plan, some: dict[str, int], out: bool, start: str, end: str
) -> None:
    day = DayWalks(plan, some, out)
    assert day.minutes(start, end) == day.minutes(end, start)
    if frozenset((start, end)) not in plan.walk_minutes:
        assert day.minutes(start, end) <= day.minutes(start, STORE) + day.minutes(STORE, end)


@given(plans(), longer(), places())
def test_by_the_stairs_it_is_as_far_as_the_stairs_are(plan: Plan, some: dict[str, int], place: str) -> None:
    usual, by_stairs = DayWalks(plan, some), DayWalks(plan, some, elevator_out=True)
    if is_upstairs(plan, place):
        assert by_stairs.minutes(STORE, place) >= plan.school.habits.stairs_minutes
    else:
        assert by_stairs.minutes(STORE, place) == usual.minutes(STORE, place)
