"""A plan of the route as what she does, in the order of the day: stops with what comes off and on, ways, trips."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from checklists.route.problem import LeftAhead, RoutePlan, RouteProblem, visit_it_is_for
from checklists.route.replay import replay
from checklists.route.ways import minutes_of_way, trip_minutes


class RoundTrip(Struct, frozen=True):
    """Containers taken ahead to a room in a session, and back to the store."""

    room: str
    containers: tuple[str, ...]
    minutes: int


class RouteStop(Struct, frozen=True):
    """A time at the store before a visit."""

    before: int
    """The visit that comes after it, counted from 0."""
    minutes: int
    """Walks and handling from the visit before to the next one; 0 in the morning."""
    is_break: bool
    off: tuple[str, ...]
    on: tuple[str, ...]
    rides: tuple[str, ...]
    """What is on the cart from here for the visits up to the next stop."""
    load: int
    """Half slots of it, with what joins on the way and what is kept."""
    trips: tuple[RoundTrip, ...] = ()
    kept: tuple[str, ...] = ()
    """What stays on the cart for a visit after the next stop."""
    fetch: tuple[tuple[str, str], ...] = ()
    """What stands in a room of no use, container and room, and is needed from here on: fetched first."""


class RouteWay(Struct, frozen=True):
    """The way to a visit: minutes to spare between the bells, or late where negative."""

    visit: int
    minutes: int
    spare: int
    by_store: bool


class RouteTold(Struct, frozen=True):
    """A whole day. ``behind`` is to be fetched after school: container and room."""

    stops: tuple[RouteStop, ...]
    ways: tuple[RouteWay, ...]
    behind: tuple[tuple[str, str], ...]
    standing: tuple[tuple[tuple[str, str], ...], ...]
    """For each visit what stands in its room when she comes: container, and "joins" or "stays"."""


def told(problem: RouteProblem, plan: RoutePlan, stranded: Sequence[tuple[str, str]] = ()) -> RouteTold:
    """The plan in the order of the day. ``stranded`` stands in a room that needs it no more: container and room."""
    replayed = replay(problem, plan)
    ways = tuple(RouteWay(step.visit, step.way, step.gap - step.way, step.by_store) for step in replayed.steps)
    left = [each for leg in plan.legs for each in leg.ahead]
    return RouteTold(
        stops=tuple(_stops(problem, plan, {step.visit: step.load for step in replayed.steps}, stranded)),
        ways=ways,
        behind=tuple(_behind(problem, left, stranded)),
        standing=tuple(_standing(problem, plan)),
    )


def _behind(
    problem: RouteProblem, left: Sequence[LeftAhead], stranded: Sequence[tuple[str, str]]
) -> Iterator[tuple[str, str]]:
    """What she fetches after school: what is left behind, and what stands in a room and is needed no more."""
    coming = {each for visit in problem.visits[problem.begun.visits :] for each in visit.needs}
    fetched_before = {container for container, _ in stranded if container in coming}
    found = [(each.container, each.room) for each in left if not each.joins and each.container not in fetched_before]
    yield from dict.fromkeys((*found, *(each for each in stranded if each[0] not in coming)))


def _stops(
    problem: RouteProblem, plan: RoutePlan, loads: dict[int, int], stranded: Sequence[tuple[str, str]]
) -> Iterator[RouteStop]:
    waiting = dict(stranded)
    on_cart: tuple[str, ...] = ()
    sessions = {each.after: n for n, each in enumerate(problem.sessions)}
    # What she set out with may be no container of the day any more: a helper carries it now, a class is away.
    place = {each.id: n for n, each in enumerate(problem.containers)}
    over = problem.begun.visits
    for leg in plan.legs:
        rides = tuple(sorted(leg.rides, key=lambda each: place.get(each, len(place))))
        kept = tuple(sorted(leg.kept, key=lambda each: place.get(each, len(place))))
        off = tuple(each for each in on_cart if each not in (*rides, *kept))
        on = tuple(each for each in rides if each not in on_cart)
        session = sessions.get(leg.first)
        yield RouteStop(
            before=leg.first,
            minutes=minutes_of_way(problem, leg.first, by_store=True),
            is_break=leg.first > 0 and session is not None,
            off=off,
            on=on,
            rides=rides,
            load=loads[leg.first],
            trips=() if session is None else tuple(_trips(problem, plan, session)),
            kept=kept,
            fetch=tuple((each, waiting.pop(each)) for each in rides if each in waiting and leg.last >= over),
        )
        on_cart = (*rides, *(each.container for each in leg.ahead if each.joins), *kept)


def _trips(problem: RouteProblem, plan: RoutePlan, session: int) -> Iterator[RoundTrip]:
    """One a room, in the order in which the rooms are visited.

    A trip that was made to a room of no visit any more is left out.
    """
    of_the_day = {visit.room for visit in problem.visits}
    rooms: dict[str, list[str]] = {}
    for leg in plan.legs:
        for each in sorted(leg.ahead, key=lambda one: visit_it_is_for(problem, leg, one)):
            if each.session == session and each.room in of_the_day:
                rooms.setdefault(each.room, []).append(each.container)
    for room, containers in rooms.items():
        yield RoundTrip(room, tuple(containers), trip_minutes(problem, room))


def _standing(problem: RouteProblem, plan: RoutePlan) -> Iterator[tuple[tuple[str, str], ...]]:
    for leg in plan.legs:
        for n in range(leg.first, leg.last + 1):
            needs = problem.visits[n].needs
            here = [each for each in leg.ahead if each.container in needs and visit_it_is_for(problem, leg, each) == n]
            yield tuple((each.container, "joins" if each.joins else "stays") for each in here)
