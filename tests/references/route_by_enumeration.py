"""The best route of a day by plain enumeration: every pattern of stops, every way to take everything along.

The cost is added up from the definition alone, as it stands in the docstrings of ``checklists.route.problem``. Of the
product only the records are used.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, product

from msgspec import Struct

from checklists.route.legs import Like
from checklists.route.problem import STANDS, Leg, RouteProblem, Session
from tests.references.random_routes import STORE, minutes

Six = tuple[int, int, int, int, int, int]
"""Late, stops, different, ahead, behind, loaded."""
Way = tuple[str, int | None]
""" "rides", "joins" or "behind", and the session in which it was taken to its room."""


class LegCost(Struct, frozen=True):
    """What one way to do a leg costs, and the trips it asks for: session and room."""

    different: int
    ahead: int
    behind: int
    loaded: int
    trips: frozenset[tuple[int, str]] = frozenset()


def cheapest(problem: RouteProblem, like: Like | None = None) -> Six | None:
    """What the best plan costs; None where none fits."""
    found: Six | None = None
    for stops in patterns_of_stops(problem):
        late, extra = late_minutes(problem, stops), extra_stops(problem, stops)
        if found is not None and (late, extra) > found[:2]:
            continue
        legs = [
            list(ways_of_leg(problem, like, n, first, end))
            for n, (first, end) in enumerate(zip((0, *stops), (*stops, len(problem.visits)), strict=True))
        ]
        for plan in product(*legs):
            if has_the_minutes(problem, {trip for leg in plan for trip in leg.trips}):
                cost = (
                    late,
                    extra,
                    sum(leg.different for leg in plan),
                    sum(leg.ahead for leg in plan),
                    sum(leg.behind for leg in plan),
                    sum(leg.loaded for leg in plan),
                )
                found = cost if found is None else min(found, cost)
    return found


def patterns_of_stops(problem: RouteProblem) -> Iterator[tuple[int, ...]]:
    """Every set of places between two visits where she may be at the store.

    The breaks and the stops she wants are among them always; those so far are as they were, and she may be there now.
    """
    begun, count = problem.begun, len(problem.visits)
    been = {leg.first for leg in begun.legs} - {0}
    if begun.visits and not begun.out and begun.visits < count:
        been.add(begun.visits)
    wanted = {each.after for each in problem.sessions if at_the_store(problem, each)} | problem.stop_after
    # Where the leg she is on began is no place to stop any more.
    first = max(1, begun.visits, begun.legs[-1].first + 1 if begun.out else 1)
    made = {n for n in range(first, count) if n in wanted} | been
    free = [n for n in range(first, count) if n not in made and n not in problem.no_stop_after]
    for number in range(len(free) + 1):
        for some in combinations(free, number):
            yield tuple(sorted({*some, *made}))


def at_the_store(problem: RouteProblem, session: Session) -> bool:
    """Whether she spends a session at the store: not a break after which she never goes by it."""
    return session.after not in problem.no_stop_after or session.after in problem.stop_after


def late_minutes(problem: RouteProblem, stops: Sequence[int]) -> int:
    late = 0
    for n in range(1, len(problem.visits)):
        before, visit = problem.visits[n - 1], problem.visits[n]
        if n not in stops:
            way = minutes(problem, before.room, visit.room)
            way += visit.walk_more if visit.room != before.room else 0
        else:
            way = minutes(problem, before.room, STORE) + visit.walk_more
            if visit.carried is not None:
                way += visit.carried
            else:
                way += problem.handling + minutes(problem, STORE, visit.room) + visit.walk_more
        late += max(0, way - (visit.start - before.end), late_from_a_locked_store(problem, stops, n))
    return late + late_from_a_locked_store(problem, stops, 0)


def late_from_a_locked_store(problem: RouteProblem, stops: Sequence[int], n: int) -> int:
    """Minutes after the bell of visit ``n`` if she leaves the store for it when it opens.

    None where she does not come from there, or brings nothing from there to any visit of the leg.
    """
    firsts = sorted({0, *stops})
    if not problem.opens or n not in firsts:
        return 0
    visit, end = problem.visits[n], min((each for each in firsts if each > n), default=len(problem.visits))
    as_begun = next((leg for leg in problem.begun.legs if leg.first == n), None)
    if as_begun is not None:
        brings = bool(as_begun.rides) or any(each.session != STANDS for each in as_begun.ahead)
    else:
        standing = {
            each.container
            for each in problem.standing
            if n <= next((at for at in users(problem, each.container) if at >= problem.begun.visits), -1) < end
        }
        brings = any(set(each.needs) - standing for each in problem.visits[n:end])
    if visit.carried is not None:
        return max(0, problem.opens + visit.carried - visit.start)
    there = problem.opens + (problem.handling if n else 0) + minutes(problem, STORE, visit.room) + visit.walk_more
    return max(0, there - visit.start) if brings else 0


def extra_stops(problem: RouteProblem, stops: Iterable[int]) -> int:
    return len(set(stops) - {each.after for each in problem.sessions})


def has_the_minutes(problem: RouteProblem, trips: Iterable[tuple[int, str]]) -> bool:
    """Whether each session has the minutes for one way to each room, those she has been to already among them."""
    trips = set(trips)
    for number, session in enumerate(problem.sessions):
        new = {room for n, room in trips if n == number} - set(session.been)
        rooms = {*new, *session.been}
        if new and sum(2 * minutes(problem, STORE, room) + problem.handling for room in rooms) > session.minutes:
            return False
    return True


def users(problem: RouteProblem, container: str) -> list[int]:
    return [n for n, visit in enumerate(problem.visits) if container in visit.needs]


def fits(problem: RouteProblem, containers: Iterable[str], first: int, end: int) -> bool:
    """Whether the cart holds them in these visits, with the folders that do not go on top. Masses to the gram."""
    carried = [each for each in problem.containers if each.id in set(containers)]
    folders = sum(visit.folders for visit in problem.visits[first:end])
    size = sum(each.size for each in carried) + problem.folder_size * max(0, folders - problem.folders_on_top)
    grams = sum(round(each.kilograms * 1000) for each in carried)
    light = problem.most_kilograms is None or grams <= round(problem.most_kilograms * 1000)
    return light and size <= problem.capacity


def ways_of_leg(problem: RouteProblem, like: Like | None, n: int, first: int, end: int) -> Iterator[LegCost]:
    """Every way to do the visits ``first`` up to ``end`` (not included), the leg ``n`` of the day."""
    begun = problem.begun
    other_stops = 0
    if like is not None:
        other_stops = len([at for at in range(first + 1, end) if at in like.stops])
        other_stops += first > 0 and first not in like.stops
    standing: dict[str, bool] = {}
    for each in problem.standing:
        coming = [at for at in users(problem, each.container) if at >= begun.visits]
        if coming and first <= coming[0] < end:
            standing[each.container] = len(coming) > 1
    if n < len(begun.legs):
        is_last = n == len(begun.legs) - 1 and begun.out
        leg = begun.legs[n]
        if not is_last or goes_on(problem, leg, end, standing):
            yield as_it_was(leg, other_stops, standing if is_last else {})
        return
    needed = sorted({each for visit in problem.visits[first:end] for each in visit.needs} - set(standing))
    stays = sum(not joins for joins in standing.values())
    first_use = {each: next(at for at in users(problem, each) if first <= at < end) for each in needed}
    seen = set()
    for ways in product(*(ways_along(problem, like, each, first, end) for each in needed)):
        how = dict(zip(needed, ways, strict=True))
        carried = [each for each in needed if how[each][0] != "behind"]
        if not fits(problem, (*carried, *(each for each, joins in standing.items() if joins)), first, end):
            continue
        ahead = {each: session for each, (_, session) in how.items() if session is not None}
        different = 0
        if like is not None:
            different = sum(like.ahead.get((each, first_use[each])) != ahead.get(each) for each in needed)
        cost = LegCost(
            different=other_stops + different,
            ahead=len(ahead),
            behind=stays + sum(way == "behind" for way, _ in ways),
            loaded=len(needed) - len(ahead),
            trips=frozenset((session, problem.visits[first_use[each]].room) for each, session in ahead.items()),
        )
        if cost not in seen:
            seen.add(cost)
            yield cost


def goes_on(problem: RouteProblem, leg: Leg, end: int, standing: dict[str, bool]) -> bool:
    """Whether the leg she is on can go on up to a visit: with what is on the cart, and what stands there."""
    if end < max(problem.begun.visits, leg.first + 1):
        return False
    on_cart = {*leg.rides, *leg.kept, *(each.container for each in leg.ahead if each.joins)} - set(standing)
    coming = problem.visits[max(problem.begun.visits, leg.first) : end]
    if any(not set(visit.needs) <= {*on_cart, *standing} for visit in coming):
        return False
    if problem.folder_size and any(visit.folders for visit in problem.visits[leg.last + 1 : end]):
        return False  # they are at the store
    joining = {each for each, joins in standing.items() if joins}
    return not joining or fits(problem, {*on_cart, *joining}, leg.first, end)


def as_it_was(leg: Leg, other_stops: int, standing: dict[str, bool]) -> LegCost:
    """What a leg that has begun costs: its trips are made."""
    return LegCost(
        different=other_stops,
        ahead=sum(each.session != STANDS for each in leg.ahead),
        behind=sum(not each.joins for each in leg.ahead) + sum(not joins for joins in standing.values()),
        loaded=len(leg.rides),
    )


def ways_along(problem: RouteProblem, like: Like | None, container: str, first: int, end: int) -> Iterator[Way]:
    """How a container may come to the visits ``first`` up to ``end`` (not included) that need it."""
    yield "rides", None
    using, begun = users(problem, container), problem.begun
    here = [n for n in using if first <= n < end]
    facts = next(each for each in problem.containers if each.id == container)
    is_kept = not facts.may_be_left or container in problem.must_ride
    if is_kept or problem.visits[here[0]].room in problem.never_in:
        return
    for number, session in enumerate(problem.sessions):
        is_over = session.after < begun.visits or (begun.out and session.after <= begun.legs[-1].first)
        if (
            is_over
            or session.after > first
            or not at_the_store(problem, session)
            or any(session.after <= n < here[0] for n in using)
        ):
            continue
        if like is None:  # what joins saves no room: nobody takes it there for being like an earlier plan
            yield "joins", number
        if len(here) == 1 and not any(n >= end for n in using):
            yield "behind", number


def different_from(problem: RouteProblem, legs: Iterable[Leg], like: Like | None) -> int:
    """In how much a plan is not as an earlier one: stops, and what is left ahead in legs that are still to come."""
    if like is None:
        return 0
    legs = tuple(legs)
    different = len({leg.first for leg in legs if leg.first} ^ {n for n in like.stops if n < len(problem.visits)})
    for leg in legs[len(problem.begun.legs) :]:
        session = {each.container: each.session for each in leg.ahead}
        for each in {each for visit in problem.visits[leg.first : leg.last + 1] for each in visit.needs}:
            first_use = next(n for n in range(leg.first, leg.last + 1) if each in problem.visits[n].needs)
            if session.get(each) != STANDS:
                different += like.ahead.get((each, first_use)) != session.get(each)
    return different
