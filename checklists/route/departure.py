"""What the route asks of the morning: what is packed first, what is left ahead before she leaves, in which order.

"Now" is what rides from the store first and what is left ahead before school; the rest waits at the store until a later
stop. Where no route fits, the breaks of the day part them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from msgspec import Struct

from checklists.daybook.entries import Stands
from checklists.daybook.marks import LEAVE_AHEAD, Marks
from checklists.lines.containers import CART, name_of
from checklists.lines.records import Container, Day, Visit
from checklists.lines.store_stops import names_of_breaks, store_stops
from checklists.plan.records import Bells, Plan
from checklists.route.day_route import DayRoute
from checklists.route.ways import trip_minutes
from checklists.walks import walks_of
from checklists.words import join_words, say_room


class ToLeave(Struct, frozen=True):
    """One round trip before school: containers that are to stand in a room before its visit."""

    room: str
    containers: tuple[str, ...]
    names: tuple[str, ...]
    minutes: int
    visits: tuple[Visit, ...]

    @property
    def key(self) -> str:
        return f"{LEAVE_AHEAD}{self.room}"

    @property
    def words(self) -> str:
        """ "LEAVE AHEAD Box 1, Room 9, for V2, 4 min"."""
        for_whom = join_words(visit.name for visit in self.visits)
        return f"LEAVE AHEAD {join_words(self.names)}, {say_room(self.room)}, for {for_whom}, {self.minutes} min"


class PackingGroup(Struct, frozen=True):
    """Containers that leave the store at one stop, in the order they are wanted. ``when`` is "" for the first one."""

    when: str
    """ "after V4, lunch"."""
    containers: tuple[str, ...]


class Departure(Struct, frozen=True):
    """The day's containers by the stop they leave the store at, and what is left ahead before school, in order."""

    groups: tuple[PackingGroup, ...] = ()
    to_leave: tuple[ToLeave, ...] = ()
    waits: dict[str, str] = {}
    """Container that stands in a room -> the later stop at which it is fetched, "after V4, lunch"."""

    @property
    def later(self) -> frozenset[str]:
        """Containers that she does not leave with."""
        return frozenset(each for group in self.groups[1:] for each in group.containers)

    def minutes_left(self, marks: Marks) -> int:
        """For the trips that are still to be made."""
        return sum(each.minutes for each in self.to_leave if not self.is_left(each, marks))

    def is_left(self, each: ToLeave, marks: Marks) -> bool:
        """Whether everything of a trip stands in its room."""
        said = (marks.places.get(container) for container in each.containers)
        return all(one is not None and one.place == each.room for one in said)


def departure_of(plan: Plan, bells: Bells, day: Day, route: DayRoute) -> Departure:
    """What the route of a day asks of the morning."""
    if not day.visits:
        return Departure((PackingGroup("", tuple(each.id for each in day.containers)),))
    starts, of_stop = _stops(plan, bells, day, route)
    to_leave = tuple(_to_leave(plan, day, route))
    of_stop[0] = [*(each for trip in to_leave for each in trip.containers), *of_stop[0]]
    groups = [PackingGroup(_when(plan, bells, day, first), ()) for first in starts]
    members: list[list[str]] = [[] for _ in starts]
    order = [each.id for each in day.containers]
    for n, containers in enumerate(map(dict.fromkeys, of_stop)):
        members[n] += [each for each in containers if not any(each in group for group in members)]
    placed = {each for group in members for each in group}
    for each in day.containers:
        if each.id not in placed:
            members[_group_of(each, day, starts)].append(each.id)
    if CART in members[0]:
        members[0].remove(CART)
    members[0].insert(0, CART)
    found = (PackingGroup(group.when, tuple(mine)) for group, mine in zip(groups, members, strict=True) if mine)
    known = tuple(
        PackingGroup(group.when, tuple(each for each in group.containers if each in order)) for group in found
    )
    return Departure(known, to_leave, _fetched_later(plan, bells, day, route))


def _fetched_later(plan: Plan, bells: Bells, day: Day, route: DayRoute) -> dict[str, str]:
    """Where no route fits, nothing can wait."""
    stops = route.told.stops if route.told is not None else ()
    told = {each.container: _when(plan, bells, day, stop.before) for stop in stops for each in stop.fetch}
    return {each: when for each, when in told.items() if when}


def _stops(plan: Plan, bells: Bells, day: Day, route: DayRoute) -> tuple[list[int], list[list[str]]]:
    """The visit after each stop, and what leaves the store there: first what is left ahead, then what rides."""
    if route.told is None:
        stops = store_stops(walks_of(plan, day), bells, day.visits, day.containers)
        at = {visit.key: n for n, visit in enumerate(day.visits)}
        return [at[stop.before_visit] for stop in stops], [list(stop.on) for stop in stops]
    starts = [stop.before for stop in route.told.stops]
    wanted = [[*(each for trip in stop.trips for each in trip.containers), *stop.on] for stop in route.told.stops]
    return starts, wanted


def _group_of(container: Container, day: Day, starts: Sequence[int]) -> int:
    """The stop before the first visit that needs it; what no visit of today needs comes last."""
    first = next((n for n, visit in enumerate(day.visits) if visit.key in container.visits), None)
    if first is None:
        return len(starts) - 1
    return max((n for n, start in enumerate(starts) if start <= first), default=0)


def _when(plan: Plan, bells: Bells, day: Day, first: int) -> str:
    if not first:
        return ""
    before, visit = day.visits[first - 1], day.visits[first]
    named = join_words(names_of_breaks(plan, bells, before, visit))
    return f"after {before.name}" + (f", {named}" if named else "")


def _to_leave(plan: Plan, day: Day, route: DayRoute) -> Iterator[ToLeave]:
    """The trips before school, and those made already, in the order of the visits."""
    if route.plan is None or route.told is None or route.problem.begun.legs:
        return
    been = set(route.problem.sessions[0].been)
    trips = {trip.room: list(trip.containers) for trip in route.told.stops[0].trips}
    for leg in route.plan.legs:
        for one in leg.ahead:
            if one.session < 0 and one.room in been and one.container not in trips.get(one.room, []):
                trips.setdefault(one.room, []).append(one.container)
    for room in sorted(trips, key=lambda each: next(visit.start for visit in day.visits if visit.room == each)):
        containers = tuple(trips[room])
        users = {key for each in day.containers if each.id in containers for key in each.visits}
        visits = tuple(visit for visit in day.visits if visit.key in users and visit.room == room)
        names = tuple(name_of(plan, each) for each in containers)
        yield ToLeave(room, containers, names, trip_minutes(route.problem, room), visits)


def entries_to_leave(each: ToLeave, at: datetime) -> tuple[Stands, ...]:
    """What says that a trip was made: each of its containers stands in the room."""
    return tuple(Stands(at=at, container=container, place=each.room) for container in each.containers)
