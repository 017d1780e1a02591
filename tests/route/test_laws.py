"""What holds of the best route on any day: the order of the telling, her wishes, what was taken ahead as planned."""

from __future__ import annotations

from random import Random

import pytest
from msgspec import structs

from checklists.route.day_route import is_same_way
from checklists.route.legs import Like
from checklists.route.problem import RouteProblem, Standing
from checklists.route.solve import solve
from tests.references.random_days_under_way import a_day_under_way, a_full_day, cut

DAYS = 80


def told_in_another_order(chance: Random, problem: RouteProblem) -> RouteProblem:
    containers, walks, standing = list(problem.containers), list(problem.walks.items()), list(problem.standing)
    for each in (containers, walks, standing):
        chance.shuffle(each)
    turned = {(end, start) if chance.random() < 0.5 else (start, end): minutes for (start, end), minutes in walks}
    return structs.replace(problem, containers=tuple(containers), walks=turned, standing=tuple(standing))


@pytest.mark.parametrize("seed", range(2))
def test_the_same_day_has_the_same_route_in_whatever_order_it_is_told(seed: int) -> None:
    chance = Random(seed)
    for _ in range(DAYS):
        begun = a_day_under_way(chance, chance.randint(2, 7), chance.randint(2, 8))
        if begun is not None:
            problem, like = begun
            assert solve(problem, like) == solve(told_in_another_order(chance, problem), like), (problem, like)


@pytest.mark.parametrize("seed", range(2))
def test_a_wish_never_makes_a_day_cheaper(seed: int) -> None:
    chance = Random(10 + seed)
    dearer = 0
    for _ in range(DAYS):
        problem = a_full_day(chance, chance.randint(2, 7), chance.randint(2, 8))
        place = chance.randint(1, len(problem.visits) - 1)
        room, container = chance.choice(problem.visits).room, chance.choice(problem.containers).id
        wishes = [
            structs.replace(problem, never_in=problem.never_in | {room}),
            structs.replace(problem, must_ride=problem.must_ride | {container}),
        ]
        if place not in problem.no_stop_after:  # the wish for a stop would take the other one back
            wishes.append(structs.replace(problem, stop_after=problem.stop_after | {place}))
        if place not in problem.stop_after | {each.after for each in problem.sessions}:  # nor a break she need not take
            wishes.append(structs.replace(problem, no_stop_after=problem.no_stop_after | {place}))
        free = solve(problem)
        for wish in wishes:
            found = solve(wish)
            if found is not None:
                assert free is not None and free.cost <= found.cost, wish
                dearer += free.cost < found.cost
    assert dearer > DAYS // 8


@pytest.mark.parametrize("seed", range(2))
def test_what_is_taken_ahead_as_planned_changes_nothing_of_the_rest(seed: int) -> None:
    chance = Random(20 + seed)
    taken = 0
    for _ in range(5 * DAYS):
        problem = a_full_day(chance, chance.randint(3, 7), chance.randint(4, 8))
        plan = solve(problem)
        morning = [each for leg in (plan.legs if plan else ()) for each in leg.ahead if each.session == 0]
        if plan is None or not morning:
            continue
        room = chance.choice(morning).room
        there = tuple(Standing(each.container, each.room) for each in morning if each.room == room)
        session = problem.sessions[0]
        been = structs.replace(session, been=tuple(sorted({*session.been, room})))
        _, like = cut(problem, plan, 0, out=False)
        left = {key: at for key, at in like.ahead.items() if key[0] not in {each.container for each in there}}
        later = structs.replace(
            problem, standing=tuple(sorted((*problem.standing, *there))), sessions=(been, *problem.sessions[1:])
        )
        again = solve(later, Like(like.stops, left))
        assert again is not None and is_same_way(plan, again), problem
        taken += 1
    assert taken > DAYS // 4
