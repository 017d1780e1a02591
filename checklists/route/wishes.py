"""Wishes for the route as she says them: which ones make sense where, what one writes, and the route as it would be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from copy import copy
from datetime import datetime

from msgspec import Struct, structs

from checklists.daybook.entries import AnyEntry, Changed
from checklists.daybook.marks import Marks, add_to
from checklists.lines.containers import box_of
from checklists.lines.records import Day
from checklists.plan.records import Plan, School
from checklists.route.begun import route_anew, route_so_far
from checklists.route.day_route import DayRoute, route_of
from checklists.route.pins import HELPER, Pin, entry_of_pin, entry_without_pin, school_with_pin, school_without_pin
from checklists.route.problem import RouteProblem


class WishStep(Struct, frozen=True):
    """What saying a wish, or taking one back, writes: into the day, and into the plan where it is for good."""

    entries: tuple[AnyEntry, ...] = ()
    school: School | None = None


def step_of(
    plan: Plan, day: Day, marks: Marks, route: DayRoute, pin: Pin, at: datetime, *, back: bool, for_good: bool
) -> WishStep:
    """Say a wish, or take it ``back``, for the day or ``for_good``.

    What is said for good is to hold on the day too: what the day has said of the same is taken back there. To take
    back for good what is only the day's own is to take it back for the day.
    """
    is_in_plan = pin.about in getattr(plan.school.route, pin.kind)
    if not for_good or (back and not is_in_plan):
        return WishStep((entry_without_pin(pin, at) if back else entry_of_pin(pin, at),))
    school = school_without_pin(plan.school, pin) if back else school_with_pin(plan.school, pin)
    said = getattr(marks.changes, pin.kind, None) or {}
    entries: list[AnyEntry] = []
    if said.get(pin.about):
        entries.append(entry_without_pin(structs.replace(pin, for_good=False), at))
    anew = route_anew(day, marks, route, at)
    if anew is not None and (anew.begun or anew.out or marks.route is not None):
        entries.append(anew)
    return WishStep(tuple(entries), school)


def route_if(plan: Plan, day: Day, marks: Marks, route: DayRoute, step: WishStep) -> DayRoute:
    """The route as it would be once this is said. ``route`` is the one so far."""
    after = copy(marks)
    for entry in step.entries:
        add_to(after, entry)
    said = structs.replace(plan, school=step.school) if step.school is not None else plan
    new = route_of(said, day, after)
    is_change = any(isinstance(entry, Changed) for entry in step.entries)
    so_far = route_so_far(day, marks, route, step.entries) if is_change and step.school is None else None
    if so_far is not None and so_far.is_needed(new):
        add_to(after, so_far.entry)
        new = route_of(said, day, after)
    return new


def may_be_for_good(plan: Plan, pin: Pin) -> bool:
    """Whether the plan can hold it: of containers only boxes and kits are the same ones every day."""
    return (
        pin.kind != "rides" or pin.about in plan.kit_by_id or pin.about in {box_of(each.grade) for each in plan.classes}
    )


# --------------------------------------------------------------------------------------------------- which make sense


def wishes_at_visit(day: Day, route: DayRoute, n: int, begun: int = 0) -> tuple[Pin, ...]:
    """About visit ``n``, counted from 0: the stop after it, its room, what it needs; not of those begun."""
    plain, visit = _plain(route), day.visits[n]
    found = list(_of_stop(day, route, n + 1, begun))
    if n < max(begun, route.problem.begun.visits):
        return tuple(found)
    needs = plain.visits[n].needs
    if any(each.may_be_left for each in plain.containers if each.id in needs):
        found.append(Pin("leave_in", visit.room, "never"))
    return (*found, *_of_containers(plain, needs))


def wishes_at_stop(day: Day, route: DayRoute, before: int, begun: int = 0) -> tuple[Pin, ...]:
    """About the stop before a visit that has not begun: whether it is made, and what leaves the store there."""
    stop = next((each for each in route.told.stops if each.before == before), None) if route.told else None
    if stop is None or before < max(begun, route.problem.begun.visits):
        return ()
    taken = [*(each for trip in stop.trips for each in trip.containers), *stop.rides]
    return (*_of_stop(day, route, before, begun), *_of_containers(_plain(route), taken))


def _plain(route: DayRoute) -> RouteProblem:
    return route.unpinned or route.problem


def _of_stop(day: Day, route: DayRoute, after: int, begun: int) -> Iterator[Pin]:
    """None where she is at the store in a break all the same, after the last visit, and of what is over."""
    plain = _plain(route)
    is_break = any(each.after == after for each in plain.sessions)
    if is_break or not max(1, begun, route.problem.begun.visits) <= after < len(day.visits):
        return
    period = day.visits[after - 1].period
    if after not in plain.stop_after:
        yield Pin("stops", period, "never")
        yield Pin("stops", period, "always")


def _of_containers(plain: RouteProblem, containers: Iterable[str]) -> Iterator[Pin]:
    by_id = {each.id: each for each in plain.containers}
    for each in containers:
        if each in by_id and by_id[each].may_be_left:
            yield Pin("rides", each, "always")
        yield Pin("rides", each, HELPER)


def holds(route: DayRoute, pin: Pin) -> Pin | None:
    """The same wish as it holds already, for the day or for good."""
    same = (each for each in route.pins if (each.kind, each.about, each.how) == (pin.kind, pin.about, pin.how))
    return next(same, None)
