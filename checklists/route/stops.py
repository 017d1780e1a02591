"""The way of a day as the cart sheet tells it: the stops of the best route, or of none where nothing fits."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from checklists.lines.carrying import visits_before_carrying
from checklists.lines.records import Day
from checklists.lines.store_stops import StoreStop, leave_for, names_of_breaks, store_stops
from checklists.plan.records import Bells, Plan
from checklists.route.day_route import DayRoute
from checklists.route.told import RouteStop, RouteWay
from checklists.route.ways import minutes_of_way
from checklists.walks import STORE, walks_of


class Way(Struct, frozen=True):
    """Stops in the order of the day; what stands in a room when she comes to a visit; what is fetched after school."""

    stops: tuple[StoreStop, ...]
    standing: Mapping[str, frozenset[str]] = {}
    """Key of a visit -> containers that were left ahead in its room."""
    behind: tuple[tuple[str, str], ...] = ()


def way_of(plan: Plan, bells: Bells, day: Day, route: DayRoute) -> Way:
    """The best route's stops; where nothing fits, those of a morning and the breaks, with what is too much said."""
    if not day.visits:
        return Way(())
    told = route.told
    if told is None:
        return _way_with_what_stands(plan, bells, day, route)
    standing = {
        visit.key: frozenset(container for container, _ in here)
        for visit, here in zip(day.visits, told.standing, strict=True)
    }
    carried = {each.visit.key: frozenset(each.containers) for each in route.carried if each.visit.left_ahead}
    standing |= {key: standing[key] | there for key, there in carried.items()}
    behind = [
        (container, each.visit.room)
        for each in route.carried
        if each.visit.left_ahead or each.visit.is_last
        for container in each.containers
    ]
    return Way(tuple(_stop(plan, bells, day, route, each) for each in told.stops), standing, (*told.behind, *behind))


def ways_of(plan: Plan, bells: Bells, day: Day, route: DayRoute) -> tuple[RouteWay, ...]:
    """The way to each visit; where nothing fits, by the store in the breaks and straight between the others."""
    if route.told is not None:
        return route.told.ways
    stops = {stop.before_visit for stop in way_of(plan, bells, day, route).stops}
    found: list[RouteWay] = []
    for n, visit in enumerate(day.visits):
        by_store = n > 0 and visit.key in stops
        minutes = minutes_of_way(route.problem, n, by_store=by_store)
        gap = visit.start - day.visits[n - 1].end if n else minutes
        found.append(RouteWay(n, minutes, gap - minutes, by_store))
    return tuple(found)


def _way_with_what_stands(plan: Plan, bells: Bells, day: Day, route: DayRoute) -> Way:
    """The stops of a morning and the breaks; what stands in the room of its only visit to come is not loaded."""
    begun, visits = route.problem.begun.visits, route.problem.visits
    standing: dict[str, set[str]] = {}
    stays: list[tuple[str, str]] = []
    for each in route.problem.standing:
        coming = [n for n in range(begun, len(visits)) if each.container in visits[n].needs]
        standing.setdefault(visits[coming[0]].key, set()).add(each.container)
        if len(coming) == 1:
            stays.append((each.container, each.room))
    loaded = [each for each in day.containers if all(each.id != container for container, _ in stays)]
    stops = store_stops(walks_of(plan, day), bells, day.visits, loaded)
    return Way(stops, {key: frozenset(there) for key, there in standing.items()}, tuple(stays))


def _stop(plan: Plan, bells: Bells, day: Day, route: DayRoute, stop: RouteStop) -> StoreStop:
    visit = day.visits[stop.before]
    before = day.visits[stop.before - 1] if stop.before else None
    walks = walks_of(plan, day)
    since = None if before is None else before.end + walks.minutes(before.room, STORE)
    by_hand = next((each for each in route.carried if each.visit.key == visit.key and not visit.left_ahead), None)
    out = by_hand.minutes_before if by_hand is not None else walks.minutes(STORE, visit.room) + visit.walk_more
    fetching = sum(each.minutes for each in stop.fetch)
    handling = 0 if since is None or by_hand is not None else route.problem.handling
    ahead = [(trip.room, trip.containers, trip.minutes) for trip in stop.trips]
    ahead += [
        (each.visit.room, each.containers, each.there_and_back)
        for each in route.carried
        if each.visit.left_ahead and visits_before_carrying(each, day.visits) == stop.before
    ]
    return StoreStop(
        before_visit=visit.key,
        breaks=names_of_breaks(plan, bells, before, visit) if before is not None and stop.is_break else (),
        since=since,
        # She is not there before, and does not leave before it is open.
        leave_by=max(leave_for(plan, visit, out) - fetching, (since or 0) + handling, day.store_opens),
        off=stop.off,
        # What she set out with may be no container of the day any more: there is nothing to put into it.
        on=tuple(each for each in stop.on if any(one.id == each for one in day.containers)),
        half_slots=stop.load,
        too_much=False,
        minutes=stop.minutes,
        fetch=stop.fetch,
        ahead=tuple(ahead),
        by_hand=by_hand.containers if by_hand is not None else (),
        mass_and_trips=by_hand.mass_and_trips if by_hand is not None else "",
        back=tuple(
            container
            for each in route.carried
            if before is not None and each.visit.key == before.key and not before.left_ahead
            for container in each.containers
        ),
    )
