"""What the route asks of the stop at the store that comes next: what is packed first, and what is left ahead.

Before the first bell that is the morning. "Now" is what rides from that stop and what is left ahead in it; the rest
waits at the store until a later one, or is out by now. Where no route fits, the breaks of the day part them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from functools import cached_property

from msgspec import Struct

from checklists.daybook.entries import Stands
from checklists.daybook.fetching import Fetch, to_fetch
from checklists.daybook.marks import LEAVE_AHEAD, Marks
from checklists.daybook.minutes_left import LeaveBy, leave_by_now
from checklists.lines.containers import CART, name_of
from checklists.lines.records import Container, Day, Visit
from checklists.lines.store_stops import names_of_breaks
from checklists.plan.records import Bells, Plan
from checklists.route.day_route import DayRoute
from checklists.route.stops import Way, way_of
from checklists.route.ways import trip_minutes
from checklists.words import join_words, minute_of_day, say_room

OUT = "out by now"
"""When the things of a stop that is over leave: they did."""


class ToLeave(Struct, frozen=True):
    """One round trip before she leaves the store: containers that are to stand in a room before its visit."""

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
    """Containers that leave the store at one stop, in the order they are wanted. ``when`` is "" for the next one."""

    when: str
    """ "after V4, lunch"; ``OUT`` of what is needed at no stop any more."""
    containers: tuple[str, ...]

    @property
    def is_out(self) -> bool:
        return self.when == OUT


class Departure(Struct, frozen=True, dict=True):
    """The day's containers by the stop they leave the store at, and what is left ahead from the next one, in order."""

    groups: tuple[PackingGroup, ...] = ()
    to_leave: tuple[ToLeave, ...] = ()
    waits: dict[str, str] = {}
    """Container that stands in a room -> the later stop at which it is fetched, "after V4, lunch"."""
    stop: int = 0
    """The stop that comes next, counted from 0: the morning."""
    when: str = ""
    """When that is, "after V4, lunch"; "" in the morning."""
    before: Visit | None = None
    """The visit after it; None: no further stop comes."""
    leave: int | None = None
    """The minute of the day by which the cart leaves a later stop, as the route has it."""
    is_near: bool = True
    """Whether the visit before it has begun: then what she said of leaving the stop before is no news any more."""
    by_store: frozenset[str] = frozenset()
    """Keys of the visits to which the route goes by the store."""

    @cached_property
    def later(self) -> frozenset[str]:
        """Containers that wait for a later stop."""
        return frozenset(each for group in self.groups if group.when and not group.is_out for each in group.containers)

    @cached_property
    def out(self) -> frozenset[str]:
        """Containers that no stop to come has anything to do with."""
        return frozenset(each for group in self.groups if group.is_out for each in group.containers)

    @cached_property
    def not_now(self) -> frozenset[str]:
        return self.later | self.out

    def minutes_left(self, marks: Marks) -> int:
        """For the trips that are still to be made."""
        return sum(each.minutes for each in self.to_leave if not self.is_left(each, marks))

    def is_left(self, each: ToLeave, marks: Marks) -> bool:
        """Whether everything of a trip stands in its room."""
        said = (marks.places.get(container) for container in each.containers)
        return all(one is not None and one.place == each.room for one in said)

    def to_fetch(self, day: Day, marks: Marks) -> tuple[Fetch, ...]:
        """What is not at the store and needed from the next stop on."""
        return tuple(each for each in to_fetch(day, marks, self.waits) if each.container not in self.out)

    def says_left(self, marks: Marks) -> bool:
        """Whether that she left is the newest thing to know: until the next stop is near."""
        return marks.left is not None and not (self.stop and self.is_near)

    def leave_by(self, day: Day, marks: Marks) -> LeaveBy | None:
        """When to set out from the next stop, with what is left ahead or with the cart; None where none comes."""
        ahead = self.minutes_left(marks)
        if not self.stop:
            minute = leave_by_now(day, marks, ahead, self.waits)
        else:
            minute = None if self.leave is None else self.leave - ahead
        return None if minute is None else LeaveBy(minute, ahead > 0, minute < day.store_opens)


def departure_of(
    plan: Plan, bells: Bells, day: Day, route: DayRoute, marks: Marks | None = None, minute: int | None = None
) -> Departure:
    """What the route asks of the stop that comes next. ``minute`` is that of the clock, None: as the day begins."""
    if not day.visits:
        return Departure((PackingGroup("", tuple(each.id for each in day.containers)),))
    way = way_of(plan, bells, day, route)
    starts = _starts(day, way)
    stop = next_stop(day, starts, marks, minute)
    to_leave = tuple(_to_leave(plan, day, route, stop))
    groups = tuple(_groups(plan, bells, day, route, way, starts, stop, to_leave))
    if stop == len(starts):
        return Departure(groups, stop=stop, is_near=False, by_store=route.by_store)
    begin, at = starts[stop], way.stops[stop]
    return Departure(
        groups=groups,
        to_leave=to_leave,
        waits=_fetched_later(plan, bells, day, route, stop),
        stop=stop,
        when=_when(plan, bells, day, begin),
        before=day.visits[begin],
        leave=max(at.leave_by, at.since or 0) if stop else None,
        by_store=route.by_store,
        is_near=not begin or (minute is not None and minute >= day.visits[begin - 1].start),
    )


def next_stop(day: Day, starts: Sequence[int], marks: Marks | None, minute: int | None) -> int:
    """The first stop whose next visit has not begun and which she has not said that she left; after the last, so many.

    ``starts``: the visit after each stop.
    """
    if minute is None:
        return 0
    left = None if marks is None or marks.left is None else marks.left.at
    said = minute_of_day(left) if left is not None and left.date() == day.date else None
    for n, start in enumerate(starts):
        since = day.visits[start - 1].end if start else 0
        has_left = said is not None and since <= said <= minute
        if day.visits[start].start > minute and not has_left:
            return n
    return len(starts)


def _fetched_later(plan: Plan, bells: Bells, day: Day, route: DayRoute, next_one: int) -> dict[str, str]:
    """What is fetched at a stop after the next one. Where no route fits, nothing can wait."""
    stops = route.told.stops[next_one + 1 :] if route.told is not None else ()
    return {each.container: _when(plan, bells, day, stop.before) for stop in stops for each in stop.fetch}


def _starts(day: Day, way: Way) -> list[int]:
    at = {visit.key: n for n, visit in enumerate(day.visits)}
    return [at[stop.before_visit] for stop in way.stops]


def _groups(
    plan: Plan,
    bells: Bells,
    day: Day,
    route: DayRoute,
    way: Way,
    starts: Sequence[int],
    stop: int,
    to_leave: Sequence[ToLeave],
) -> Iterator[PackingGroup]:
    """What goes at the next stop, what at each later one, and what is out by now. The cart goes with the next."""
    order = [each.id for each in day.containers]
    members: list[list[str]] = []
    placed: set[str] = set()
    for n in range(stop, len(starts)):
        wanted = [each for trip in to_leave for each in trip.containers] if n == stop else []
        wanted += _leaving_at(route, way, n, is_next=n == stop)
        members.append([each for each in dict.fromkeys(wanted) if each not in placed and each in order])
        placed |= {*members[-1]}
    out: list[str] = []
    for each in day.containers:
        if each.id not in placed:
            at = _group_of(each, day, starts[stop:])
            (out if at is None else members[at]).append(each.id)
    first = members[0] if members else out
    if CART in order:
        for group in (*members, out):
            if CART in group:
                group.remove(CART)
        first.insert(0, CART)
    for n, mine in enumerate(members):
        if mine:
            yield PackingGroup(_when(plan, bells, day, starts[stop + n]) if n else "", tuple(mine))
    if out:
        yield PackingGroup(OUT, tuple(out))


def _leaving_at(route: DayRoute, way: Way, n: int, *, is_next: bool) -> Iterator[str]:
    """What leaves the store at a stop: first what is left ahead, then what comes on; at the next what stays on."""
    if route.told is None:
        yield from way.stops[n].on
        return
    stop = route.told.stops[n]
    yield from (each for trip in stop.trips for each in trip.containers)
    yield from stop.on
    if is_next and n:
        yield from (*stop.rides, *stop.kept)


def _group_of(container: Container, day: Day, starts: Sequence[int]) -> int | None:
    """The stop before its first visit to come; what no visit of today needs comes last; None: all of them are over."""
    if not starts:
        return None
    since = starts[0]
    using = [n for n, visit in enumerate(day.visits) if visit.key in container.visits]
    if not using:
        return len(starts) - 1
    first = next((n for n in using if n >= since), None)
    return None if first is None else max(n for n, start in enumerate(starts) if start <= first)


def _when(plan: Plan, bells: Bells, day: Day, first: int) -> str:
    if not first:
        return ""
    before, visit = day.visits[first - 1], day.visits[first]
    named = join_words(names_of_breaks(plan, bells, before, visit))
    return f"after {before.name}" + (f", {named}" if named else "")


def _to_leave(plan: Plan, day: Day, route: DayRoute, stop: int) -> Iterator[ToLeave]:
    """The trips from a stop, and those made from it already, in the order of the visits."""
    if route.plan is None or route.told is None or stop == len(route.told.stops):
        return
    if not stop and route.problem.begun.legs:
        return
    at = route.told.stops[stop]
    session = next((each for each in route.problem.sessions if each.after == at.before), None)
    if session is None:
        return
    trips = {trip.room: list(trip.containers) for trip in at.trips}
    for leg in route.plan.legs:
        for one in leg.ahead if leg.first >= at.before else ():
            if one.session < 0 and one.room in session.been and one.container not in trips.get(one.room, []):
                trips.setdefault(one.room, []).append(one.container)
    coming = day.visits[at.before :]
    first = {visit.room: visit.start for visit in reversed(coming)}
    for room in sorted(first.keys() & trips.keys(), key=lambda each: first[each]):
        containers = tuple(trips[room])
        users = {key for each in day.containers if each.id in containers for key in each.visits}
        visits = tuple(visit for visit in coming if visit.key in users and visit.room == room)
        names = tuple(name_of(plan, each) for each in containers)
        yield ToLeave(room, containers, names, trip_minutes(route.problem, room), visits)


def entries_to_leave(each: ToLeave, at: datetime) -> tuple[Stands, ...]:
    """What says that a trip was made: each of its containers stands in the room."""
    return tuple(Stands(at=at, container=container, place=each.room) for container in each.containers)
