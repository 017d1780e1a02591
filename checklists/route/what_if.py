"""What a larger cart or more time would do to the routes of the year's remaining days, summed over all of them.

The list of each day is worked out in full as planned (some 20 to 40 ms a day; what a route does not need is a third of
that). Problems that cost the same for certain are solved once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from msgspec import Struct, structs

from checklists.looking_ahead import Outlook, days_as_planned
from checklists.route.day_route import problem_as_planned
from checklists.route.problem import Cost, RouteProblem, RouteVisit
from checklists.route.solve import solve

SLOT = 2
"""Half slots of a slot: the room of a box."""
MINUTES = 2
"""Minutes more that are tried: about what a class that is let go earlier, or an earlier arrival, gives."""


class WhatIf(Struct, frozen=True):
    """What is different: half slots on the cart, minutes for leaving ahead before school, between any two classes."""

    half_slots: int = 0
    before_school: int = 0
    between: int = 0


AS_IT_IS = WhatIf()
WHAT_IFS = (
    AS_IT_IS,
    WhatIf(half_slots=SLOT),
    WhatIf(half_slots=-SLOT),
    WhatIf(before_school=MINUTES),
    WhatIf(between=MINUTES),
)


class Sums(Struct, frozen=True):
    """The costs of many days added up. A day that does not fit counts in nothing but ``not_fitting``."""

    late: int = 0
    """Minutes."""
    stops: int = 0
    """At the store, outside a break."""
    ahead: int = 0
    """Containers left ahead."""
    not_fitting: int = 0
    """Days on which there is no way to take everything along."""


class Tried(Struct, frozen=True):
    """What the days would cost with a change, and by how much that is more or, below nothing, less than as it is."""

    what: WhatIf
    sums: Sums
    more: Sums
    """Only over the days that fit both ways; ``not_fitting`` over all."""


class YearOfRoutes(Struct, frozen=True):
    """The days with visits that are left of the year, and what they cost as it is and with each change."""

    first: date
    last: date
    days: int
    half_slots: int
    """Of the cart as it is."""
    tried: tuple[Tried, ...]


def always() -> bool:
    """Until it is done."""
    return True


def year_of_routes(outlook: Outlook, is_wanted: Callable[[], bool] = always) -> YearOfRoutes | None:
    """The sums over the days of an outlook with visits; None where there is none, or once it is not wanted any more."""
    days: list[date] = []
    problems: list[RouteProblem] = []
    for on, problem in problems_as_planned(outlook):
        if not is_wanted():
            return None
        days.append(on)
        problems.append(problem)
    if not days:
        return None
    tried = try_all(problems, is_wanted)
    return YearOfRoutes(days[0], days[-1], len(days), outlook.plan.school.cart.half_slots, tried) if tried else None


def problems_as_planned(outlook: Outlook) -> Iterator[tuple[date, RouteProblem]]:
    """The problem of the route of each day with visits."""
    plan = outlook.plan
    for day in days_as_planned(outlook):
        if day.visits:
            told = outlook.told.get(day.date)
            yield day.date, problem_as_planned(plan, day, None if told is None else told.changes)


def try_all(problems: Iterable[RouteProblem], is_wanted: Callable[[], bool] = always) -> tuple[Tried, ...]:
    """What the problems cost together with each change; nothing once it is not wanted any more."""
    known: dict[str, tuple[Cost | None, ...]] = {}
    sums, more = ([Sums()] * len(WHAT_IFS) for _ in range(2))
    for problem in problems:
        if not is_wanted():
            return ()
        bare = without_names(problem)
        costs = known.get(repr(bare))
        if costs is None:
            costs = known[repr(bare)] = tuple(_cost_of(changed(bare, what)) for what in WHAT_IFS)
        for n, cost in enumerate(costs):
            sums[n] = _added(sums[n], cost)
            more[n] = _added_difference(more[n], costs[0], cost)
    return tuple(Tried(*each) for each in zip(WHAT_IFS, sums, more, strict=True))


def _cost_of(problem: RouteProblem) -> Cost | None:
    found = solve(problem)
    return None if found is None else found.cost


def _added(sums: Sums, cost: Cost | None) -> Sums:
    if cost is None:
        return structs.replace(sums, not_fitting=sums.not_fitting + 1)
    return Sums(sums.late + cost.late, sums.stops + cost.stops, sums.ahead + cost.ahead, sums.not_fitting)


def _added_difference(more: Sums, before: Cost | None, after: Cost | None) -> Sums:
    if before is None or after is None:
        return structs.replace(more, not_fitting=more.not_fitting + (after is None) - (before is None))
    return Sums(
        more.late + after.late - before.late,
        more.stops + after.stops - before.stops,
        more.ahead + after.ahead - before.ahead,
        more.not_fitting,
    )


def changed(problem: RouteProblem, what: WhatIf) -> RouteProblem:
    """The same day with more of something. More minutes between two classes move all that comes later."""
    visits = (
        structs.replace(visit, start=visit.start + n * what.between, end=visit.end + n * what.between)
        for n, visit in enumerate(problem.visits)
    )
    sessions = (
        each if each.after else structs.replace(each, minutes=each.minutes + what.before_school)
        for each in problem.sessions
    )
    return structs.replace(
        problem,
        visits=tuple(visits),
        sessions=tuple(sessions),
        capacity=max(0, problem.capacity + what.half_slots),
    )


def without_names(problem: RouteProblem) -> RouteProblem:
    """The problem with what its cost depends on alone: no names of visits, and no masses that can never be too much."""
    visits = tuple(_without_name(each) for each in problem.visits)
    most, together = problem.most_kilograms, sum(each.kilograms for each in problem.containers)
    if most is not None and together > most:
        return structs.replace(problem, visits=visits)
    light = tuple(structs.replace(each, kilograms=0) for each in problem.containers)
    return structs.replace(problem, visits=visits, containers=light, most_kilograms=None)


def _without_name(visit: RouteVisit) -> RouteVisit:
    return structs.replace(visit, key="")
