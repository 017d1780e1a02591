"""The legs a day can have: what each needs, what stands there, what can be left ahead in it, what it costs at least.

Something is left ahead only to make the rest fit: it is then needed by one visit of the leg alone and by none later,
since what joins the cart again saves no room on it; and no more is left than must be, since everything left costs. What
stands in a room already is taken as it is, and joins where it is needed again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import combinations

from msgspec import Struct

from checklists.route.problem import STANDS, LeftAhead, RouteContainer, RouteProblem
from checklists.route.ways import minutes_late

Six = tuple[int, int, int, int, int, int]
"""Late, stops, different, ahead, behind, loaded."""
NOTHING: Six = (0, 0, 0, 0, 0, 0)


class Like(Struct, frozen=True):
    """An earlier plan, in the visits of the problem: the stops, by the visit after them, and what was left ahead.

    ``ahead``: container and visit -> index of the session, in the problem's sessions.
    """

    stops: frozenset[int] = frozenset()
    ahead: dict[tuple[str, int], int] = {}


class Choice(Struct, frozen=True):
    """Containers to leave ahead in a leg, and what it costs with them at least."""

    containers: tuple[str, ...]
    cost: Six


class LegFacts(Struct, frozen=True):
    """What a leg is whatever is left ahead in it."""

    first: int
    last: int
    needed: tuple[str, ...]
    """By name; without what stands in its room."""
    standing: tuple[LeftAhead, ...]
    first_use: dict[str, int]
    sessions: dict[str, tuple[int, ...]]
    """Container -> the sessions in which it can be left ahead; what must ride is not among them."""
    late: int
    stops: int
    other_stops: int
    """Stops made or left out that the earlier plan left out or made."""
    over: tuple[int, int]
    """By how many half slots and grams everything would be too large and too heavy for the cart."""


class Legs:
    """Every leg of one problem, each looked at once."""

    def __init__(self, problem: RouteProblem, like: Like | None) -> None:
        self.problem = problem
        self.like = like
        self.count = len(problem.visits)
        self.by_id = {each.id: each for each in problem.containers}
        self.away = problem.no_stop_after - problem.stop_after
        breaks = {each.after for each in problem.sessions if each.after} - self.away
        stops = breaks | problem.stop_after
        self.forced = {each for each in stops if each >= problem.begun.visits}
        self.in_session = {each.after for each in problem.sessions}
        self.stands = {each.container: each.room for each in problem.standing}
        self.uses: dict[str, list[int]] = {}
        for n, visit in enumerate(problem.visits):
            for each in visit.needs:
                self.uses.setdefault(each, []).append(n)

    @cached_property
    def from_visit(self) -> list[list[tuple[LegFacts, list[Choice]]]]:
        """For each visit the legs that can begin with it, and what can be left ahead in each, the least first."""
        found: list[list[tuple[LegFacts, list[Choice]]]] = []
        for first in range(self.count):
            legs = [self._facts(first, last) for last in self.ends_from(first)] if self._can_begin(first) else []
            found.append([(leg, self._choices_at_least(leg)) for leg in legs])
        return found

    def _can_begin(self, first: int) -> bool:
        """Whether a leg that is still to come can begin with a visit."""
        begun = self.problem.begun
        return first >= begun.visits and not (begun.out and first <= begun.legs[-1].first)

    def ends_from(self, first: int) -> Iterator[int]:
        """Last visits of a leg that begins with a visit: no leg goes past a stop that is made in any case."""
        for last in range(first, self.count):
            if last + 1 == self.count or last + 1 not in self.away:
                yield last
            if last + 1 in self.forced:
                return

    def _facts(self, first: int, last: int) -> LegFacts:
        standing = self.standing_in(first, last)
        there = {each.container for each in standing}
        first_use: dict[str, int] = {}
        for n in range(first, last + 1):
            for each in self.problem.visits[n].needs:
                first_use.setdefault(each, n)
        needed = tuple(sorted(each for each in first_use if each not in there))
        sessions = {each: self._sessions_for(each, first, last) for each in needed}
        return LegFacts(
            first=first,
            last=last,
            needed=needed,
            standing=standing,
            first_use=first_use,
            sessions={each: found for each, found in sessions.items() if found},
            late=self.late(first, last, takes=bool(needed)),
            stops=int(first > 0 and first not in self.in_session),
            other_stops=self.other_stops(first, last),
            over=self.over([*needed, *(each.container for each in standing if each.joins)], first, last),
        )

    def standing_in(self, first: int, last: int) -> tuple[LeftAhead, ...]:
        """What stands in the room of its next visit, where that is in the leg: it joins where it is needed again."""
        found = []
        for container, room in self.stands.items():
            coming = [n for n in self.uses.get(container, ()) if n >= self.problem.begun.visits]
            if coming and first <= coming[0] <= last:
                found.append(LeftAhead(container, room, STANDS, joins=len(coming) > 1))
        return tuple(sorted(found))

    def over(self, containers: Sequence[str], first: int, last: int) -> tuple[int, int]:
        """Half slots and grams by which they are too large, with the folders of the leg, and too heavy for the cart.

        What is no longer a container of the day, since a helper carries it now, counts no more.
        """
        there = [self.by_id[each] for each in containers if each in self.by_id]
        size = sum(each.size for each in there) + self._folders(first, last) - self.problem.capacity
        if self.problem.most_grams is None:
            return size, 0
        return size, sum(each.grams for each in there) - self.problem.most_grams

    def _folders(self, first: int, last: int) -> int:
        folders = sum(visit.folders for visit in self.problem.visits[first : last + 1])
        return max(0, folders - self.problem.folders_on_top) * self.problem.folder_size

    def _choices_at_least(self, leg: LegFacts) -> list[Choice]:
        stays = sum(not each.joins for each in leg.standing)
        found = []
        for choice in self._choices(leg):
            count = len(choice)
            loaded = len(leg.needed) - count
            different = self._least_different(leg, choice)
            found.append(Choice(choice, (leg.late, leg.stops, different, count, count + stays, loaded)))
        return sorted(found, key=lambda each: (each.cost, each.containers))

    def _choices(self, leg: LegFacts) -> Iterator[tuple[str, ...]]:
        """Every set of containers to leave ahead that makes the rest fit and of which none can be spared.

        What an earlier plan left ahead may be among them in any case.
        """
        like = self.like.ahead if self.like is not None else {}
        kept = [each for each in leg.sessions if (each, leg.first_use[each]) in like]
        able = [each for each in leg.sessions if each not in kept]
        size, mass = leg.over
        for count in range(len(kept) + 1):
            for some in combinations(kept, count):
                left = [self.by_id[each] for each in some]
                less = size - sum(each.size for each in left), mass - sum(each.grams for each in left)
                for others in self._sparing(able, *less, ()):
                    yield tuple(sorted((*some, *others)))

    def _sparing(self, able: Sequence[str], size: int, mass: int, taken: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
        if size <= 0 and mass <= 0:
            left = [self.by_id[each] for each in taken]
            if all(size + each.size > 0 or mass + each.grams > 0 for each in left):
                yield taken
            return
        for n, each in enumerate(able):
            rest: list[RouteContainer] = [self.by_id[other] for other in able[n:]]
            if sum(other.size for other in rest) < size or sum(other.grams for other in rest) < mass:
                return
            chosen = self.by_id[each]
            yield from self._sparing(able[n + 1 :], size - chosen.size, mass - chosen.grams, (*taken, each))

    def _sessions_for(self, container: str, first: int, last: int) -> tuple[int, ...]:
        """Sessions in which a container can be taken to its only visit of the leg; none where it must ride."""
        visits, begun = self.problem.visits, self.problem.begun
        using = [n for n in self.uses[container] if n >= first]
        if len(using) != 1 or not self.by_id[container].may_be_left or container in self.problem.must_ride:
            return ()
        if visits[using[0]].room in self.problem.never_in:
            return ()
        before = [n for n in self.uses[container] if n < first]
        since = max(before[-1] + 1 if before else 0, begun.visits, begun.legs[-1].first + 1 if begun.out else 0)
        sessions = enumerate(self.problem.sessions)
        return tuple(n for n, each in sessions if since <= each.after <= first and each.after not in self.away)

    def different(self, leg: LegFacts, left: tuple[LeftAhead, ...]) -> int:
        """In how much a leg is not as the earlier plan had it: stops, and containers left ahead or not, or when."""
        if self.like is None:
            return 0
        by_container = {each.container: each.session for each in left}
        was = {each: self.like.ahead.get((each, leg.first_use[each])) for each in leg.needed}
        return leg.other_stops + sum(by_container.get(each) != session for each, session in was.items())

    def _least_different(self, leg: LegFacts, choice: tuple[str, ...]) -> int:
        """The same, for whichever sessions make it the least."""
        if self.like is None:
            return 0
        was = {each: self.like.ahead.get((each, leg.first_use[each])) for each in leg.needed}
        as_before = (was[each] in leg.sessions[each] if each in choice else was[each] is None for each in leg.needed)
        return leg.other_stops + sum(not each for each in as_before)

    def other_stops(self, first: int, last: int) -> int:
        if self.like is None:
            return 0
        missed = sum(n in self.like.stops for n in range(first + 1, last + 1))
        return missed + int(first > 0 and first not in self.like.stops)

    def late(self, first: int, last: int, *, takes: bool) -> int:
        """Minutes late at the visits of a leg, the way by the store before its first one included.

        ``takes``: the leg needs something from the store, which must be open by then.
        """
        ways = range(first if first or self.problem.opens else 1, last + 1)
        return sum(minutes_late(self.problem, n, by_store=n == first, takes=takes) for n in ways)


def sum_of(one: Six, other: Six) -> Six:
    return (
        one[0] + other[0],
        one[1] + other[1],
        one[2] + other[2],
        one[3] + other[3],
        one[4] + other[4],
        one[5] + other[5],
    )
