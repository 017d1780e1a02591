"""The best route of the reference school's Monday: what rides, what is left ahead, what her own choices cost."""

from __future__ import annotations

from random import Random

import pytest
from msgspec import structs

from checklists.route.problem import Cost, LeftAhead, Leg, RouteContainer, RouteProblem, Session, Standing
from checklists.route.replay import replay
from checklists.route.smallest_changes import smallest_changes, too_much_at
from checklists.route.solve import solve
from checklists.route.told import told
from tests.references.random_routes import a_random_day
from tests.route.days import reference_monday


def best(problem: RouteProblem) -> Cost:
    plan = solve(problem)
    assert plan is not None
    assert replay(problem, plan).faults == ()
    return plan.cost


@pytest.mark.parametrize(
    ("half_slots", "before_school", "cost"),
    [
        (8, 15, Cost(5, 0, 0, 0, 10)),
        (6, 15, Cost(5, 0, 2, 2, 8)),
        (4, 15, Cost(5, 0, 4, 4, 6)),
        (4, 5, Cost(5, 1, 3, 3, 7)),
    ],
)
def test_the_worked_example(half_slots: int, before_school: int, cost: Cost) -> None:
    assert best(reference_monday(half_slots, before_school)) == cost


def test_with_the_small_cart_and_little_time_she_stops_between_v2_and_v3() -> None:
    plan = solve(reference_monday(4, 5))
    assert plan is not None
    assert [(leg.first + 1, leg.last + 1) for leg in plan.legs] == [(1, 2), (3, 4), (5, 7)]
    assert [len(leg.ahead) for leg in plan.legs] == [1, 0, 2]


@pytest.mark.parametrize("seed", range(6))
def test_the_same_day_has_the_same_plan_in_whatever_order_it_is_told(seed: int) -> None:
    chance = Random(seed)
    problem = a_random_day(chance, visits=7, containers=9)
    shuffled = list(problem.containers)
    chance.shuffle(shuffled)
    assert solve(problem) == solve(structs.replace(problem, containers=tuple(shuffled)))


def test_a_stop_she_does_not_want_is_not_made_and_what_that_costs_is_told() -> None:
    problem = reference_monday(4, 5)
    assert solve(structs.replace(problem, no_stop_after=frozenset({2}))) is not None
    assert best(structs.replace(problem, no_stop_after=frozenset({2}))) > best(problem)


def test_nothing_is_left_in_a_room_she_does_not_trust() -> None:
    problem = reference_monday(6, 15, never_in=frozenset({"9"}))
    plan = solve(problem)
    assert plan is not None
    assert all(each.room != "9" for leg in plan.legs for each in leg.ahead)
    assert plan.cost.ahead == 2


def test_a_lighter_cart_leaves_the_heavy_ones_ahead() -> None:
    problem = reference_monday()
    heavy = tuple(structs.replace(each, kilograms=9.0) for each in problem.containers)
    cost = best(structs.replace(problem, containers=heavy, most_kilograms=36.0))
    assert cost == Cost(5, 0, 2, 2, 8)  # 5 containers of 9 kg in a leg, 4 on the cart


# --------------------------------------------------------------------------------------------------- a replay


def tampered(kind: str) -> tuple[RouteProblem, list[Leg], Cost]:
    problem = reference_monday(6, 15)
    plan = solve(problem)
    assert plan is not None
    legs, cost = list(plan.legs), plan.cost
    first = legs[0]
    match kind:
        case "a leg is missing":
            legs = legs[:1]
        case "a container is forgotten":
            legs[0] = structs.replace(first, rides=first.rides[1:])
        case "it rides and stands there":
            legs[0] = structs.replace(first, rides=(*first.rides, first.ahead[0].container))
        case "sharp things are left":
            left = LeftAhead("stitching", "12", 0)
            rides = tuple(each for each in first.rides if each != "stitching")
            legs[0] = structs.replace(first, rides=rides, ahead=(*first.ahead, left))
        case "another room":
            legs[0] = structs.replace(first, ahead=(structs.replace(first.ahead[0], room="23"),))
        case "a later session":
            legs[0] = structs.replace(first, ahead=(structs.replace(first.ahead[0], session=1),))
        case "too much on the cart":
            legs[0] = structs.replace(first, rides=(*first.rides, *(each.container for each in first.ahead)), ahead=())
        case "a cheaper cost":
            cost = structs.replace(cost, late=0)
        case "the break is skipped":
            whole = Leg(0, 6, tuple(sorted({*first.rides, *legs[1].rides})), (*first.ahead, *legs[1].ahead))
            legs = [whole]
        case "no minutes left":
            problem = structs.replace(problem, sessions=(Session(0, 1), Session(4, 30)))
    return problem, legs, cost


@pytest.mark.parametrize(
    "kind",
    [
        "a leg is missing",
        "a container is forgotten",
        "it rides and stands there",
        "sharp things are left",
        "another room",
        "a later session",
        "too much on the cart",
        "a cheaper cost",
        "the break is skipped",
        "no minutes left",
    ],
)
def test_a_plan_that_was_tampered_with_is_refused(kind: str) -> None:
    problem, legs, cost = tampered(kind)
    plan = solve(reference_monday(6, 15))
    assert plan is not None
    assert replay(problem, structs.replace(plan, legs=tuple(legs), cost=cost)).faults


# --------------------------------------------------------------------------------------------------- no plan


def test_where_nothing_fits_it_says_which_visit_and_what_would_help() -> None:
    problem = reference_monday(2, 15)
    assert solve(problem) is None
    # V1 has as much, all of which may be left ahead; Box 3 and the Stitching kit of V3 may not.
    assert too_much_at(problem) == (2, 1)
    changes = smallest_changes(problem)
    assert ("half slots", 1) in [(each.kind, each.by) for each in changes]


def test_what_stands_in_its_room_already_is_not_too_much_there() -> None:
    all_may_be_left = tuple(RouteContainer(each.id, each.size) for each in reference_monday().containers)
    problem = reference_monday(2, 15, containers=all_may_be_left)
    once = tuple(visit if n < 2 else structs.replace(visit, needs=()) for n, visit in enumerate(problem.visits))
    problem = structs.replace(problem, visits=once)
    assert too_much_at(problem) == (0, 1)
    assert too_much_at(structs.replace(problem, standing=(Standing("watercolour", "4"),))) is None


def test_every_small_change_that_is_offered_makes_a_plan_and_of_minutes_no_fewer_do() -> None:
    problem = reference_monday(4, 0, sessions=(Session(0, 0), Session(4, 5)), no_stop_after=frozenset({1, 2, 3, 5, 6}))
    assert solve(problem) is None
    for change in smallest_changes(problem):
        if change.kind == "minutes":
            sessions = list(problem.sessions)
            before = sessions[change.session].minutes
            sessions[change.session] = Session(sessions[change.session].after, before + change.by)
            assert solve(structs.replace(problem, sessions=tuple(sessions))) is not None
            sessions[change.session] = Session(sessions[change.session].after, before + change.by - 1)
            assert solve(structs.replace(problem, sessions=tuple(sessions))) is None


# ---------------------------------------------------------------------------------------------------- in words


def test_told_in_the_order_of_the_day() -> None:
    problem = reference_monday(6, 15)
    plan = solve(problem)
    assert plan is not None
    day = told(problem, plan)
    morning, midday = day.stops
    assert morning.load == 6 and midday.load == 6
    assert midday.is_break and midday.minutes == 2 + 2 + 2
    assert [trip.room for trip in morning.trips] == [plan.legs[0].ahead[0].room]
    assert sum(-way.spare for way in day.ways if way.spare < 0) == plan.cost.late
    assert set(day.behind) == {(each.container, each.room) for leg in plan.legs for each in leg.ahead}


# ------------------------------------------------------------------------------------------------ a locked store


def test_who_waits_for_the_store_is_late_at_the_first_visit_and_nowhere_else() -> None:
    """Open at 8:05 she is in Room 4 at 8:07, seven minutes late, beside the five of any day."""
    problem = reference_monday(8, 15)
    plan, waiting = solve(problem), solve(structs.replace(problem, opens=8 * 60 + 5))
    assert plan is not None and waiting is not None
    assert waiting.cost == structs.replace(plan.cost, late=12)
    assert waiting.legs == plan.legs


def test_who_needs_nothing_from_it_at_first_does_not_wait() -> None:
    """With nothing to bring to V1 she goes there in time, and by the store after it: 2 + 2 + 1 minutes late at V2."""
    problem = reference_monday(8, 15, opens=8 * 60 + 30)
    first = structs.replace(problem.visits[0], needs=())
    plan = solve(structs.replace(problem, visits=(first, *problem.visits[1:])))
    assert plan is not None
    assert plan.legs[0] == Leg(0, 0, ())
    assert plan.cost.late == 4 + 5 and plan.cost.stops == 1
