"""Walks that nobody has said and that matter to a day's route: asked once, and never where the answer changes nothing.

A walk matters where one of the minutes it may plausibly take makes another plan the best one, or the best one more or
less late. Only the shortest and the longest of them are tried: as a walk gets longer no plan is less late and no more
can be taken ahead, so that what is best at both ends, and as late, is best for everything between. Whether a break is
long enough for the way by the store is taken as it is.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct, structs

from checklists.plan.walk_notes import with_walk
from checklists.route.problem import RouteProblem
from checklists.route.solve import solve
from checklists.route.ways import minutes_of_way, trip_minutes
from checklists.walks import STORE, DayWalks, is_said, may_be_asked, walk_between

SOMEWHAT_LONGER = 2
"""Minutes by which a walk may be longer than assumed. Common practice, no source."""


class UnknownWalk(Struct, frozen=True):
    """Two places between which nobody has said the minutes, and those that are assumed on a usual day."""

    start: str
    end: str
    assumed: int


def walks_to_ask(walks: DayWalks, problem: RouteProblem) -> tuple[UnknownWalk, ...]:
    """The walks that matter and that nobody has said, in the order of the day. ``walks`` are those of the day.

    From room to room first: once such a walk is said, it does not go by what is assumed of those from the store.
    """
    used = list(_walks_used(problem))
    asked: list[frozenset[str]] = []
    for start, end in sorted(used, key=lambda pair: STORE in pair):
        if is_said(walks.plan, start, end) or not may_be_asked(walks.plan, start, end):
            continue
        if _matters(walks, problem, start, end):
            asked.append(frozenset((start, end)))
            walks = _said(walks, start, end, walk_between(walks.plan, start, end))
    return tuple(
        UnknownWalk(start, end, walk_between(walks.plan, start, end))
        for start, end in used
        if frozenset((start, end)) in asked
    )


def plausible_minutes(walks: DayWalks, start: str, end: str) -> range:
    """What a walk may take on a usual day: what is said; else a minute up to somewhat more than is assumed.

    Between two rooms it is no longer than by the store, as long as that may be.
    """
    assumed = walk_between(walks.plan, start, end)
    if is_said(walks.plan, start, end):
        return range(assumed, assumed + 1)
    longest = assumed + SOMEWHAT_LONGER
    if STORE not in (start, end):
        by_store = plausible_minutes(walks, start, STORE)[-1] + plausible_minutes(walks, STORE, end)[-1]
        longest = max(assumed, min(by_store, longest))
    return range(min(1, assumed), longest + 1)


def problem_with(walks: DayWalks, problem: RouteProblem, start: str, end: str, minutes: int) -> RouteProblem:
    """The problem as it were, had she said that a walk takes so many minutes: others may go by it."""
    said = _said(walks, start, end, minutes)
    return structs.replace(problem, walks={pair: said.minutes(*pair) for pair in problem.walks})


def _said(walks: DayWalks, start: str, end: str, minutes: int) -> DayWalks:
    return structs.replace(
        walks, plan=structs.replace(walks.plan, school=with_walk(walks.plan.school, start, end, minutes))
    )


def _walks_used(problem: RouteProblem) -> Iterator[tuple[str, str]]:
    """Those of the visits to come, from the visit before and from the store; there and back it is one walk."""
    visits = problem.visits
    found: dict[frozenset[str], tuple[str, str]] = {}
    for n in range(problem.begun.visits, len(visits)):
        before, room = visits[n - 1].room if n else STORE, visits[n].room
        for start, end in ((before, room), (STORE, before), (STORE, room)):
            if start != end:
                found.setdefault(frozenset((start, end)), (start, end))
    yield from found.values()


def _matters(walks: DayWalks, problem: RouteProblem, start: str, end: str) -> bool:
    plausible = plausible_minutes(walks, start, end)
    short, long = (problem_with(walks, problem, start, end, minutes) for minutes in (plausible[0], plausible[-1]))
    return _minutes_that_count(short) != _minutes_that_count(long) and solve(short) != solve(long)


def _minutes_that_count(problem: RouteProblem) -> list[int | None]:
    """Minutes late on each way, direct and by the store, and those of each trip that can be made.

    Where these are the same every plan costs the same, and nothing needs to be solved.
    """
    late: list[int | None] = []
    for n in range(1, len(problem.visits)):
        between = problem.visits[n].start - problem.visits[n - 1].end
        late += [max(0, minutes_of_way(problem, n, by_store=by_store) - between) for by_store in (False, True)]
    most = max((each.minutes for each in problem.sessions), default=0)
    able = {each.id for each in problem.containers if each.may_be_left} - problem.must_ride
    rooms = sorted({visit.room for visit in problem.visits if not able.isdisjoint(visit.needs)} - problem.never_in)
    trips = (trip_minutes(problem, room) for room in rooms)
    return [*late, *(minutes if minutes <= most else None for minutes in trips)]
