"""The best plan for a day's route, exactly: least late, fewest stops, fewest left ahead, left behind, loaded.

Given where the stops are, legs touch one another only through the minutes of the sessions at the store. So the search
goes visit by visit over what is best for each amount of minutes left, a leg at a time. In a leg something is left ahead
only to make the rest fit: it is then needed by one visit alone and by none later, since what joins the cart again saves
no room on it; and no more is left than must be, since everything left costs.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import product
from operator import add

from msgspec import Struct

from checklists.route.problem import Cost, LeftAhead, Leg, RouteContainer, RoutePlan, RouteProblem
from checklists.walks import STORE

Trips = tuple[frozenset[str], ...]
"""For each session the rooms that something is taken to in it."""


class _Label(Struct, frozen=True):
    """A plan for the first visits of the day: its cost, its ties, the trips made, and its legs."""

    cost: tuple[int, int, int, int, int]
    stops: tuple[int, ...]
    """Negative places of the stops: of two equal plans the one that stops later is smaller."""
    left: tuple[tuple[str, int], ...]
    """What is left ahead, by name, each in the latest session there is time in: its negative place."""
    minutes: tuple[int, ...]
    """Left in each session."""
    trips: Trips
    legs: tuple[Leg, ...]

    @property
    def key(self) -> tuple[object, ...]:
        return self.cost, self.stops, self.left


class _Way(Struct, frozen=True):
    """One way to take along what a leg needs, whatever came before it: what it adds to a label."""

    leg: Leg
    cost: tuple[int, int, int, int, int]
    left: tuple[tuple[str, int], ...]
    trips: Trips


def solve(problem: RouteProblem) -> RoutePlan | None:
    """The best plan, the same one every time; None where there is none."""
    return _Search(problem).best()


class _Search:
    """One problem with what is asked of it again and again."""

    def __init__(self, problem: RouteProblem) -> None:
        self.problem = problem
        self.count = len(problem.visits)
        self.by_id = {each.id: each for each in problem.containers}
        self.forced = {each.after for each in problem.sessions if each.after} | problem.stop_after
        self.in_session = {each.after for each in problem.sessions}

    def best(self) -> RoutePlan | None:
        nothing: Trips = tuple(frozenset() for _ in self.problem.sessions)
        minutes = tuple(each.minutes for each in self.problem.sessions)
        at: list[list[_Label]] = [[] for _ in range(self.count + 1)]
        at[0] = [_Label((0, 0, 0, 0, 0), (), (), minutes, nothing, ())]
        for first in range(self.count):
            if not at[first]:
                continue
            for last in self._ends_of_leg(first):
                for way in self._ways(first, last):
                    for label in at[first]:
                        longer = self._with_leg(label, way)
                        if longer is not None:
                            self._keep(at[last + 1], longer, last + 1)
        found = min(at[self.count], key=lambda label: label.key, default=None)
        return None if found is None else RoutePlan(found.legs, Cost(*found.cost))

    def _ends_of_leg(self, first: int) -> Iterator[int]:
        """Last visits of a leg that begins with a visit: no leg goes past a stop that is made in any case."""
        for last in range(first, self.count):
            if last + 1 == self.count or last + 1 not in self.problem.no_stop_after or last + 1 in self.forced:
                yield last
            if last + 1 in self.forced:
                return

    # ------------------------------------------------------------------------------------------------- one leg

    def _choices(self, needed: Sequence[str], able: Sequence[str]) -> Iterator[tuple[str, ...]]:
        """Every set of containers to leave ahead that makes the rest fit and of which none can be spared."""
        size, mass = self._over([self.by_id[each] for each in needed])
        if size <= 0 and mass <= 0:
            yield ()
            return
        yield from self._sparing(able, size, mass, ())

    def _over(self, containers: Sequence[RouteContainer]) -> tuple[int, float]:
        """By how much they are too large and too heavy for the cart."""
        size = sum(each.size for each in containers) - self.problem.capacity
        if self.problem.most_kilograms is None:
            return size, 0
        return size, sum(each.kilograms for each in containers) - self.problem.most_kilograms

    def _sparing(
        self, able: Sequence[str], size: int, mass: float, taken: tuple[str, ...]
    ) -> Iterator[tuple[str, ...]]:
        if size <= 0 and mass <= 0:
            left = [self.by_id[each] for each in taken]
            if all(size + each.size > 0 or mass + each.kilograms > 0 for each in left):
                yield taken
            return
        for n, each in enumerate(able):
            rest = [self.by_id[other] for other in able[n:]]
            if sum(other.size for other in rest) < size or sum(other.kilograms for other in rest) < mass:
                return
            chosen = self.by_id[each]
            yield from self._sparing(able[n + 1 :], size - chosen.size, mass - chosen.kilograms, (*taken, each))

    def _sessions_for(self, container: str, first: int, last: int) -> list[int]:
        """Sessions in which a container can be taken to its only visit of the leg; none where it must ride."""
        visits = self.problem.visits
        using = [n for n in range(first, self.count) if container in visits[n].needs]
        if len(using) != 1 or not self.by_id[container].may_be_left:
            return []
        if visits[using[0]].room in self.problem.never_in:
            return []
        before = [n for n in range(first) if container in visits[n].needs]
        since = before[-1] + 1 if before else 0
        return [n for n, each in enumerate(self.problem.sessions) if since <= each.after <= first]

    def _ways(self, first: int, last: int) -> Iterator[_Way]:
        """Every way to take along what a leg needs, and to spread what is left ahead over the sessions."""
        visits = self.problem.visits[first : last + 1]
        needed = sorted({each for visit in visits for each in visit.needs})
        sessions_for = {each: self._sessions_for(each, first, last) for each in needed}
        late = self._late(first, last)
        stops = int(first > 0 and first not in self.in_session)
        for choice in self._choices(needed, [each for each in needed if sessions_for[each]]):
            rides = tuple(each for each in needed if each not in choice)
            rooms = [next(visit.room for visit in visits if each in visit.needs) for each in choice]
            cost = (late, stops, len(choice), len(choice), len(rides))
            for sessions in product(*(sessions_for[each] for each in choice)):
                trips = [set[str]() for _ in self.problem.sessions]
                for session, room in zip(sessions, rooms, strict=True):
                    trips[session].add(room)
                needs = (self._trips_minutes(each) for each in trips)
                if all(least <= each.minutes for least, each in zip(needs, self.problem.sessions, strict=True)):
                    left = tuple(map(LeftAhead, choice, rooms, sessions))
                    by_name = tuple((each.container, -each.session) for each in left)
                    yield _Way(Leg(first, last, rides, left), cost, by_name, tuple(map(frozenset, trips)))

    def _with_leg(self, label: _Label, way: _Way) -> _Label | None:
        """The label with one more leg; None where a session has not the minutes for it."""
        minutes, trips = label.minutes, label.trips
        if way.left:
            spent = [self._trips_minutes(new - made) for new, made in zip(way.trips, trips, strict=True)]
            minutes = tuple(there - more for there, more in zip(minutes, spent, strict=True))
            if any(each < 0 for each in minutes):
                return None
            trips = tuple(made | new for new, made in zip(way.trips, trips, strict=True))
        late, stops, ahead, behind, loaded = map(add, label.cost, way.cost)
        at = (*label.stops, -way.leg.first) if way.leg.first else label.stops
        left = (*label.left, *way.left)
        return _Label((late, stops, ahead, behind, loaded), at, left, minutes, trips, (*label.legs, way.leg))

    def _late(self, first: int, last: int) -> int:
        """Minutes late at the visits of a leg, the way by the store before its first one included."""
        problem = self.problem
        late = 0
        for n in range(max(first, 1), last + 1):
            before, visit = problem.visits[n - 1], problem.visits[n]
            way = (
                self._walk(before.room, STORE) + problem.handling + self._walk(STORE, visit.room)
                if n == first
                else self._walk(before.room, visit.room)
            )
            late += max(0, way - (visit.start - before.end))
        return late

    def _walk(self, start: str, end: str) -> int:
        return walk(self.problem, start, end)

    # ---------------------------------------------------------------------------------------------- the sessions

    def _trips_minutes(self, rooms: Iterable[str]) -> int:
        return sum(self._trip[room] for room in rooms)

    @cached_property
    def _trip(self) -> dict[str, int]:
        """Minutes of a round trip to each room."""
        return {visit.room: trip_minutes(self.problem, visit.room) for visit in self.problem.visits}

    def _keep(self, labels: list[_Label], new: _Label, at: int) -> None:
        """Take a label in, unless another one is as good whatever comes; drop those that it beats."""
        if any(self._beats(each, new, at) for each in labels):
            return
        labels[:] = [each for each in labels if not self._beats(new, each, at)]
        labels.append(new)

    def _beats(self, one: _Label, other: _Label, at: int) -> bool:
        """Whether ``one`` costs no more, ties included, and has the minutes for every trip that ``other`` can make."""
        if one.key > other.key:
            return False
        coming = self._rooms_from[at]
        for n, rooms in enumerate(other.trips):
            if one.minutes[n] - self._trips_minutes((rooms - one.trips[n]) & coming) < other.minutes[n]:
                return False
        return True

    @cached_property
    def _rooms_from(self) -> list[frozenset[str]]:
        """For each place in the day the rooms that come after it."""
        return [frozenset(visit.room for visit in self.problem.visits[at:]) for at in range(self.count + 1)]


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


def trip_minutes(problem: RouteProblem, room: str) -> int:
    """Minutes to take things to a room and come back to the store."""
    return 2 * walk(problem, STORE, room) + problem.handling
