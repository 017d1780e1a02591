"""Random days for the route: rooms on a line, bells with and without minutes between, containers of one and two."""

from __future__ import annotations

from random import Random

from checklists.route.problem import RouteContainer, RouteProblem, RouteVisit, Session

STORE = "store"


def minutes(problem: RouteProblem, start: str, end: str) -> int:
    """Between two places; a pair that is not known goes by the store. Written anew for the references."""
    if start == end:
        return 0
    for pair in ((start, end), (end, start)):
        if pair in problem.walks:
            return problem.walks[pair]
    return minutes(problem, start, STORE) + minutes(problem, STORE, end)


def a_random_day(chance: Random, visits: int, containers: int) -> RouteProblem:
    """A day of so many visits that need one to three of so many containers."""
    rooms = [str(number) for number in range(1, max(2, visits))]
    names = [f"box {number}" for number in range(1, containers + 1)]
    taught: list[RouteVisit] = []
    minute, break_after = 480, chance.randint(1, visits - 1) if visits > 1 and chance.random() < 0.7 else 0
    for n in range(visits):
        if n:
            minute += chance.choice((0, 0, 5, 5, 12)) + (30 if n == break_after else 0)
        needs = chance.sample(names, min(containers, chance.choice((1, 1, 2, 2, 3))))
        taught.append(RouteVisit(f"P{n + 1}", chance.choice(rooms), minute, minute + 40, tuple(sorted(needs))))
        minute += 40
    walks = {(STORE, room): chance.randint(1, 5) for room in rooms}
    walks |= {(a, b): chance.randint(1, 4) for a in rooms for b in rooms if a < b and chance.random() < 0.6}
    sessions = [Session(0, chance.choice((0, 5, 10, 18)))]
    if break_after:
        sessions.append(Session(break_after, chance.choice((10, 20, 30))))
    masses = chance.random() < 0.3
    return RouteProblem(
        visits=tuple(taught),
        containers=tuple(
            RouteContainer(name, chance.choice((1, 2, 2)), float(chance.randint(2, 9)), chance.random() < 0.7)
            for name in names
        ),
        capacity=chance.choice((3, 4, 6, 8)),
        walks=walks,
        handling=chance.choice((1, 2, 3)),
        sessions=tuple(sessions),
        most_kilograms=float(chance.choice((12, 20, 30))) if masses else None,
        no_stop_after=frozenset(chance.sample(range(1, visits), 1))
        if visits > 1 and chance.random() < 0.2
        else frozenset(),
        never_in=frozenset({chance.choice(rooms)}) if chance.random() < 0.2 else frozenset(),
    )
