"""What stays on the cart at a stop though the next visits do not need it: what for, how long, and how it is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec import structs

from checklists.pages.route_json import route_as_json
from checklists.pages.route_timeline import route_timeline
from checklists.route.day_route import DayRoute, problem_as_planned
from checklists.route.keeping import kept_in, with_kept
from checklists.route.problem import Begun, LeftAhead, Leg, RouteContainer, RoutePlan, RouteProblem, RouteVisit, Session
from checklists.route.replay import replay
from checklists.route.solve import solve
from checklists.route.told import told
from tests.days import MONDAY, opened
from tests.schools import reference_school


def a_day(needs: str, half_slots: int, **changes: float) -> RouteProblem:
    """A visit for each word, a stop after each; a container for each letter, of one half slot, and its mass if told."""
    words = needs.split()
    return RouteProblem(
        visits=tuple(RouteVisit(f"V{n}", "9", 10 * n, 10 * n, tuple(word)) for n, word in enumerate(words, 1)),
        containers=tuple(RouteContainer(each, 1, changes.get(each, 0)) for each in sorted({*needs} - {" "})),
        capacity=half_slots,
        walks={("store", "9"): 1},
        handling=2,
        sessions=(Session(0, 0),),
        most_kilograms=changes.get("most_kilograms"),
        stop_after=frozenset(range(1, len(words))),
    )


def kept_on(problem: RouteProblem) -> list[str]:
    plan = solve(problem)
    assert plan is not None
    assert replay(problem, plan).faults == ()
    return ["".join(leg.kept) for leg in plan.legs]


def test_a_box_that_is_needed_again_after_another_visit_stays_on_where_there_is_room() -> None:
    assert kept_on(a_day("A B A", 2)) == ["", "A", ""]
    assert kept_on(a_day("A B A", 1)) == ["", "", ""]


def test_a_box_that_is_not_needed_any_more_comes_off() -> None:
    assert kept_on(a_day("A B C", 8)) == ["", "", ""]


def test_of_two_that_could_stay_the_heavy_one_does_and_else_the_first_by_name() -> None:
    assert kept_on(a_day("AB C AB", 2, B=4.0, A=1.5)) == ["", "B", ""]
    assert kept_on(a_day("AB C AB", 2)) == ["", "A", ""]


def test_two_light_ones_stay_rather_than_a_heavy_one() -> None:
    heavy = {"A": 5.0, "B": 1.0, "C": 1.0, "D": 1.0, "most_kilograms": 8.0}
    assert kept_on(a_day("ABC D ABC", 3, **heavy)) == ["", "AB", ""]
    assert kept_on(a_day("ABC D ABC", 9, **(heavy | {"D": 5.0}))) == ["", "BC", ""]


def test_what_stays_does_not_make_the_plan_cost_less_or_more() -> None:
    plan = solve(a_day("A B A", 2))
    assert plan is not None
    assert plan.cost.loaded == 3


def test_what_was_left_ahead_stays_on_once_it_has_joined() -> None:
    problem = a_day("A B A", 2)
    legs = [Leg(0, 0, (), (LeftAhead("A", "9", 0, joins=True),)), Leg(1, 1, ("B",)), Leg(2, 2, ("A",))]
    assert kept_in(problem, legs) == ((), ("A",), ())
    legs[0] = Leg(0, 0, ("A",))
    legs[2] = Leg(2, 2, (), (LeftAhead("A", "9", 0),))
    assert kept_in(problem, legs) == ((), (), ())  # it is taken to its room from the store


def test_in_legs_that_have_begun_it_is_as_they_say() -> None:
    problem = a_day("AB C C AB", 3)
    legs = with_kept(problem, [Leg(0, 0, ("A", "B")), Leg(1, 1, ("C",)), Leg(2, 2, ("C",)), Leg(3, 3, ("A", "B"))])
    assert [leg.kept for leg in legs] == [(), ("A", "B"), ("A", "B"), ()]
    taken_off = [legs[0], structs.replace(legs[1], kept=("B",)), *legs[2:]]
    assert kept_in(structs.replace(problem, begun=Begun(tuple(taken_off[:2]), 2)), taken_off) == (
        (),
        ("B",),
        ("B",),
        (),
    )


def test_a_leg_that_has_begun_with_more_than_fits_is_as_it_is() -> None:
    problem = a_day("AB CD C AB", 2)
    legs = [Leg(0, 0, ("A", "B")), Leg(1, 1, ("C", "D"), kept=("B",)), Leg(2, 2, ("C",)), Leg(3, 3, ("A", "B"))]
    assert kept_in(structs.replace(problem, begun=Begun(tuple(legs[:2]), 2)), legs) == ((), ("B",), ("B",), ())


def test_what_stayed_on_may_serve_a_visit_before_the_next_stop() -> None:
    legs = (Leg(0, 0, ("A", "B")), Leg(1, 1, ("C",), kept=("A",)))
    problem = structs.replace(a_day("AB C A", 2), begun=Begun(legs, 2, out=True), stop_after=frozenset())
    plan = solve(problem)
    assert plan is not None
    assert plan.legs[1:] == (Leg(1, 2, ("C",), kept=("A",)),)
    assert replay(problem, plan).faults == ()


# ---------------------------------------------------------------------------------------------------- a replay


@pytest.mark.parametrize(
    ("kept", "fault"),
    [
        (("", "AA", ""), "twice"),
        (("", "B", ""), "is needed by a visit"),
        (("A", "", ""), "was not on it"),
        (("", "AC", ""), "does not ride again"),
        (("", "ADE", ""), "4 half slots on a cart of 3"),
    ],
)
def test_what_cannot_stay_is_a_fault(kept: tuple[str, ...], fault: str) -> None:
    problem = a_day("ACDE B ADE", 4)
    plan = solve(problem)
    assert plan is not None
    legs = tuple(structs.replace(leg, kept=tuple(each)) for leg, each in zip(plan.legs, kept, strict=True))
    small = structs.replace(problem, capacity=3)
    said = replay(small, RoutePlan(legs, plan.cost)).faults
    assert any(fault in each for each in said)


# ---------------------------------------------------------------------------------------------------- in words


def test_what_stays_neither_comes_off_nor_on() -> None:
    problem = a_day("AB C A", 2)
    plan = solve(problem)
    assert plan is not None
    stops = told(problem, plan).stops
    assert [(stop.off, stop.on, stop.kept, stop.load) for stop in stops] == [
        ((), ("A", "B"), (), 2),
        (("B",), ("C",), ("A",), 2),
        (("C",), (), (), 1),
    ]


def test_the_page_says_what_stays_on_and_for_which_visit(tmp_path: Path) -> None:
    """Box K is wanted again for V7, and she stops after V5."""
    with opened(reference_school(tmp_path)) as book:
        day = book.day(MONDAY)
        problem = problem_as_planned(book.plan, day, None)
        last = structs.replace(problem.visits[-1], needs=(*problem.visits[-1].needs, "box-K"))
        problem = structs.replace(problem, visits=(*problem.visits[:-1], last), stop_after=frozenset({5}))
        plan = solve(problem)
        assert plan is not None
        route = DayRoute(problem, plan, told(problem, plan))
        assert route.told is not None
        rows = route_timeline(book.plan, day, book.marks(MONDAY), route, None)
        stays = [row.text for row in rows if row.text.startswith("Stays on")]
        assert stays == ["Stays on: Box K (for V7).", "Stays on: Box K."]
        fields = route_as_json(book.plan, day, book.marks(MONDAY), route)
        assert [leg["kept"] for leg in fields["plan"]["legs"]] == [[], ["box-K"], []]


def test_what_rode_along_from_a_leg_of_classes_that_are_not_taught_any_more_is_no_fault() -> None:
    """Two hours later: the visits are gone with which it was put on, and it is on the cart all the same."""
    problem = structs.replace(a_day("B A", 2), begun=Begun((Leg(0, 0, ("B",), (), ("A",)),), 1, out=True))
    plan = solve(problem)
    assert plan is not None and plan.legs[0].kept == ("A",)
    assert replay(problem, plan).faults == ()
    otherwise = structs.replace(plan, legs=(structs.replace(plan.legs[0], kept=()), *plan.legs[1:]))
    assert replay(problem, otherwise).faults
