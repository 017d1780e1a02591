"""Where no plan fits: which single small changes would make one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct, structs

from checklists.route.problem import RouteContainer, RoutePlan, RouteProblem
from checklists.route.solve import solve

MOST_MINUTES = 60
"""Minutes more in a session beyond which they are no small change."""
MOST_HALF_SLOTS = 4


class SmallChange(Struct, frozen=True):
    """One change after which there is a plan, and that plan."""

    kind: Literal["carried", "may be left", "minutes", "half slots"]
    plan: RoutePlan
    container: str = ""
    session: int = 0
    by: int = 0
    """Minutes or half slots more."""


def smallest_changes(problem: RouteProblem) -> tuple[SmallChange, ...]:
    """Everything of a kind that works: a container somebody else carries, one that may be left, time, room.

    Of minutes in a session, and of half slots, the fewest that are enough.
    """
    return (*_carried(problem), *_left(problem), *_minutes(problem), *_half_slots(problem))


def too_much_at(problem: RouteProblem) -> tuple[int, int] | None:
    """The visit to come that alone needs more than the cart takes with nothing left ahead, and by how many half slots.

    One that does so whatever is left ahead is told before any other. What stands there already takes up no room.
    """
    sizes = {each.id: each.size for each in problem.containers}
    standing = {each.container for each in problem.standing}
    over: list[tuple[bool, int, int]] = []
    for n in range(problem.begun.visits, len(problem.visits)):
        wanted = [each for each in problem.visits[n].needs if each not in standing]
        most = sum(sizes[each] for each in wanted) - problem.capacity
        least = sum(sizes[each] for each in wanted if not _may_wait_there(problem, each, n)) - problem.capacity
        over.append((least > 0, max(most if least <= 0 else least, 0), -n))
    _, too_much, place = max(over, default=(False, 0, 0))
    return (-place, too_much) if too_much > 0 else None


def _may_wait_there(problem: RouteProblem, container: str, n: int) -> bool:
    """Whether it may be left ahead for a visit: what is needed again later would have to join the cart."""
    visits = problem.visits
    may = any(each.id == container and each.may_be_left for each in problem.containers)
    is_last = all(container not in visit.needs for visit in visits[n + 1 :])
    return may and is_last and container not in problem.must_ride and visits[n].room not in problem.never_in


def _without(problem: RouteProblem, container: str) -> RouteProblem:
    visits = tuple(
        structs.replace(visit, needs=tuple(each for each in visit.needs if each != container))
        for visit in problem.visits
    )
    left = tuple(each for each in problem.containers if each.id != container)
    return structs.replace(problem, visits=visits, containers=left)


def _carried(problem: RouteProblem) -> Iterator[SmallChange]:
    for each in problem.containers:
        plan = solve(_without(problem, each.id))
        if plan is not None:
            yield SmallChange("carried", plan, each.id)


def _left(problem: RouteProblem) -> Iterator[SmallChange]:
    for each in problem.containers:
        if not each.may_be_left:
            plan = solve(_with(problem, structs.replace(each, may_be_left=True)))
            if plan is not None:
                yield SmallChange("may be left", plan, each.id)


def _with(problem: RouteProblem, container: RouteContainer) -> RouteProblem:
    changed = tuple(container if each.id == container.id else each for each in problem.containers)
    return structs.replace(problem, containers=changed)


def _minutes(problem: RouteProblem) -> Iterator[SmallChange]:
    for n, session in enumerate(problem.sessions):

        def with_more(by: int, n: int = n, minutes: int = session.minutes) -> RouteProblem:
            sessions = list(problem.sessions)
            sessions[n] = structs.replace(sessions[n], minutes=minutes + by)
            return structs.replace(problem, sessions=tuple(sessions))

        if solve(with_more(MOST_MINUTES)) is None:
            continue
        low, high = 1, MOST_MINUTES
        while low < high:  # more minutes never hurt
            middle = (low + high) // 2
            if solve(with_more(middle)) is None:
                low = middle + 1
            else:
                high = middle
        plan = solve(with_more(low))
        assert plan is not None
        yield SmallChange("minutes", plan, session=n, by=low)


def _half_slots(problem: RouteProblem) -> Iterator[SmallChange]:
    for by in range(1, MOST_HALF_SLOTS + 1):
        plan = solve(structs.replace(problem, capacity=problem.capacity + by))
        if plan is not None:
            yield SmallChange("half slots", plan, by=by)
            return
