"""The best route of a day against plain enumeration: every pattern of stops, every way to take everything along.

The cost is added up from the definition alone, as it stands in the docstrings of ``checklists.route.problem``. Days
and visits are drawn by chance; ROUTE_DAYS asks for more of them.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import combinations, product
from random import Random

import pytest

from checklists.route.problem import RouteProblem
from checklists.route.replay import replay
from checklists.route.solve import solve
from tests.references.random_routes import STORE, a_random_day, minutes

DAYS = int(os.environ.get("ROUTE_DAYS", "1200"))
CHUNKS = 6

Way = tuple[str, int]
""" "rides", "joins" or "behind", and the session in which it was taken to its room."""


def patterns_of_stops(problem: RouteProblem) -> Iterator[tuple[int, ...]]:
    """Every set of places between two visits where she may be at the store, the breaks always among them."""
    breaks = {each.after for each in problem.sessions if each.after}
    free = [n for n in range(1, len(problem.visits)) if n not in breaks and n not in problem.no_stop_after]
    for count in range(len(free) + 1):
        for some in combinations(free, count):
            yield tuple(sorted({*some, *breaks}))


def ways_along(problem: RouteProblem, container: str, first: int, end: int) -> Iterator[Way]:
    """How a container may come to the visits ``first`` up to ``end`` (not included) that need it."""
    yield "rides", 0
    users = [n for n, visit in enumerate(problem.visits) if container in visit.needs]
    here = [n for n in users if first <= n < end]
    facts = next(each for each in problem.containers if each.id == container)
    if not facts.may_be_left or problem.visits[here[0]].room in problem.never_in:
        return
    for number, session in enumerate(problem.sessions):
        if session.after <= first and not any(session.after <= n < here[0] for n in users):
            yield "joins", number
            if len(here) == 1 and not any(n >= end for n in users):
                yield "behind", number


def cheapest(problem: RouteProblem) -> tuple[int, ...] | None:
    """Late, stops, ahead, behind, loaded of the best plan; None where none fits."""
    found: tuple[int, ...] | None = None
    for stops in patterns_of_stops(problem):
        starts, ends = (0, *stops), (*stops, len(problem.visits))
        late = 0
        for n in range(1, len(problem.visits)):
            before, visit = problem.visits[n - 1], problem.visits[n]
            way = (
                minutes(problem, before.room, STORE) + problem.handling + minutes(problem, STORE, visit.room)
                if n in stops
                else minutes(problem, before.room, visit.room)
            )
            late += max(0, way - (visit.start - before.end))
        extra = len([n for n in stops if n not in {each.after for each in problem.sessions}])
        legs = []
        for first, end in zip(starts, ends, strict=True):
            needed = sorted({each for visit in problem.visits[first:end] for each in visit.needs})
            legs.append(list(_fitting(problem, needed, first, end)))
        for plan in product(*legs):
            trips = {trip for ways in plan for trip in ways[3]}
            spent = [0] * len(problem.sessions)
            for session, room in trips:
                spent[session] += 2 * minutes(problem, STORE, room) + problem.handling
            if any(used > each.minutes for used, each in zip(spent, problem.sessions, strict=True)):
                continue
            ahead, behind, loaded = (sum(ways[n] for ways in plan) for n in range(3))
            cost = (late, extra, ahead, behind, loaded)
            if found is None or cost < found:
                found = cost
    return found


def _fitting(
    problem: RouteProblem, needed: list[str], first: int, end: int
) -> Iterator[tuple[int, int, int, frozenset[tuple[int, str]]]]:
    """Ahead, behind, loaded and trips of every way to take what a leg needs along that the cart can carry."""
    facts = {each.id: each for each in problem.containers}
    room_of = {each: next(visit.room for visit in problem.visits[first:end] if each in visit.needs) for each in needed}
    seen = set()
    for ways in product(*(ways_along(problem, each, first, end) for each in needed)):
        carried = [facts[each] for each, (how, _) in zip(needed, ways, strict=True) if how != "behind"]
        too_heavy = (
            problem.most_kilograms is not None and sum(each.kilograms for each in carried) > problem.most_kilograms
        )
        if sum(each.size for each in carried) > problem.capacity or too_heavy:
            continue
        left = [
            (how, session, room_of[each]) for each, (how, session) in zip(needed, ways, strict=True) if how != "rides"
        ]
        leg = (
            len(left),
            sum(how == "behind" for how, _, _ in left),
            len(needed) - len(left),
            frozenset((session, room) for _, session, room in left),
        )
        if leg not in seen:
            seen.add(leg)
            yield leg


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_plan_is_cheaper_than_the_one_found(chunk: int) -> None:
    chance = Random(chunk)
    without = 0
    for _ in range(DAYS // CHUNKS):
        problem = a_random_day(chance, visits=chance.randint(1, 5), containers=chance.randint(1, 5))
        best, plan = cheapest(problem), solve(problem)
        if best is None or plan is None:
            assert (best, plan) == (None, None), problem
            without += 1
            continue
        cost = plan.cost
        assert (cost.late, cost.stops, cost.ahead, cost.behind, cost.loaded) == best, problem
        assert replay(problem, plan).faults == ()
    assert without < DAYS // CHUNKS
