"""The route of a day: its problem from the list and what was said, the best plan, or what would make one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from msgspec import Struct

from checklists.daybook.entries import Changed
from checklists.daybook.fetching import to_fetch
from checklists.daybook.marks import Marks
from checklists.lines.carrying import ByHand, carried_by_hand
from checklists.lines.records import Day
from checklists.plan.records import Bells, Plan
from checklists.route.day_problem import as_it_stands, problem_of_day
from checklists.route.kept import KeptNow, kept_now
from checklists.route.legs import Like
from checklists.route.pins import Pin, helped, pins_on, with_pins
from checklists.route.problem import Cost, RoutePlan, RouteProblem
from checklists.route.smallest_changes import SmallChange, smallest_changes
from checklists.route.solve import solve
from checklists.route.told import RouteTold, Stranded, told
from checklists.taught_periods import bells_on
from checklists.walks import walks_of


class DayRoute(Struct, frozen=True, dict=True):
    """The route of a day: its problem with her wishes, and the best plan in the order of the day, if there is one."""

    problem: RouteProblem
    plan: RoutePlan | None
    told: RouteTold | None
    pins: tuple[Pin, ...] = ()
    unpinned: RouteProblem | None = None
    """The same problem without her wishes."""
    like: Like | None = None
    """The route so far, where the plan is as like it as it can be."""
    helped: tuple[str, ...] = ()
    """What a helper carries from room to room."""
    carried: tuple[ByHand, ...] = ()
    """What she carries by hand where no cart gets to, in the order of the visits."""

    @cached_property
    def changes(self) -> tuple[SmallChange, ...]:
        """What would make a plan, where there is none."""
        return smallest_changes(self.problem) if self.plan is None else ()

    @property
    def fetched_later(self) -> frozenset[str]:
        """What stands in a room and is fetched at a later stop than the first."""
        return frozenset(each.container for stop in (self.told.stops[1:] if self.told else ()) for each in stop.fetch)

    @property
    def by_store(self) -> frozenset[str]:
        """Keys of the visits to which she goes by the store."""
        ways = self.told.ways if self.told is not None else ()
        return frozenset(self.problem.visits[way.visit].key for way in ways if way.by_store)

    @property
    def minutes_ahead(self) -> int:
        """Minutes that leaving ahead still takes before school: what does not stand in its room yet takes a trip."""
        if self.told is None or not self.told.stops or self.problem.begun.legs:
            return 0
        return sum(trip.minutes for trip in self.told.stops[0].trips)


def problem_as_planned(plan: Plan, day: Day, changes: Changed | None) -> RouteProblem:
    """The problem of a day with her wishes, before anything happened on it."""
    bells = bells_on(plan, changes)
    problem = problem_of_day(plan, bells, day, changes, _by_hand(plan, bells, day))
    return with_pins(problem, day, pins_on(plan, changes))


def _by_hand(plan: Plan, bells: Bells, day: Day) -> tuple[ByHand, ...]:
    return carried_by_hand(walks_of(plan, day), bells, day.visits, day.containers, day.lines)


class PinCost(Struct, frozen=True):
    """A wish with what the best plan costs with it and without it; None: there is no plan."""

    pin: Pin
    with_it: Cost | None
    without: Cost | None


def route_of(plan: Plan, day: Day, marks: Marks) -> DayRoute:
    """The best route of a day with visits, as the day has come so far."""
    changes = marks.changes
    bells = bells_on(plan, changes)
    carried = _by_hand(plan, bells, day)
    plain = problem_of_day(plan, bells, day, changes, carried)
    kept = kept_now(marks.route, [visit.key for visit in day.visits], plain.sessions)
    unpinned = as_it_stands(plan, plain, day, marks, kept)
    pins = pins_on(plan, changes)
    problem = with_pins(unpinned, day, pins)
    found = solve(problem, kept.like)
    return DayRoute(
        problem=problem,
        plan=found,
        told=None if found is None else told(problem, found, _stranded(problem, day, kept, marks)),
        pins=pins,
        unpinned=unpinned,
        like=kept.like,
        helped=tuple(each.id for each in day.containers if each.id in helped(pins)),
        carried=carried,
    )


def _stranded(problem: RouteProblem, day: Day, kept: KeptNow, marks: Marks) -> tuple[Stranded, ...]:
    """What stands in a room whose visit fell out, went elsewhere or is over, or stood somewhere when the day opened.

    Her own word of its place counts first; what was to be fetched for a visit that has begun was fetched.
    """
    standing = {each.container for each in problem.standing}
    over = problem.begun.visits
    found: dict[str, Stranded] = {}
    for container, room in kept.stands:
        if container not in standing and container not in marks.places:
            found[container] = Stranded(container, room, day.fetch_minutes.get(room, 0))
    for each in to_fetch(day, marks):
        rides_already = each.container in problem.begun.containers and each.container not in marks.places
        if each.container in standing or each.container in found or each.visit is None or rides_already:
            continue
        since = day.visits.index(each.visit)
        if since >= over:
            found[each.container] = Stranded(each.container, each.place, day.fetch_minutes.get(each.place, 0), since)
    return tuple(found.values())


def cost_with(route: DayRoute, day: Day, pins: Sequence[Pin]) -> Cost | None:
    """What the best plan costs with these wishes in place of those that hold; None: there is no plan."""
    found = solve(with_pins(route.unpinned or route.problem, day, pins), route.like)
    return None if found is None else found.cost


def costs_of_pins(route: DayRoute, day: Day) -> tuple[PinCost, ...]:
    """Each wish with what it costs."""
    now = None if route.plan is None else route.plan.cost
    return tuple(
        PinCost(pin, now, cost_with(route, day, [each for each in route.pins if each != pin])) for pin in route.pins
    )


def pins_in_the_way(route: DayRoute, day: Day) -> tuple[Pin, ...]:
    """Where there is no plan: her wishes of which taking back any single one would make one."""
    if route.plan is not None:
        return ()
    return tuple(
        pin for pin in route.pins if cost_with(route, day, [each for each in route.pins if each != pin]) is not None
    )


def with_pin(route: DayRoute, pin: Pin) -> tuple[Pin, ...]:
    """The wishes of a day with a further one in the place of what was said of the same."""
    return (pin, *(each for each in route.pins if (each.kind, each.about) != (pin.kind, pin.about)))


def is_same_way(one: RoutePlan | None, other: RoutePlan | None) -> bool:
    """Whether two plans ask the same of her: who took a thing to its room, and when, is no difference."""
    if one is None or other is None:
        return one is other
    return _ways(one) == _ways(other)


def _ways(plan: RoutePlan) -> list[tuple[object, ...]]:
    return [
        (leg.first, leg.last, leg.rides, sorted((each.container, each.room) for each in leg.ahead)) for leg in plan.legs
    ]
