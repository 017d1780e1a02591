"""In what a route is another one than before: stops, what is left ahead in which room, minutes late. In words."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute
from checklists.words import join_words, plural, say_room


def say_differences(plan: Plan, before: Day, was: DayRoute, after: Day, now: DayRoute) -> tuple[str, ...]:
    """What she does otherwise on her way round; nothing where the route is the same for the visits that are left."""
    if not after.visits or was.plan is None:
        return ()
    if now.plan is None:
        return ("Not everything fits on the cart any more: the route says what would help.",)
    return tuple(_differences(plan, before, was, after, now))


def _differences(plan: Plan, before: Day, was: DayRoute, after: Day, now: DayRoute) -> Iterator[str]:
    kept = {visit.key for visit in after.visits} & {visit.key for visit in before.visits}
    stops, stops_now = _stops(was, before, kept), _stops(now, after, kept)
    names = {visit.key: visit.name for visit in after.visits}
    for key in (visit.key for visit in after.visits):
        if key in stops_now and key not in stops:
            yield f"A stop at the store before {names[key]} is new."
        if key in stops and key not in stops_now:
            yield f"No stop at the store before {names[key]} any more."
    ahead, ahead_now = _ahead(was), _ahead(now)
    for room in sorted({room for _, room in ahead ^ ahead_now}):
        new = [each for each, where in sorted(ahead_now - ahead) if where == room]
        gone = [each for each, where in sorted(ahead - ahead_now) if where == room and _is_needed(now, each)]
        if new:
            yield f"{_names(plan, new)} {_is(new)} left ahead in {say_room(room)} now."
        if gone:
            yield f"{_names(plan, gone)} {_is(gone)} not left ahead in {say_room(room)} any more."
    yield from _stand_there(plan, before, was, after, now)
    for n, visit in enumerate(after.visits):
        late, late_before = _late(now, n), _late_before(was, before, visit.key)
        if late != late_before and visit.key in kept:
            yield f"{visit.name} {visit.class_id}: {_minutes(late)}, before {_minutes(late_before)}."


def _stand_there(plan: Plan, before: Day, was: DayRoute, after: Day, now: DayRoute) -> Iterator[str]:
    """What stands in a room of no use by now: it is fetched before a visit needs it, or after school."""
    known, found = dict(_fetched(was, before)), dict(_fetched(now, after))
    names = {visit.key: visit.name for visit in after.visits}
    for (container, room), key in found.items():
        if (container, room) not in known or (known[container, room] and not key):
            when = f"at the store before {names[key]}" if key else "after school"
            yield f"{name_of(plan, container)} stands in {say_room(room)}: fetch it {when}."


def _fetched(route: DayRoute, day: Day) -> Iterator[tuple[tuple[str, str], str]]:
    """Container and room, with the key of the visit it is fetched before; "": after school."""
    for stop in route.told.stops if route.told is not None else ():
        yield from (((each.container, each.room), day.visits[stop.before].key) for each in stop.fetch)
    planned = _ahead(route)
    yield from ((each, "") for each in (route.told.behind if route.told else ()) if each not in planned)


def _stops(route: DayRoute, day: Day, kept: set[str]) -> set[str]:
    """Keys of visits that are left and come right after a stop at the store; the day's first is no difference."""
    found: set[str] = set()
    for stop in route.told.stops if route.told is not None else ():
        if stop.before:
            rest = (visit.key for visit in day.visits[stop.before :])
            found |= {next((key for key in rest if key in kept), "")}
    return found - {""}


def _ahead(route: DayRoute) -> frozenset[tuple[str, str]]:
    return route.plan.left_ahead if route.plan is not None else frozenset()


def _is_needed(route: DayRoute, container: str) -> bool:
    return any(container in visit.needs for visit in route.problem.visits)


def _late(route: DayRoute, n: int) -> int:
    return max(0, -route.told.ways[n].spare) if route.told is not None else 0


def _late_before(route: DayRoute, day: Day, key: str) -> int:
    at = next((n for n, visit in enumerate(day.visits) if visit.key == key), None)
    return 0 if at is None else _late(route, at)


def _minutes(late: int) -> str:
    return f"{plural(late, 'minute')} late" if late else "in time"


def _names(plan: Plan, containers: list[str]) -> str:
    return join_words(name_of(plan, each) for each in containers)


def _is(containers: list[str]) -> str:
    return "are" if containers[1:] else "is"
