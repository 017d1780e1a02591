"""Best routes of random days with one thing changed: what is still a plan is never cheaper than the best one.

A replay that let something pass would find such a cheaper plan sooner or later; and each kind of change that cannot be
is refused in words.
"""

from __future__ import annotations

from random import Random

import pytest
from msgspec import structs

from checklists.route.problem import STANDS, Begun, Cost, LeftAhead, Leg, RoutePlan, RouteProblem, Session, Standing
from checklists.route.replay import replay
from checklists.route.solve import solve
from tests.references.random_days_under_way import a_day_under_way, a_full_day
from tests.references.route_by_enumeration import cheapest
from tests.route.days import reference_monday

DAYS = 200
CHUNKS = 3
CHANGES = 12
"""For each day."""


def with_one_thing_changed(chance: Random, problem: RouteProblem, plan: RoutePlan) -> RoutePlan:
    """Stops, what rides, what is left ahead, where, when and whether it joins, and what stays on the cart."""
    legs = list(plan.legs)
    n = chance.randrange(len(legs))
    leg = legs[n]
    kind = chance.choice(
        ("one leg", "two legs", "end", "rides", "left", "taken along", "left otherwise", "kept", "more")
    )
    names = sorted(each.id for each in problem.containers) or ["box 1"]
    if kind == "one leg" and n + 1 < len(legs):
        after = legs.pop(n + 1)
        rides = tuple(sorted({*leg.rides, *after.rides} - {each.container for each in (*leg.ahead, *after.ahead)}))
        legs[n] = Leg(leg.first, after.last, rides, tuple(sorted({*leg.ahead, *after.ahead})), leg.kept)
    elif kind == "two legs" and leg.first < leg.last:
        at = chance.randint(leg.first + 1, leg.last)
        halves = (_part(problem, leg, leg.first, at - 1), _part(problem, leg, at, leg.last))
        legs[n : n + 1] = halves
    elif kind == "end" and n + 1 < len(legs):
        at = leg.last + chance.choice((-1, 1))
        legs[n] = structs.replace(leg, last=at)
        legs[n + 1] = structs.replace(legs[n + 1], first=at + 1)
    elif kind == "rides" and leg.rides:
        legs[n] = structs.replace(leg, rides=tuple(each for each in leg.rides if each != chance.choice(leg.rides)))
    elif kind == "left" and leg.rides:
        each = chance.choice(leg.rides)
        rooms = sorted({visit.room for visit in problem.visits[leg.first : leg.last + 1] if each in visit.needs})
        session = chance.randint(STANDS, len(problem.sessions) - 1)
        left = LeftAhead(each, chance.choice(rooms or ["1"]), session, joins=chance.random() < 0.5)
        rides = tuple(one for one in leg.rides if one != each)
        legs[n] = structs.replace(leg, rides=rides, ahead=tuple(sorted((*leg.ahead, left))))
    elif kind == "taken along" and leg.ahead:
        one = chance.choice(leg.ahead)
        rides = tuple(sorted((*leg.rides, one.container)))
        legs[n] = structs.replace(leg, rides=rides, ahead=tuple(each for each in leg.ahead if each != one))
    elif kind == "left otherwise" and leg.ahead:
        one = chance.choice(leg.ahead)
        other = chance.choice(
            (
                structs.replace(one, joins=not one.joins),
                structs.replace(one, session=chance.randint(STANDS, len(problem.sessions) - 1)),
                structs.replace(one, room=chance.choice(problem.visits).room),
            )
        )
        legs[n] = structs.replace(leg, ahead=tuple(other if each == one else each for each in leg.ahead))
    elif kind == "kept":
        legs[n] = structs.replace(leg, kept=tuple(sorted(set(leg.kept) ^ {chance.choice(names)})))
    elif kind == "more":
        legs[n] = structs.replace(leg, rides=tuple(sorted({*leg.rides, chance.choice(names)})))
    changed = RoutePlan(tuple(legs), plan.cost)
    return structs.replace(changed, cost=replay(problem, changed).cost)


def _part(problem: RouteProblem, leg: Leg, first: int, last: int) -> Leg:
    needs = {each for visit in problem.visits[first : last + 1] for each in visit.needs}
    ahead = tuple(each for each in leg.ahead if each.container in needs)
    return Leg(first, last, tuple(each for each in leg.rides if each in needs), ahead)


def figures(cost: Cost) -> tuple[int, ...]:
    return cost.late, cost.stops, cost.ahead, cost.behind, cost.loaded


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_plan_that_the_replay_lets_pass_is_never_cheaper_than_the_best(chunk: int) -> None:
    chance = Random(chunk)
    passed = refused = 0
    for _ in range(DAYS // CHUNKS):
        visits, containers = chance.randint(1, 5), chance.randint(1, 5)
        under_way = a_day_under_way(chance, visits, containers)
        problem = under_way[0] if under_way is not None else a_full_day(chance, visits, containers)
        plan = solve(problem)
        if plan is None:
            continue
        best = cheapest(problem)
        assert best is not None
        for _ in range(CHANGES):
            changed = with_one_thing_changed(chance, problem, plan)
            if replay(problem, changed).faults:
                refused += 1
                continue
            passed += 1
            assert figures(changed.cost) >= (*best[:2], *best[3:]), (problem, changed)
    assert passed > DAYS // CHUNKS and refused > 2 * DAYS // CHUNKS


# -------------------------------------------------------------------------------- on the reference school's Monday


def under_way() -> tuple[RouteProblem, RoutePlan]:
    """The second leg of a small cart's day after its first visit, Box 2 standing in Room 11 already."""
    problem = reference_monday(4, 5)
    plan = solve(problem)
    assert plan is not None
    begun = Begun((plan.legs[0], structs.replace(plan.legs[1], first=2, last=3)), 3, out=True)
    problem = structs.replace(problem, begun=begun, standing=(Standing("box-2", "11"),), must_ride=frozenset({"box-5"}))
    plan = solve(problem)
    assert plan is not None and replay(problem, plan).faults == ()
    return problem, plan


def refused(problem: RouteProblem, plan: RoutePlan, n: int, leg: Leg) -> str:
    """The faults of the plan with another leg in the place of one, its cost added up rightly."""
    changed = RoutePlan((*plan.legs[:n], leg, *plan.legs[n + 1 :]), plan.cost)
    changed = structs.replace(changed, cost=replay(problem, changed).cost)
    return " ".join(replay(problem, changed).faults)


def test_a_leg_that_is_over_is_as_it_was() -> None:
    problem, plan = under_way()
    leg = plan.legs[0]
    assert "otherwise" in refused(problem, plan, 0, structs.replace(leg, rides=leg.rides[1:]))
    assert "otherwise" in refused(problem, plan, 0, structs.replace(leg, ahead=()))


def test_a_leg_under_way_does_not_end_before_the_visit_she_is_at() -> None:
    problem, plan = under_way()
    begun = structs.replace(problem.begun, visits=4)
    short = (*plan.legs[:1], structs.replace(plan.legs[1], last=2), Leg(3, 3, plan.legs[1].rides), *plan.legs[2:])
    changed = RoutePlan(short, plan.cost)
    assert "cannot end there" in " ".join(replay(structs.replace(problem, begun=begun), changed).faults)


def test_what_stands_in_a_room_is_taken_as_it_is() -> None:
    problem, plan = under_way()
    leg = plan.legs[2]
    (stands,) = [each for each in leg.ahead if each.session == STANDS]
    others = tuple(each for each in leg.ahead if each != stands)
    as_ridden = structs.replace(leg, rides=("box-2", *leg.rides), ahead=others)
    assert "box-2 stands in 11 and is not taken as it is" in refused(problem, plan, 2, as_ridden)
    taken_again = structs.replace(leg, ahead=(*others, structs.replace(stands, session=1)))
    assert refused(problem, plan, 2, taken_again)
    joins = structs.replace(leg, ahead=(*others, structs.replace(stands, joins=True)))
    assert "joins and is not needed again" in refused(problem, plan, 2, joins)
    other = structs.replace(leg, rides=tuple(each for each in leg.rides if each != "printing"))
    other = structs.replace(other, ahead=(*leg.ahead, LeftAhead("printing", "11", STANDS)))
    assert "does not stand there" in refused(problem, plan, 2, other)


def test_a_time_at_the_store_that_is_over_is_not_used() -> None:
    problem, plan = under_way()
    leg = plan.legs[2]
    one = next(each for each in leg.ahead if each.session != STANDS)
    earlier = tuple(structs.replace(each, session=0) if each == one else each for each in leg.ahead)
    assert "that session is over" in refused(problem, plan, 2, structs.replace(leg, ahead=earlier))


def test_what_must_ride_is_not_left_ahead() -> None:
    problem, plan = under_way()
    leg = plan.legs[2]
    left = structs.replace(leg, rides=tuple(each for each in leg.rides if each != "box-5"))
    left = structs.replace(left, ahead=(*leg.ahead, LeftAhead("box-5", "23", 1)))
    assert "box-5 left ahead in 23: it may not be left" in refused(problem, plan, 2, left)


def test_neither_a_folder_nor_a_kept_container_too_many() -> None:
    problem = reference_monday(8, 15)
    plan = solve(problem)
    assert plan is not None
    more = tuple(structs.replace(visit, folders=1) for visit in problem.visits)
    crowded = structs.replace(problem, visits=more, folders_on_top=3, folder_size=1)
    assert "9 half slots on a cart of 8" in " ".join(replay(crowded, plan).faults)
    kept = structs.replace(plan.legs[1], kept=("box-1",))
    said = refused(structs.replace(problem, capacity=8), plan, 1, kept)
    assert "box-1 stays on the cart and does not ride again" in said and "half slots" in said


def test_a_stop_she_always_makes_and_one_too_many_rooms() -> None:
    problem = reference_monday(6, 15)
    plan = solve(problem)
    assert plan is not None
    wanted = structs.replace(problem, stop_after=frozenset({2}))
    assert "After visit 2 there is no stop" in " ".join(replay(wanted, plan).faults)
    been = structs.replace(problem, sessions=(Session(0, 15, been=("21", "23")), Session(4, 30)))
    assert "of the 15 there are" in " ".join(replay(been, plan).faults)


def test_a_cost_that_is_not_its_own() -> None:
    problem, plan = under_way()
    for name in ("late", "stops", "ahead", "behind", "loaded"):
        cheaper = structs.replace(plan.cost, **{name: getattr(plan.cost, name) - 1})
        assert "and says" in " ".join(replay(problem, structs.replace(plan, cost=cheaper)).faults)
