"""The best plan for a day's route, exactly: least late, fewest stops, fewest left ahead, left behind, loaded.

Given where the stops are, legs touch one another only through the minutes of the sessions at the store. So the search
goes visit by visit over what is best for each amount of minutes left, a leg at a time (``legs`` has what a leg can be).

What the rest of the day costs at least, were there minutes for everything, says which plans for the first visits can
still be the best one: only these are gone on with. Where none of them comes to the end, a little more is allowed.

Where a plan is to be like an earlier one, what is different from it counts after late minutes and stops and before
everything else; then what the earlier plan left ahead may be left ahead without need.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import product

from msgspec import Struct, structs

from checklists.route.keeping import with_kept
from checklists.route.legs import NOTHING, LegFacts, Legs, Like, Six, sum_of
from checklists.route.problem import STANDS, Cost, LeftAhead, Leg, RoutePlan, RouteProblem
from checklists.route.ways import trip_minutes

Trips = tuple[frozenset[str], ...]
"""For each session the rooms that something is taken to in it."""
FEW_TRIES = 4
"""Of the tries with a little more allowed the last one allows everything: where no plan can be, there would be many."""


class _Label(Struct, frozen=True):
    """A plan for the first visits of the day: its cost, its ties, the trips made, and its legs."""

    cost: Six
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


def solve(problem: RouteProblem, like: Like | None = None) -> RoutePlan | None:
    """The best plan, the same one every time; None where there is none."""
    return _Search(problem, like).best()


class _Search:
    """One problem with what is asked of it again and again."""

    def __init__(self, problem: RouteProblem, like: Like | None) -> None:
        self.problem = problem
        self.count = len(problem.visits)
        self.legs = Legs(problem, like)

    def best(self) -> RoutePlan | None:
        begun = [(label, end) for label, end in self._begun() if self._to_come[end] is not None]
        least = [sum_of(label.cost, self._to_come[end] or NOTHING) for label, end in begun]
        bound: Six | None = min(least, default=NOTHING)
        found: _Label | None = None
        for n in range(FEW_TRIES):
            found, beyond = self._best_within(begun, bound if n < FEW_TRIES - 1 else None)
            if found is not None or beyond is None:
                break
            bound = beyond
        if found is None:
            return None
        late, stops, _, ahead, behind, loaded = found.cost
        return RoutePlan(with_kept(self.problem, found.legs), Cost(late, stops, ahead, behind, loaded))

    def _best_within(self, begun: Sequence[tuple[_Label, int]], bound: Six | None) -> tuple[_Label | None, Six | None]:
        """The best plan that costs no more than ``bound``, and the least that a plan beyond it can cost."""
        at: list[list[_Label]] = [[] for _ in range(self.count + 1)]
        beyond: Six | None = None
        for label, end in begun:
            self._keep(at[end], label, end)
        for first in range(self.count):
            for leg, choices in self.legs.from_visit[first] if at[first] else ():
                end = leg.last + 1
                to_come = self._to_come[end]
                for label in at[first] if to_come is not None else ():
                    for choice in choices:
                        least = sum_of(sum_of(label.cost, choice.cost), to_come or NOTHING)
                        if bound is not None and least > bound:
                            beyond = least if beyond is None else min(beyond, least)
                            break  # the choices that follow cost no less
                        for longer in self._with_leg(label, leg, choice.containers):
                            self._keep(at[end], longer, end)
        return min(at[self.count], key=lambda label: label.key, default=None), beyond

    @cached_property
    def _to_come(self) -> list[Six | None]:
        """What the visits from each one on cost at least, were there minutes for every trip; None: no plan for them."""
        found: list[Six | None] = [None] * self.count + [NOTHING]
        for first in range(self.count - 1, -1, -1):
            least = [
                sum_of(choices[0].cost, rest)
                for leg, choices in self.legs.from_visit[first]
                if choices and (rest := found[leg.last + 1]) is not None
            ]
            found[first] = min(least, default=None)
        return found

    # ----------------------------------------------------------------------------------------- what has begun

    def _begun(self) -> Iterator[tuple[_Label, int]]:
        """Where the search begins: with the day, or with the legs so far; the one she is on may end at many places."""
        begun = self.problem.begun
        sessions = self.problem.sessions
        spent = (sum(trip_minutes(self.problem, room) for room in each.been) for each in sessions)
        minutes = tuple(max(0, each.minutes - used) for each, used in zip(sessions, spent, strict=True))
        label = _Label(NOTHING, (), (), minutes, tuple(frozenset(each.been) for each in sessions), ())
        closed = begun.legs[:-1] if begun.out else begun.legs
        for leg in closed:
            label = self._with_begun(label, leg, ())
        if not begun.out or not begun.legs:
            yield label, begun.visits
            return
        leg = begun.legs[-1]
        for last in self.legs.ends_from(leg.first):
            standing = self.legs.standing_in(leg.first, last)
            there = {each.container for each in standing}
            # What rode and was put down where it is needed next stands there; what was left behind does not ride.
            riding = {*leg.rides, *leg.kept, *(each.container for each in leg.ahead if each.joins)} - there
            coming = self.problem.visits[begun.visits : last + 1]
            further = self.problem.visits[leg.last + 1 : last + 1]
            if any(not (riding | there).issuperset(visit.needs) for visit in coming):
                return
            if self.problem.folder_size and any(visit.folders for visit in further):
                return
            joining = {each.container for each in standing if each.joins}
            is_too_much = bool(joining) and max(self.legs.over(sorted(riding | joining), leg.first, last)) > 0
            if last + 1 >= max(begun.visits, 1) and not is_too_much:
                yield self._with_begun(label, structs.replace(leg, last=last), standing), last + 1

    def _with_begun(self, label: _Label, leg: Leg, standing: tuple[LeftAhead, ...]) -> _Label:
        """The label with a leg as it was; what it left ahead has cost its session's minutes already."""
        left = (*leg.ahead, *standing)
        late, stops, different, ahead, behind, loaded = label.cost
        cost = (
            late + self.legs.late(leg.first, leg.last, takes=leg.takes),
            stops + int(leg.first > 0 and leg.first not in self.legs.in_session),
            different + self.legs.other_stops(leg.first, leg.last),
            ahead + sum(each.session != STANDS for each in left),
            behind + sum(not each.joins for each in left),
            loaded + len(leg.rides),
        )
        at = (*label.stops, -leg.first) if leg.first else label.stops
        new = structs.replace(leg, ahead=left)
        return _Label(cost, at, label.left, label.minutes, label.trips, (*label.legs, new))

    # ------------------------------------------------------------------------------------------------- one leg

    def _with_leg(self, label: _Label, leg: LegFacts, choice: tuple[str, ...]) -> Iterator[_Label]:
        """The label with one more leg, for every way to spread what is left ahead over the sessions."""
        visits = self.problem.visits
        rides = tuple(each for each in leg.needed if each not in choice)
        late, stops, different, ahead, behind, loaded = label.cost
        stays = sum(not each.joins for each in leg.standing)
        at = (*label.stops, -leg.first) if leg.first else label.stops
        for sessions in product(*(leg.sessions[each] for each in choice)):
            left = tuple(
                LeftAhead(each, visits[leg.first_use[each]].room, session)
                for each, session in zip(choice, sessions, strict=True)
            )
            spent = self._spend(label, left)
            if spent is not None:
                minutes, trips = spent
                cost = (
                    late + leg.late,
                    stops + leg.stops,
                    different + self.legs.different(leg, left),
                    ahead + len(left),
                    behind + len(left) + stays,
                    loaded + len(rides),
                )
                by_name = tuple((each.container, -each.session) for each in left)
                new = Leg(leg.first, leg.last, rides, tuple(sorted((*leg.standing, *left))))
                yield _Label(cost, at, (*label.left, *by_name), minutes, trips, (*label.legs, new))

    # ---------------------------------------------------------------------------------------------- the sessions

    def _spend(self, label: _Label, left: tuple[LeftAhead, ...]) -> tuple[tuple[int, ...], Trips] | None:
        """Minutes and trips once these were taken to their rooms; None where a session has not so many minutes."""
        if not left:
            return label.minutes, label.trips
        minutes, trips = list(label.minutes), [set(rooms) for rooms in label.trips]
        for each in left:
            if each.room not in trips[each.session]:
                trips[each.session].add(each.room)
                minutes[each.session] -= trip_minutes(self.problem, each.room)
        if any(each < 0 for each in minutes):
            return None
        return tuple(minutes), tuple(frozenset(rooms) for rooms in trips)

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
            made = (room for room in rooms - one.trips[n] if room in coming)
            if one.minutes[n] - sum(trip_minutes(self.problem, room) for room in made) < other.minutes[n]:
                return False
        return True

    @cached_property
    def _rooms_from(self) -> list[frozenset[str]]:
        """For each place in the day the rooms that come after it."""
        return [frozenset(visit.room for visit in self.problem.visits[at:]) for at in range(self.count + 1)]
