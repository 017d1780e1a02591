"""What stays on the cart from stop to stop though nothing of a leg needs it, because a later leg carries it again.

Between two legs that carry a container there may be legs that do not need it. It then either comes off and is put on
again, or takes up room in each of them. This gives the fewest containers put on at stops, of those the fewest
kilograms, then the same ones every time: those that stay on from the earlier leg, by name. It goes through the day leg
by leg over the sets of containers that are kept there; those for which there is room in any case are no choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct, structs

from checklists.route.legs import Legs
from checklists.route.problem import Leg, RouteProblem


class _Stay(Struct, frozen=True, order=True):
    """A container that would be on the cart in the legs ``first`` to ``last``, none of which needs it."""

    first: int
    container: str
    last: int


Found = tuple[int, int, tuple[_Stay, ...]]
"""Negative number and grams of what need not be put on again, and what stays: the smaller, the better."""


def with_kept(problem: RouteProblem, legs: Sequence[Leg]) -> tuple[Leg, ...]:
    """The same legs with what stays on the cart in each."""
    return tuple(structs.replace(leg, kept=each) for leg, each in zip(legs, kept_in(problem, legs), strict=True))


def kept_in(problem: RouteProblem, legs: Sequence[Leg]) -> tuple[tuple[str, ...], ...]:
    """For each leg what stays on the cart though no visit of it needs it, by name; in those begun it is as they say."""
    begun = len(problem.begun.legs)
    cart = Legs(problem, None)
    stays = [each for each in _stays(legs) if all(each.container in legs[n].kept for n in range(each.first, begun))]
    crowded = [n for n in range(begun, len(legs)) if not _fits(cart, legs[n], _in_leg(stays, n))]
    chosen = {each for each in stays if not any(each.first <= n <= each.last for n in crowded)}
    chosen |= set(_best(cart, legs, crowded, [each for each in stays if each not in chosen]))
    return tuple(leg.kept if n < begun else _in_leg(chosen, n) for n, leg in enumerate(legs))


def _stays(legs: Sequence[Leg]) -> Iterator[_Stay]:
    """From each leg that carries a container to the next that has to do with it, where that carries it too."""
    since: dict[str, int] = {}
    for n, leg in enumerate(legs):
        for each in leg.rides:
            if n - since.get(each, n) > 1:
                yield _Stay(since[each] + 1, each, n - 1)
            since[each] = n
        for one in leg.ahead:
            since.pop(one.container, None)
            if one.joins:
                since[one.container] = n


def _in_leg(stays: Iterable[_Stay], n: int) -> tuple[str, ...]:
    return tuple(sorted(each.container for each in stays if each.first <= n <= each.last))


def _fits(cart: Legs, leg: Leg, kept: Sequence[str]) -> bool:
    there = (*leg.rides, *(one.container for one in leg.ahead if one.joins), *kept)
    return max(cart.over(there, leg.first, leg.last)) <= 0


def _best(cart: Legs, legs: Sequence[Leg], crowded: Sequence[int], stays: Sequence[_Stay]) -> tuple[_Stay, ...]:
    """Which of the stays to take: each of them is in a crowded leg, in which there is not room for all of them."""
    at: dict[frozenset[_Stay], Found] = {frozenset(): (0, 0, ())}
    for place, n in enumerate(crowded):
        before = crowded[place - 1] if place else -1
        new = sorted(each for each in stays if before < each.first <= n <= each.last)
        longer: dict[frozenset[_Stay], Found] = {}
        for was, (number, grams, taken) in at.items():
            on = {each for each in was if each.last >= n}
            if on and not _fits(cart, legs[n], _in_leg(on, n)):
                continue
            for more in _fitting(cart, legs[n], on, new):
                now = frozenset({*on, *more})
                saved = sum(cart.by_id[each.container].grams for each in more)
                found = (number - len(more), grams - saved, (*taken, *more))
                longer[now] = min(found, longer.get(now, found))
        at = longer
    return min(at.values())[2]


def _fitting(cart: Legs, leg: Leg, on: set[_Stay], new: Sequence[_Stay]) -> Iterator[tuple[_Stay, ...]]:
    """Every choice of the new ones that there is room for in a leg beside those that are on."""
    yield ()
    for n, each in enumerate(new):
        with_it = {*on, each}
        if _fits(cart, leg, sorted(one.container for one in with_it)):
            for more in _fitting(cart, leg, with_it, new[n + 1 :]):
                yield (each, *more)
