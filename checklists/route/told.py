"""A plan of the route as what she does, in the order of the day: stops with what comes off and on, ways, trips."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from msgspec import Struct, structs

from checklists.route.problem import LeftAhead, RoutePlan, RouteProblem, visit_it_is_for
from checklists.route.replay import replay
from checklists.route.ways import minutes_of_way, trip_minutes


class Stranded(NamedTuple):
    """A container that stands in a room which does not need it next."""

    container: str
    room: str
    minutes: int
    """From the store and back."""
    since: int = 0
    """The first visit, counted from 0, that may need it again."""


class ToFetch(NamedTuple):
    """A container that is fetched from a room at a stop."""

    container: str
    room: str
    minutes: int
    """There and back; 0 of what comes along from the same room."""


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
    fetch: tuple[ToFetch, ...] = ()
    """What stands in a room of no use: fetched here, where it leaves the store or at the stop before with time."""


class RouteWay(Struct, frozen=True):
    """The way to a visit: minutes to spare between the bells, or late where negative.

    To the first one it has no minutes, and is late where the store opens too late.
    """

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


def told(problem: RouteProblem, plan: RoutePlan, stranded: Sequence[Stranded] = ()) -> RouteTold:
    """The plan in the order of the day. ``stranded`` stands in rooms that do not need it next, if at all."""
    replayed = replay(problem, plan)
    ways = tuple(
        RouteWay(step.visit, step.way, -step.late or step.gap - step.way, step.by_store) for step in replayed.steps
    )
    left = [each for leg in plan.legs for each in leg.ahead]
    stops = list(_stops(problem, plan, {step.visit: step.load for step in replayed.steps}))
    for n, fetched in _fetched(problem, stops, {way.visit: way.spare for way in ways}, stranded).items():
        stops[n] = structs.replace(stops[n], fetch=fetched)
    return RouteTold(
        stops=tuple(stops),
        ways=ways,
        behind=tuple(_behind(problem, left, stranded)),
        standing=tuple(_standing(problem, plan)),
    )


def _behind(
    problem: RouteProblem, left: Sequence[LeftAhead], stranded: Sequence[Stranded]
) -> Iterator[tuple[str, str]]:
    """What she fetches after school: what is left behind, and what stands in a room and is needed no more."""
    coming = {each for visit in problem.visits[problem.begun.visits :] for each in (*visit.needs, *visit.by_hand)}
    fetched_before = {each[:2] for each in stranded if each.container in coming}
    stays = [(each.container, each.room) for each in left if not each.joins]
    found = [each for each in stays if each not in fetched_before]
    yield from dict.fromkeys((*found, *(each[:2] for each in stranded if each.container not in coming)))


def _fetched(
    problem: RouteProblem, stops: Sequence[RouteStop], spare: dict[int, int], stranded: Sequence[Stranded]
) -> dict[int, tuple[ToFetch, ...]]:
    """Stop -> what is fetched there: where it leaves the store, or at the last one before with minutes to spare.

    Before school there always are: it is what she leaves earlier for.
    """
    ends = [*(stop.before for stop in stops[1:]), len(problem.visits)]
    coming = range(len(problem.begun.legs), len(stops))
    found: dict[int, list[ToFetch]] = {}
    for n in coming:
        leaves = {*stops[n].rides, *(each for trip in stops[n].trips for each in trip.containers)}
        leaves |= {each for visit in problem.visits[stops[n].before : ends[n]] for each in visit.by_hand}
        for each in (one for one in stranded if one.container in leaves and ends[n] > one.since):
            if any(each.container == one.container for fetched in found.values() for one in fetched):
                continue
            early_enough = range(n, coming.start - 1, -1)
            at = next((m for m in early_enough if _has_time(stops[m], spare, found.get(m, []), each)), n)
            here = found.setdefault(at, [])
            here.append(ToFetch(each.container, each.room, _more_minutes(here, each)))
    return {n: tuple(each) for n, each in found.items()}


def _has_time(stop: RouteStop, spare: dict[int, int], fetched: Sequence[ToFetch], more: Stranded) -> bool:
    minutes = sum(each.minutes for each in fetched) + _more_minutes(fetched, more)
    return stop.before == 0 or minutes <= spare[stop.before]


def _more_minutes(fetched: Sequence[ToFetch], more: Stranded) -> int:
    return 0 if any(each.room == more.room for each in fetched) else more.minutes


def _stops(problem: RouteProblem, plan: RoutePlan, loads: dict[int, int]) -> Iterator[RouteStop]:
    on_cart: tuple[str, ...] = ()
    sessions = {each.after: n for n, each in enumerate(problem.sessions)}
    # What she set out with may be no container of the day any more: a helper carries it now, a class is away.
    place = {each.id: n for n, each in enumerate(problem.containers)}
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
