"""Minutes of the ways of a day: between places, to a visit directly or by the store, there and back with a load."""

from __future__ import annotations

from checklists.route.problem import RouteProblem
from checklists.walks import STORE


def walk(problem: RouteProblem, start: str, end: str) -> int:
    """Minutes between two places; a pair that is not known goes by the store."""
    if start == end:
        return 0
    for pair in ((start, end), (end, start)):
        if pair in problem.walks:
            return problem.walks[pair]
    if STORE in (start, end):
        raise KeyError(f"no walk between {start} and {end}")
    return walk(problem, start, STORE) + walk(problem, STORE, end)


def minutes_of_way(problem: RouteProblem, n: int, *, by_store: bool) -> int:
    """From the room of the visit before to that of visit ``n``, direct or by the store; 0 for the first visit."""
    if n == 0:
        return 0
    start, visit = problem.visits[n - 1].room, problem.visits[n]
    if not by_store:
        return walk(problem, start, visit.room) + (visit.walk_more if start != visit.room else 0)
    from_store = visit.carried
    if from_store is None:
        from_store = problem.handling + walk(problem, STORE, visit.room) + visit.walk_more
    return walk(problem, start, STORE) + visit.walk_more + from_store


def minutes_late(problem: RouteProblem, n: int, *, by_store: bool, takes: bool) -> int:
    """Minutes late at visit ``n``. ``takes``: something from the store is needed, so that it must be open by then."""
    late = minutes_of_way(problem, n, by_store=by_store) - problem.gap_before(n)
    visit = problem.visits[n]
    if by_store and problem.opens and (takes or visit.carried is not None):
        from_store = visit.carried
        if from_store is None:
            from_store = (problem.handling if n else 0) + walk(problem, STORE, visit.room) + visit.walk_more
        late = max(late, problem.opens + from_store - visit.start)
    return max(0, late)


def trip_minutes(problem: RouteProblem, room: str) -> int:
    """Minutes to take things to a room and come back to the store."""
    return 2 * walk(problem, STORE, room) + problem.handling
