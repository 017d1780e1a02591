"""The best route of a day against plain enumeration, complete for up to five visits.

Days are drawn by chance with everything a day brings; half of them have begun and then are told otherwise.
ROUTE_DAYS asks for more of them.
"""

from __future__ import annotations

import os
from random import Random

import pytest

from checklists.route.legs import Like
from checklists.route.problem import RoutePlan, RouteProblem
from checklists.route.replay import replay
from checklists.route.solve import solve
from tests.references.random_days_under_way import a_day_under_way, a_full_day
from tests.references.random_routes import a_random_day
from tests.references.route_by_enumeration import Six, cheapest, different_from

DAYS = int(os.environ.get("ROUTE_DAYS", "1500"))
CHUNKS = 6


def a_day(chance: Random) -> tuple[RouteProblem, Like | None]:
    """A quarter of the days is plain, a quarter brings everything, half of them are under way."""
    visits, containers = chance.randint(1, 5), chance.randint(1, 5)
    kind = chance.randint(1, 4)
    if kind == 1:
        return a_random_day(chance, visits, containers), None
    if kind == 2:
        return a_full_day(chance, visits, containers), None
    begun = a_day_under_way(chance, visits, containers)
    if begun is None:
        return a_day(chance)
    problem, like = begun
    return problem, like if chance.random() < 0.8 else None


def cost_of(problem: RouteProblem, plan: RoutePlan, like: Like | None) -> Six:
    cost = plan.cost
    return cost.late, cost.stops, different_from(problem, plan.legs, like), cost.ahead, cost.behind, cost.loaded


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_plan_is_cheaper_than_the_one_found(chunk: int) -> None:
    chance = Random(chunk)
    without = 0
    for _ in range(DAYS // CHUNKS):
        problem, like = a_day(chance)
        best, plan = cheapest(problem, like), solve(problem, like)
        if best is None or plan is None:
            assert (best, plan) == (None, None), (problem, like)
            without += 1
            continue
        assert replay(problem, plan).faults == (), (problem, like)
        assert cost_of(problem, plan, like) == best, (problem, like)
    assert without < DAYS // CHUNKS // 2
