"""Plans that are nothing but rooms and walks: two floors, two wings, a second building."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from hypothesis import strategies as st

from checklists.plan.records import Bells, Building, Habits, Plan, Room, School, Walk
from checklists.walks import STORE

ROOMS = (
    Room("9", wing="A"),
    Room("12", wing="B"),
    Room("14", wing=" b "),
    Room("16"),
    Room("21", wing="B", upstairs=True),
    Room("23", wing="B", upstairs=True),
)
USUAL = Habits()
FAR = Building("Lower Brindle", rooms=("L1", "L2"))
PLACES = (STORE, *(room.id for room in ROOMS), "L1", "L2")


def plan_with(walks: Mapping[tuple[str, str], int] = {}, habits: Habits = USUAL) -> Plan:
    """The rooms of ``ROOMS`` and ``FAR``, with the walks that somebody has said."""
    school = School(
        format=1,
        name="Tansy Hollow",
        first_day=date(2026, 8, 31),
        last_day=date(2027, 6, 11),
        bells=(Bells(id="regular"),),
        rooms=ROOMS,
        walks=tuple(Walk(pair, minutes) for pair, minutes in walks.items()),
        buildings=(FAR,),
        habits=habits,
    )
    return Plan(school, (), {}, {}, (), (), (), ())


def some_walks() -> st.SearchStrategy[dict[tuple[str, str], int]]:
    """Walks that somebody has said, of some pairs, each pair once."""
    pairs = [(one, other) for n, one in enumerate(PLACES) for other in PLACES[n + 1 :]]
    return st.dictionaries(st.sampled_from(pairs), st.integers(0, 12), max_size=8)


def plans() -> st.SearchStrategy[Plan]:
    minutes = st.integers(0, 9)
    habits = st.builds(Habits, default_walk=minutes, elevator_minutes=minutes, neighbour_minutes=minutes)
    return st.builds(plan_with, some_walks(), habits)


def places() -> st.SearchStrategy[str]:
    return st.sampled_from([*PLACES, "a room nobody knows"])
