"""The route of a day as plain text, and as fields for scripts: the problem as given, the plan, its cost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute
from checklists.route.problem import RoutePlan, RouteProblem
from checklists.route.smallest_changes import SmallChange, too_much_at
from checklists.route.told import RouteStop, RouteTold
from checklists.words import clock, join_words, plural, say_date, say_room

MOST_CHANGES = 6
"""Small changes that are told, of those that would make a plan."""


def route_page(plan: Plan, day: Day, problem: RouteProblem, found: RoutePlan, told: RouteTold) -> str:
    """The day in order, 80 columns wide."""
    parts = [two_ends(f"ROUTE  {say_date(day.date)}", say_cost(found)), "=" * 80]
    for title, rows in route_sections(plan, day, problem, told):
        parts += ["", ruled(title), *(row for each in rows for row in wrap(each, first="  ", indent=4))]
    return "\n".join(parts) + "\n"


def route_sections(
    plan: Plan, day: Day, problem: RouteProblem, told: RouteTold
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each stop as a heading: what comes off and on there, then the visits up to the next one, each with its way."""
    sections: list[tuple[str, tuple[str, ...]]] = []
    ends = [stop.before for stop in told.stops[1:]] + [len(day.visits)]
    for stop, end in zip(told.stops, ends, strict=True):
        visits = (row for n in range(stop.before, end) for row in _visit_rows(plan, day, told, n))
        sections.append((_stop_title(day, stop), (*_stop_rows(plan, day, problem, stop), *visits)))
    if told.behind:
        names = join_words(f"{name_of(plan, each)} from {say_room(room)}" for each, room in told.behind)
        sections.append(("AFTER SCHOOL", (f"Fetch {names}.",)))
    return tuple(sections)


def _visit_rows(plan: Plan, day: Day, told: RouteTold, n: int) -> Iterator[str]:
    visit, way = day.visits[n], told.ways[n]
    where = f"{visit.name} {clock(visit.start)}-{clock(visit.end)} {say_room(visit.room)} {visit.class_id}"
    yield f"{where}: {say_way(way.minutes, way.spare)}" if n else where
    for container, how in told.standing[n]:
        then = "it rides on from here" if how == "joins" else "it stays, to be fetched after school"
        yield f"{visit.name}: {name_of(plan, container)} stands there; {then}."


def say_cost(found: RoutePlan) -> str:
    """ "5 min late in all, no extra stop, 2 left ahead"."""
    cost = found.cost
    late = f"{cost.late} min late in all" if cost.late else "nowhere late"
    said = [late, plural(cost.stops, "extra stop") if cost.stops else "no extra stop"]
    if cost.ahead:
        said.append(f"{cost.ahead} left ahead")
    return ", ".join(said)


def say_way(minutes: int, spare: int) -> str:
    """ "4 min, 1 to spare", "5 min, 5 late"."""
    if spare < 0:
        return f"{minutes} min, {-spare} late"
    return f"{minutes} min, {spare} to spare"


def _stop_rows(plan: Plan, day: Day, problem: RouteProblem, stop: RouteStop) -> Iterator[str]:
    for trip in stop.trips:
        what = join_words(name_of(plan, each) for each in trip.containers)
        yield f"Leave ahead: {what} in {say_room(trip.room)}, {trip.minutes} min."
    yield from say_stop(plan, stop)
    yield from _say_kept(plan, day, problem, stop)
    yield f"On the cart: {stop.load} of {problem.capacity} half slots."


def _say_kept(plan: Plan, day: Day, problem: RouteProblem, stop: RouteStop) -> Iterator[str]:
    """ "Stays on, for V6: Box 3." """
    for n in range(stop.before, len(problem.visits)):
        kept = [each for each in stop.kept if _next_visit(problem, stop.before, each) == n]
        if kept:
            yield f"Stays on, for {day.visits[n].name}: {join_words(name_of(plan, each) for each in kept)}."


def _next_visit(problem: RouteProblem, since: int, container: str) -> int:
    return next(n for n in range(since, len(problem.visits)) if container in problem.visits[n].needs)


def _stop_title(day: Day, stop: RouteStop) -> str:
    if not stop.before:
        return "BEFORE SCHOOL"
    kind = "BREAK AT THE STORE" if stop.is_break else "BY THE STORE"
    return f"AFTER {day.visits[stop.before - 1].name}: {kind}, {stop.minutes} min"


def say_stop(plan: Plan, stop: RouteStop) -> Iterator[str]:
    """What comes off the cart and on it."""
    if stop.off:
        yield f"Off: {join_words(name_of(plan, each) for each in stop.off)}."
    if stop.on:
        yield f"On: {join_words(name_of(plan, each) for each in stop.on)}."
    if not stop.off and not stop.on:
        yield "Nothing comes off or on."


def no_route_page(plan: Plan, day: Day, problem: RouteProblem, changes: Sequence[SmallChange]) -> str:
    """The same in 80 columns."""
    return "\n".join(row for each in no_route_rows(plan, day, problem, changes) for row in wrap(each, indent=2)) + "\n"


def no_route_rows(plan: Plan, day: Day, problem: RouteProblem, changes: Sequence[SmallChange]) -> tuple[str, ...]:
    """Where nothing fits: what is too much, and what would make a plan."""
    rows = [f"No way to take everything along on {say_date(day.date)}: the cart takes {problem.capacity} half slots."]
    over = too_much_at(problem)
    if over is not None:
        visit = day.visits[over[0]]
        rows.append(f"{visit.name} {visit.class_id} alone needs {over[1]} more.")
    ways = list(say_changes(plan, day, problem, changes))
    rows.append("Any one of these would do:" if ways else "No single small change would do: give something back.")
    return (*rows, *(f"- {each}" for each in ways[:MOST_CHANGES]))


def say_changes(plan: Plan, day: Day, problem: RouteProblem, changes: Iterable[SmallChange]) -> Iterator[str]:
    """Each small change in words."""
    for each in changes:
        name = name_of(plan, each.container)
        match each.kind:
            case "carried":
                yield f"Somebody carries {name}."
            case "may be left":
                yield f"{name} may be left in a room (not if anything sharp, hot or private is in it)."
            case "minutes":
                after = problem.sessions[each.session].after
                when = f"in the break after {day.visits[after - 1].name}" if after else "before school"
                yield f"{each.by} min more for leaving ahead {when}."
            case "half slots":
                yield f"{plural(each.by, 'half slot')} more on the cart."


def route_as_json(day: Day, route: DayRoute) -> Fields:
    """The page "route".

    ``problem``: ``visits`` (``visit room start end needs``), ``containers`` (``id half_slots kilograms may_be_left``),
    ``capacity``, ``most_kilograms`` (or null), ``walks`` (``from to minutes``), ``handling``, ``sessions`` (``after
    minutes``, ``after`` counts visits). ``plan`` is null where nothing fits, else ``legs`` (``first last rides ahead
    kept``, visits by key; ``ahead`` is ``container room session joins``; ``kept`` stays on the cart for a later leg),
    ``cost`` (``late stops ahead behind loaded``) and ``ways`` (``visit minutes spare by_store``). ``changes``: ``kind
    container session by``, where nothing fits.
    """
    problem, found, told = route.problem, route.plan, route.told
    return {
        "format": 1,
        "page": "route",
        "date": day.date.isoformat(),
        "problem": {
            "visits": [
                {
                    "visit": each.key,
                    "room": each.room,
                    "start": clock(each.start),
                    "end": clock(each.end),
                    "needs": list(each.needs),
                }
                for each in problem.visits
            ],
            "containers": [
                {
                    "id": each.id,
                    "half_slots": each.size,
                    "kilograms": each.kilograms,
                    "may_be_left": each.may_be_left,
                }
                for each in problem.containers
            ],
            "capacity": problem.capacity,
            "most_kilograms": problem.most_kilograms,
            "walks": [{"from": start, "to": end, "minutes": least} for (start, end), least in problem.walks.items()],
            "handling": problem.handling,
            "sessions": [{"after": each.after, "minutes": each.minutes} for each in problem.sessions],
        },
        "plan": None if found is None or told is None else _plan_fields(problem, found, told),
        "changes": [
            {"kind": each.kind, "container": each.container, "session": each.session, "by": each.by}
            for each in route.changes
        ],
    }


def _plan_fields(problem: RouteProblem, found: RoutePlan, told: RouteTold) -> Fields:
    keys = [visit.key for visit in problem.visits]
    cost = found.cost
    return {
        "legs": [
            {
                "first": keys[leg.first],
                "last": keys[leg.last],
                "rides": list(leg.rides),
                "ahead": [
                    {"container": one.container, "room": one.room, "session": one.session, "joins": one.joins}
                    for one in leg.ahead
                ],
                "kept": list(leg.kept),
            }
            for leg in found.legs
        ],
        "cost": {
            "late": cost.late,
            "stops": cost.stops,
            "ahead": cost.ahead,
            "behind": cost.behind,
            "loaded": cost.loaded,
        },
        "ways": [
            {"visit": keys[way.visit], "minutes": way.minutes, "spare": way.spare, "by_store": way.by_store}
            for way in told.ways
        ],
    }
