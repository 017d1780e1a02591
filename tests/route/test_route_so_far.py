"""A route that was written down when something changed, read back on the day as it is told by then."""

from __future__ import annotations

from datetime import datetime
from random import Random

import pytest
from msgspec import structs

from checklists.daybook.entries import RouteKept
from checklists.route.day_route import is_same_way
from checklists.route.kept import KeptNow, keep_route, kept_now
from checklists.route.legs import Like
from checklists.route.problem import Begun, LeftAhead, Leg, RoutePlan, RouteProblem, Session, Standing
from checklists.route.replay import replay
from checklists.route.solve import solve
from checklists.route.told import Stranded, told
from tests.references.random_days_under_way import a_full_day, cut, next_use, places_to_cut
from tests.route.days import reference_monday

DAYS = 40
CHUNKS = 3


def best(problem: RouteProblem, like: Like | None = None) -> RoutePlan:
    plan = solve(problem, like)
    assert plan is not None
    assert replay(problem, plan).faults == ()
    assert told(problem, plan).stops
    return plan


def written_down(problem: RouteProblem, plan: RoutePlan, over: int, *, out: bool) -> RouteKept:
    begun = tuple(visit.key for visit in problem.visits[:over])
    return RouteKept(at=datetime(2026, 10, 5, 9), legs=keep_route(problem, plan), begun=begun, out=out)


def read_back(problem: RouteProblem, kept: RouteKept, gone: tuple[str, ...] = ()) -> KeptNow:
    keys = [visit.key for visit in problem.visits if visit.key not in gone]
    return kept_now(kept, keys, problem.sessions)


def with_it(problem: RouteProblem, now: KeptNow) -> RouteProblem:
    """The same day as it goes on from there: what stood there before and was not used yet stands there still."""
    over = now.begun.visits
    there = set(now.stands) | {
        (each.container, each.room)
        for each in problem.standing
        if next_use(problem, each.container, problem.begun.visits) >= over
    }
    standing = []
    for each in problem.containers:
        n = next_use(problem, each.id, over)
        if n < len(problem.visits) and (each.id, problem.visits[n].room) in there:
            standing.append(Standing(each.id, problem.visits[n].room))
    return structs.replace(problem, begun=now.begun, standing=tuple(sorted(standing)))


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_day_that_goes_as_planned_keeps_its_route_whenever_it_is_asked_anew(chunk: int) -> None:
    chance = Random(chunk)
    asked = 0
    for n in range(DAYS):
        problem = a_full_day(chance, visits=chance.randint(1, 7), containers=chance.randint(1, 7))
        first = plan = solve(problem)
        if first is None or plan is None:
            continue
        for over, out in places_to_cut(first):
            now = read_back(problem, written_down(problem, plan, over, out=out))
            later = with_it(problem, now)
            again = best(later, now.like)
            assert is_same_way(again, first), (problem, over, out)
            assert [leg.kept for leg in again.legs] == [leg.kept for leg in first.legs]
            asked += 1
            if n % 2:  # and the next time from what was written down now
                problem, plan = later, again
    assert asked > 2 * DAYS


def test_what_is_read_back_is_the_day_so_far_and_the_plan_for_the_rest() -> None:
    chance = Random(9)
    for _ in range(DAYS):
        problem = a_full_day(chance, visits=chance.randint(1, 6), containers=chance.randint(1, 6))
        plan = solve(problem)
        for over, out in places_to_cut(plan) if plan is not None else ():
            assert plan is not None
            now = read_back(problem, written_down(problem, plan, over, out=out))
            there, like = cut(problem, plan, over, out=out)
            expected = [structs.replace(leg, ahead=tuple(sorted(leg.ahead))) for leg in there.begun.legs]
            assert now.begun == structs.replace(there.begun, legs=tuple(expected))
            assert now.like == like
            assert with_it(problem, now).standing == there.standing


# -------------------------------------------------------------------------------- the reference school's Monday


def test_what_waits_for_a_break_is_not_taken_there_because_the_class_before_the_break_is_away() -> None:
    problem = reference_monday(6, 15)
    plan = best(problem)
    (left,) = plan.legs[1].ahead
    assert problem.sessions[left.session] == Session(4, 30)
    kept = written_down(problem, plan, 2, out=True)
    sessions = (Session(0, 15), Session(3, 30))  # without P4 the long break comes after three visits
    keys = [visit.key for visit in problem.visits if visit.key != "P4 3-K"]
    now = kept_now(kept, keys, sessions)
    assert left.container not in dict(now.stands)
    assert now.like is not None and list(now.like.ahead.values()) == [1]


def test_what_stayed_behind_in_a_room_and_is_needed_again_is_fetched_first() -> None:
    problem = reference_monday(4, 15)
    plan = best(problem)
    assert LeftAhead("box-K", "4", 0) in plan.legs[0].ahead
    kept = written_down(problem, plan, 2, out=True)
    last = problem.visits[6]
    visits = (*problem.visits[:6], structs.replace(last, needs=(*last.needs, "box-K")))
    now = kept_now(kept, [visit.key for visit in visits], problem.sessions)
    assert ("box-K", "4") in now.stands
    later = with_it(structs.replace(problem, visits=visits), now)
    stops = told(later, best(later, now.like), [Stranded("box-K", "4", 4)]).stops
    assert [stop.fetch for stop in stops] == [(), (("box-K", "4", 4),)]


def test_when_the_class_she_has_come_for_is_away_she_is_still_out_with_what_rides() -> None:
    problem = reference_monday(4, 5)
    plan = best(problem)
    assert [(leg.first, leg.last) for leg in plan.legs] == [(0, 1), (2, 3), (4, 6)]
    now = read_back(problem, written_down(problem, plan, 3, out=True), gone=("P3 3-B",))
    assert now.begun.out and now.begun.visits == 2
    assert [(leg.first, leg.last, leg.rides) for leg in now.begun.legs] == [
        (0, 1, plan.legs[0].rides),
        (2, 2, plan.legs[1].rides),
    ]


def test_when_every_class_of_the_leg_is_away_the_next_leg_begins_at_the_store() -> None:
    problem = reference_monday(4, 5)
    plan = best(problem)
    now = read_back(problem, written_down(problem, plan, 3, out=True), gone=("P3 3-B", "P4 3-K"))
    assert not now.begun.out and now.begun.visits == 2
    assert [leg.first for leg in now.begun.legs] == [0]


def test_a_leg_under_way_does_not_go_on_to_a_class_whose_folder_is_at_the_store() -> None:
    problem = reference_monday(20, 15, sessions=(Session(0, 15),), stop_after=frozenset({4}))
    one_box = tuple(structs.replace(visit, needs=("box-1",)) for visit in problem.visits)
    problem = structs.replace(problem, visits=one_box, folders_on_top=20, folder_size=1)
    begun = Begun((Leg(0, 3, ("box-1",)),), 2, out=True)
    free = structs.replace(problem, begun=begun, stop_after=frozenset())
    assert len(best(free).legs) == 1
    folders = (*one_box[:4], structs.replace(one_box[4], folders=1), *one_box[5:])
    with_folder = structs.replace(free, visits=folders)
    assert [leg.first for leg in best(with_folder).legs] == [0, 4]
    too_far = structs.replace(best(free), legs=(Leg(0, 6, ("box-1",)),))
    assert any("folders" in fault for fault in replay(with_folder, too_far).faults)


def test_a_container_put_down_on_the_way_stands_there_and_does_not_ride_as_well() -> None:
    problem = reference_monday(6, 15)
    begun = Begun((Leg(0, 3, ("box-3", "stitching", "box-1")),), 3, out=True)
    problem = structs.replace(problem, begun=begun, standing=(Standing("box-3", "14"),))
    first = best(problem).legs[0]
    assert "box-3" in first.rides
    assert [(each.container, each.room, each.joins) for each in first.ahead] == [("box-3", "14", False)]


def test_tenths_of_a_kilogram_that_come_to_the_limit_exactly_are_carried() -> None:
    problem = reference_monday(20, 15)
    masses = {"box-K": 2.2, "watercolour": 3.6}
    weighed = tuple(structs.replace(each, kilograms=masses.get(each.id, 0)) for each in problem.containers)
    assert 2.2 + 3.6 > 5.8  # in binary fractions
    assert best(structs.replace(problem, containers=weighed, most_kilograms=5.8)).cost.ahead == 0
