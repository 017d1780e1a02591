"""Where do I go next, with what, and by when? One line, counted from the clock."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.marks import Marks
from checklists.lines.containers import name_of
from checklists.lines.records import Day, Visit
from checklists.pages.route import say_fetched, say_way
from checklists.pages.route_timeline import say_behind, whens_of
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute
from checklists.route.departure import Departure, departure_of
from checklists.route.stops import ways_of
from checklists.taught_periods import bells_on
from checklists.words import clock, join_words, say_room


def say_next(plan: Plan, day: Day, marks: Marks, route: DayRoute, minute: int) -> str:
    """What she does next: what is left ahead, loaded, and by when; or straight to a room, or by the store."""
    whens = whens_of(day, route, minute)
    if "next" not in whens:
        behind = say_behind(plan, route.told) if route.told is not None else ""
        over = f"All visits are over. Fetch {behind}." if behind else "All visits are over."
        return "" if "now" in whens else over
    n = whens.index("next")
    bells = bells_on(plan, marks.changes)
    departure = departure_of(plan, bells, day, route, marks, minute)
    way = ways_of(plan, bells, day, route)[n]
    is_free = n == 0 or day.visits[n - 1].end <= minute
    is_at_store = departure.before is not None and departure.before.key == day.visits[n].key
    if is_at_store and (not n or _is_break(route, n)):
        return _from_the_store(plan, day, marks, route, departure, minute, loads=n > 0)
    to = _say_visit(day.visits[n])
    if not n or (way.by_store and not is_at_store):
        return f"Next: on the way to {to}"
    spare = day.visits[n].start - minute - way.minutes if is_free else way.spare
    how = "straight to"
    if way.by_store:
        load = _to_load(plan, route, n)
        how = f"by the store, load {load}, then" if load else "by the store, then"
    return f"Next: {how} {to}: {say_way(way.minutes, spare)}"


def _say_visit(visit: Visit) -> str:
    return f"{say_room(visit.room)} at {clock(visit.start)}, {visit.name} {visit.class_id}"


def _is_break(route: DayRoute, n: int) -> bool:
    """Whether the stop before a visit is made in a break; where nothing fits, she is at the store in breaks only."""
    return route.told is None or any(stop.before == n and stop.is_break for stop in route.told.stops)


def _to_load(plan: Plan, route: DayRoute, n: int) -> str:
    stop = next((each for each in route.told.stops if each.before == n), None) if route.told is not None else None
    return join_words(name_of(plan, each) for each in stop.on) if stop is not None else ""


def _from_the_store(
    plan: Plan, day: Day, marks: Marks, route: DayRoute, departure: Departure, minute: int, *, loads: bool
) -> str:
    """ "Next, by 8:04: Box K to Room 1, then leave by 8:10 for Room 1 at 8:20, V1 K-ash"."""
    leave, visit = departure.leave_by(day, marks), departure.before
    if leave is None or visit is None:
        return ""
    cart = leave.minute + departure.minutes_left(marks)
    trips = [each for each in departure.to_leave if not departure.is_left(each, marks)]
    ahead = join_words(f"{join_words(each.names)} to {say_room(each.room)}" for each in trips)
    along = {each for trip in departure.to_leave for each in trip.containers} | {"cart"}
    first = [each for each in departure.groups[0].containers if each not in along] if loads and departure.groups else []
    load = f"load {join_words(name_of(plan, each) for each in first)}" if first else ""
    fetched = "; ".join(_fetched_first(plan, route, departure)) if loads else ""
    doing = "; ".join(each for each in (f"fetch {fetched}" if fetched else "", ahead, load) if each)
    left = leave.minute - minute
    if left < 0:
        when = f", {-left} min late"
    elif trips:
        when = f", by {clock(leave.minute)} ({left} min)" if loads else f", by {clock(leave.minute)}"
    else:
        when = ""
    span = f" ({left} min)" if loads and not trips and left >= 0 else ""
    by = f"leave now, not by {clock(cart)} any more," if cart < minute else f"leave by {clock(cart)}{span}"
    if not doing:
        return f"Next{when}: {by} for {_say_visit(visit)}"
    return f"Next{when}: {doing}, then {by} for {visit.name}, {say_room(visit.room)}"


def _fetched_first(plan: Plan, route: DayRoute, departure: Departure) -> Iterator[str]:
    """ "Printing kit from the library, 2 min", at the stop that comes next."""
    if route.told is not None and departure.stop < len(route.told.stops):
        yield from say_fetched(plan, route.told.stops[departure.stop])
