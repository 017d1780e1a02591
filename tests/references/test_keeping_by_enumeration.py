"""What stays on the cart against plain enumeration: everything that could stay from stop to stop, in every combination.

Sizes, masses and what was left ahead are drawn by chance; the rule is written anew from the docstring of ``Leg.kept``.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from random import Random

import pytest
from msgspec import structs

from checklists.route.keeping import kept_in
from checklists.route.problem import LeftAhead, Leg, RouteContainer, RouteProblem, RouteVisit, Session

CASES = 600
CHUNKS = 2


def some_legs(chance: Random) -> tuple[RouteProblem, tuple[Leg, ...]]:
    """Three to six legs of a visit each on a cart that holds each of them, and some of them little more."""
    names = [f"box {n}" for n in range(1, chance.randint(3, 6))]
    containers = [
        RouteContainer(each, chance.choice((1, 1, 2, 3)), chance.choice((0.5, 1.1, 2.0, 3.3))) for each in names
    ]
    legs = []
    for n in range(chance.randint(3, 6)):
        needs = sorted(chance.sample(names, chance.choice((1, 1, 2))))
        left = [each for each in needs if n and chance.random() < 0.15]
        ahead = tuple(LeftAhead(each, "9", 0, joins=chance.random() < 0.5) for each in left)
        legs.append(Leg(n, n, tuple(each for each in needs if each not in left), ahead))
    problem = RouteProblem(
        visits=tuple(RouteVisit(f"V{leg.first}", "9", 0, 0, tuple(needed(leg))) for leg in legs),
        containers=tuple(containers),
        capacity=max(size_of(containers, carried(leg)) for leg in legs) + chance.choice((0, 1, 2, 3)),
        walks={("store", "9"): 0},
        handling=0,
        sessions=(Session(0, 0),),
        most_kilograms=None
        if chance.random() < 0.5
        else max(kilograms_of(containers, carried(leg)) for leg in legs) + chance.choice((0.5, 1.5, 3.0)),
    )
    return problem, tuple(legs)


def needed(leg: Leg) -> list[str]:
    return [*leg.rides, *(each.container for each in leg.ahead)]


def carried(leg: Leg) -> list[str]:
    return [*leg.rides, *(each.container for each in leg.ahead if each.joins)]


def size_of(containers: Sequence[RouteContainer], names: Sequence[str]) -> int:
    return sum(each.size for each in containers if each.id in names)


def kilograms_of(containers: Sequence[RouteContainer], names: Sequence[str]) -> float:
    return sum(each.kilograms for each in containers if each.id in names)


def fits(problem: RouteProblem, names: Sequence[str]) -> bool:
    """Masses here are whole hundred grams, so a thousandth of a kilogram too much is only rounding."""
    light = problem.most_kilograms is None or kilograms_of(problem.containers, names) <= problem.most_kilograms + 0.001
    return light and size_of(problem.containers, names) <= problem.capacity


def least_put_on(problem: RouteProblem, legs: Sequence[Leg], on_cart: frozenset[str]) -> tuple[int, int]:
    """Containers and grams put on at stops, from the first of these legs on, at best."""
    if not legs:
        return 0, 0
    leg = legs[0]
    can_stay = sorted(on_cart - set(needed(leg)))
    new = [each for each in leg.rides if each not in on_cart]
    found = []
    for count in range(len(can_stay) + 1):
        for kept in combinations(can_stay, count):
            if fits(problem, [*carried(leg), *kept]):
                found.append(least_put_on(problem, legs[1:], frozenset({*carried(leg), *kept})))
    number, grams = min(found)
    return number + len(new), grams + grams_of(problem, new)


def grams_of(problem: RouteProblem, names: Sequence[str]) -> int:
    return sum(round(each.kilograms * 1000) for each in problem.containers if each.id in names)


def put_on(problem: RouteProblem, legs: Sequence[Leg], kept: Sequence[Sequence[str]]) -> tuple[int, int]:
    on_cart: set[str] = set()
    number = grams = 0
    for leg, stays in zip(legs, kept, strict=True):
        assert set(stays) <= on_cart - set(needed(leg))
        assert fits(problem, [*carried(leg), *stays])
        new = [each for each in leg.rides if each not in on_cart]
        number, grams = number + len(new), grams + grams_of(problem, new)
        on_cart = {*carried(leg), *stays}
    return number, grams


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_nothing_that_could_stay_on_would_save_more(chunk: int) -> None:
    chance = Random(chunk)
    helped = crowded = 0
    for _ in range(CASES // CHUNKS):
        problem, legs = some_legs(chance)
        kept = kept_in(problem, legs)
        best = least_put_on(problem, legs, frozenset())
        assert put_on(problem, legs, kept) == best, (problem, legs)
        helped += any(kept)
        wide = structs.replace(problem, capacity=99, most_kilograms=None)
        crowded += best != least_put_on(wide, legs, frozenset())
    assert helped > CASES // CHUNKS // 4 and crowded > CASES // CHUNKS // 10


def test_the_same_stays_on_in_whatever_order_the_containers_are_told() -> None:
    chance = Random(5)
    for _ in range(30):
        problem, legs = some_legs(chance)
        other = structs.replace(problem, containers=problem.containers[::-1])
        assert kept_in(problem, legs) == kept_in(other, legs)
