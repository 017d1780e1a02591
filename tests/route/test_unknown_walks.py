"""Walks that nobody has said are asked where the answer makes a difference to the day's route, and only there.

Numbers of the reference school, common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.plan.records import Plan
from checklists.plan.walk_notes import with_walk
from checklists.route.day_route import problem_as_planned
from checklists.route.problem import Begun, RouteProblem
from checklists.route.solve import solve
from checklists.route.unknown_walks import UnknownWalk, plausible_minutes, problem_with, walks_to_ask
from checklists.walks import STORE, DayWalks, is_said, walk_between, walks_of
from tests.days import at, opened
from tests.references.random_routes import a_random_day
from tests.schools import MONDAY, reference_school
from tests.some_walks import plan_with, some_walks

SMALL_CART = {"half_slots": 4, "standing": {"scissors": 30}}


def asked(book: Book) -> list[tuple[str, str, int]]:
    day = book.day(MONDAY)
    problem = problem_as_planned(book.plan, day, None)
    return [(each.start, each.end, each.assumed) for each in walks_to_ask(walks_of(book.plan, day), problem)]


def school(folder: Path, *unsaid: tuple[str, str], **facts: Any) -> Book:
    """The reference school in which nobody has said some of the walks."""
    book = opened(reference_school(folder, school=facts))
    pairs = {frozenset(pair) for pair in unsaid}
    kept = tuple(each for each in book.plan.school.walks if frozenset(each.between) not in pairs)
    book.change_school(structs.replace(book.plan.school, walks=kept))
    return book


def test_where_lunch_lies_between_two_rooms_their_walk_is_not_asked(tmp_path: Path) -> None:
    assert asked(school(tmp_path)) == []  # Room 14 to Room 11: 4 min by the store, 80 min between the bells


def test_without_a_minute_between_the_bells_the_walk_is_asked(tmp_path: Path) -> None:
    assert asked(school(tmp_path, ("4", "9"), ("11", "21"))) == [("4", "9", 3), ("11", "21", 6)]


def test_a_walk_from_the_store_is_asked_where_something_may_be_taken_ahead(tmp_path: Path) -> None:
    assert asked(school(tmp_path / "large", (STORE, "9"))) == []
    few_minutes = {"leave_ahead_before_school": 5}
    assert asked(school(tmp_path / "small", (STORE, "9"), cart=SMALL_CART, habits=few_minutes)) == [("store", "9", 2)]


def test_once_it_is_said_it_is_not_asked_again(tmp_path: Path) -> None:
    book = school(tmp_path, ("4", "9"))
    book.change_school(with_walk(book.plan.school, "9", "4", 3))
    assert asked(book) == []


def test_a_walk_of_visits_that_have_begun_is_not_asked(tmp_path: Path) -> None:
    book = school(tmp_path, ("4", "9"), ("11", "21"))
    day = book.day(MONDAY)
    problem = problem_as_planned(book.plan, day, None)
    legs = solve(problem)
    assert legs is not None
    begun = structs.replace(problem, begun=Begun(legs.legs[:1], visits=4))
    assert walks_to_ask(walks_of(book.plan, day), begun) == (UnknownWalk("11", "21", 6),)


def test_of_a_day_without_the_elevator_the_way_upstairs_is_not_asked(tmp_path: Path) -> None:
    book = school(tmp_path, ("11", "21"))
    book.do(MONDAY, Changed(at=at("7:00"), elevator_out=True))
    assert asked(book) == []


# ---------------------------------------------------------------------------------------------------------- the law


def a_day(plan: Plan, seed: int) -> RouteProblem:
    """A day drawn by chance in the rooms of the plan, with the walks of the plan."""
    chance = Random(seed)
    drawn = a_random_day(chance, visits=chance.randint(2, 4), containers=4)
    rooms = {each.room: chance.choice(["9", "12", "14", "21", "L1", "L2"]) for each in drawn.visits}
    visits = tuple(structs.replace(each, room=rooms[each.room]) for each in drawn.visits)
    places = [STORE, *dict.fromkeys(each.room for each in visits)]
    pairs = [(one, other) for n, one in enumerate(places) for other in places[n + 1 :]]
    walks = {pair: walk_between(plan, *pair) for pair in pairs}
    capacity = max(drawn.capacity, 4)
    return structs.replace(drawn, visits=visits, walks=walks, capacity=capacity, never_in=frozenset())


@settings(max_examples=40, deadline=None)
@given(st.builds(plan_with, some_walks()), st.integers(0, 10**6))
def test_a_walk_is_asked_where_and_only_where_one_of_its_plausible_minutes_changes_the_plan(
    plan: Plan, seed: int
) -> None:
    """Every plausible minute is tried here; from room to room first, what is asked counting as said as assumed."""
    problem, walks = a_day(plan, seed), DayWalks(plan)
    found = {frozenset((each.start, each.end)) for each in walks_to_ask(walks, problem)}
    best = solve(problem)
    for start, end in sorted(problem.walks, key=lambda pair: STORE in pair):
        drive = {start, end} & {"L1", "L2"} and not {start, end} <= {"L1", "L2"}
        rooms = [each.room for each in problem.visits]
        used = STORE in (start, end) or {start, end} in [{*pair} for pair in pairwise(rooms)]
        if is_said(walks.plan, start, end) or drive or not used:
            assert frozenset((start, end)) not in found
            continue
        tried = [
            solve(problem_with(walks, problem, start, end, minutes)) for minutes in plausible_minutes(walks, start, end)
        ]
        assert (frozenset((start, end)) in found) == any(each != best for each in tried)
        if frozenset((start, end)) in found:
            assumed = walk_between(walks.plan, start, end)
            school = with_walk(walks.plan.school, start, end, assumed)
            walks = structs.replace(walks, plan=structs.replace(walks.plan, school=school))
