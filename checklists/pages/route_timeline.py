"""Where do I go next? A day's route in its order: stops at the store, visits, what is fetched after school.

The rows are the same on the screen and in plain text; how wide they may be is said where they are laid out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import leave_by_now
from checklists.lines.containers import name_of
from checklists.lines.records import Day, Visit
from checklists.lines.store_stops import StoreStop
from checklists.pages.by_hand import is_by_hand, say_brought_back, say_by_hand, say_carried_there
from checklists.pages.plain import pad, width_of
from checklists.pages.route import WHAT_TAKES_ROOM, say_fetched, say_way
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute
from checklists.route.problem import RouteProblem
from checklists.route.stops import way_of, ways_of
from checklists.route.told import RouteStop, RouteTold, RouteWay
from checklists.taught_periods import bells_on
from checklists.words import clock, join_words, plural, say_room

When = Literal["", "over", "now", "next"]
"""Of a visit, on the day itself; a stop is "over" once the visit after it has begun."""
AFTER_SCHOOL = "after school"
"""The key of the heading of what is fetched after school."""
_AND_THEN = (
    ("joins", "it rides on from here", "they ride on from here"),
    ("stays", "it stays, to be fetched after school", "they stay, to be fetched after school"),
)


class TimelineRow(Struct, frozen=True):
    """One row before it is laid out. ``right`` stands at its right end."""

    kind: Literal["stop", "visit", "note", "end"]
    key: str
    text: str
    short: str = ""
    """The same for a narrow window, where there is less of it."""
    right: str = ""
    load: int = 0
    holds: int = 0
    """Half slots of the cart in use from a stop on, of how many; 0 of 0 elsewhere."""
    when: When = ""
    is_late: bool = False
    is_over: bool = False
    """Of a note: what it belongs to is over."""


def stop_key(before: int) -> str:
    """The key of the row of a stop before a visit, counted from 0."""
    return f"stop/{before}"


def is_stop(key: str) -> bool:
    return key.startswith("stop/")


def visit_key(visit: Visit) -> str:
    return f"visit/{visit.key}"


def route_timeline(plan: Plan, day: Day, marks: Marks, route: DayRoute, minute: int | None) -> tuple[TimelineRow, ...]:
    """Every row of a day with visits. ``minute`` is that of the clock where the day is today.

    Where no plan fits there are only the visits and the ways between them.
    """
    whens = whens_of(day, route, minute)
    if route.told is None:
        ways = ways_of(plan, bells_on(plan, marks.changes), day, route)
        return tuple(_visit_row(day, n, whens[n], ways[n]) for n in range(len(day.visits)))
    told, way = route.told, way_of(plan, bells_on(plan, marks.changes), day, route)
    ends = [stop.before for stop in told.stops[1:]] + [len(day.visits)]
    rows: list[TimelineRow] = []
    for stop, at, end in zip(told.stops, way.stops, ends, strict=True):
        is_over = whens[stop.before] in ("over", "now")
        rows.append(
            TimelineRow(
                "stop",
                stop_key(stop.before),
                _stop_title(day, marks, route, stop, at),
                _short_title(day, stop, at),
                load=stop.load,
                holds=0 if is_by_hand(day, stop.before, end) else route.problem.capacity,
                when="over" if is_over else "",
            )
        )
        for n, said in enumerate(_stop_notes(plan, day, marks, route, stop, at)):
            rows.append(TimelineRow("note", f"{stop_key(stop.before)}/{n}", said, is_over=is_over))
        for n in range(stop.before, end):
            rows += _visit_rows(plan, day, route, told, n, whens[n])
    if rows[0].holds:
        holds = f"The cart takes {plural(rows[0].holds, 'half slot')}: {WHAT_TAKES_ROOM}."
        rows.insert(1, TimelineRow("note", f"{stop_key(0)}/half slots", holds, is_over=rows[0].when == "over"))
    after = [f"Fetch {say_behind(plan, told)}."] if told.behind else []
    after += say_brought_back(plan, route)
    if after:
        rows.append(TimelineRow("end", AFTER_SCHOOL, "AFTER SCHOOL"))
        rows += [TimelineRow("end", f"fetch/{n}" if n else "fetch", said) for n, said in enumerate(after)]
    return tuple(rows)


def whens_of(day: Day, route: DayRoute, minute: int | None) -> tuple[When, ...]:
    """Which visits are over, which one is under way, which one is next."""
    found: list[When] = []
    for n, visit in enumerate(day.visits):
        if minute is None:
            found.append("over" if n < route.problem.begun.visits else "")
        elif visit.end <= minute:
            found.append("over")
        elif visit.start <= minute:
            found.append("now")
        else:
            found.append("" if "next" in found else "next")
    return tuple(found)


# --------------------------------------------------------------------------------------------------------- what is said


def say_behind(plan: Plan, told: RouteTold) -> str:
    """ "Box 2 and Printing kit from Room 9; Box 3 from the commons": room by room."""
    rooms: dict[str, list[str]] = {}
    for container, room in told.behind:
        rooms.setdefault(room, []).append(name_of(plan, container))
    return "; ".join(f"{join_words(names)} from {say_room(room)}" for room, names in rooms.items())


def _stop_title(day: Day, marks: Marks, route: DayRoute, stop: RouteStop, at: StoreStop) -> str:
    if not stop.before:
        leave = leave_by_now(day, marks, waits=route.fetched_later)
        return "BEFORE SCHOOL" + (f": leave by {clock(leave)}" if leave is not None else "")
    after = f"AFTER {day.visits[stop.before - 1].name}:"
    if not stop.is_break:
        return f"{after} BY THE STORE, {stop.minutes} min"
    return f"{after} {_breaks(at)} AT THE STORE, leave by {clock(at.leave_by)}"


def _short_title(day: Day, stop: RouteStop, at: StoreStop) -> str:
    """The same of a break where there is little room."""
    if not stop.before or not stop.is_break:
        return ""
    return f"AFTER {day.visits[stop.before - 1].name}, {_breaks(at)}: leave by {clock(at.leave_by)}"


def _breaks(at: StoreStop) -> str:
    return join_words(at.breaks).upper() or "BREAK"


def _stop_notes(plan: Plan, day: Day, marks: Marks, route: DayRoute, stop: RouteStop, at: StoreStop) -> Iterator[str]:
    """What is fetched first, left ahead in the order of the visits; what comes off, on, and stays on."""
    if not stop.before and day.store_opens:
        yield f"The store opens at {clock(day.store_opens)}."
    if stop.fetch:
        yield f"Fetch first: {'; '.join(say_fetched(plan, stop))}."
    if stop.trips:
        is_first = not stop.before and route.minutes_ahead > 0
        trips = [
            f"{join_words(name_of(plan, each) for each in trip.containers)} in {say_room(trip.room)}"
            f" ({trip.minutes} min)"
            for trip in stop.trips
        ]
        ahead = leave_by_now(day, marks, route.minutes_ahead, route.fetched_later) if is_first else None
        since = f", from {clock(ahead)} on" if ahead is not None else ""
        yield f"Leave ahead{since}: {', then '.join(trips)}."
    if stop.off:
        yield f"Off: {join_words(name_of(plan, each) for each in stop.off)}."
    if stop.on:
        yield f"On: {join_words(name_of(plan, each) for each in stop.on)}."
    stays = [name_of(plan, each) for each in stop.rides if each not in stop.on]
    stays += _kept(plan, day, route.problem, stop)
    if stays:
        yield f"Stays on: {join_words(stays)}."
    by_hand = tuple(say_by_hand(plan, day, route, stop.before))
    yield from by_hand
    if not (stays or stop.off or stop.on or by_hand):
        yield "Nothing comes off or on."


def _kept(plan: Plan, day: Day, problem: RouteProblem, stop: RouteStop) -> Iterator[str]:
    """ "Box 3, for V6": what only rides along to a later stop."""
    for each in stop.kept:
        later = (n for n in range(stop.before, len(problem.visits)) if each in problem.visits[n].needs)
        n = next(later, None)
        yield name_of(plan, each) + (f" (for {day.visits[n].name})" if n is not None else "")


def _visit_rows(plan: Plan, day: Day, route: DayRoute, told: RouteTold, n: int, when: When) -> Iterator[TimelineRow]:
    yield _visit_row(day, n, when, told.ways[n])
    for at, said in enumerate(_visit_notes(plan, day, route, told, n)):
        yield TimelineRow("note", f"{visit_key(day.visits[n])}/{at}", said, is_over=when == "over")


def _visit_row(day: Day, n: int, when: When, its_way: RouteWay) -> TimelineRow:
    visit = day.visits[n]
    names = max(len(each.name) for each in day.visits)
    rooms = max(width_of(say_room(each.room)) for each in day.visits)
    begin = pad(visit.name, names + 1)
    end = f"{pad(say_room(visit.room), rooms)} {visit.class_id}"
    way = its_way if n or its_way.spare < 0 else None
    return TimelineRow(
        "visit",
        visit_key(visit),
        f"{begin}{pad(f'{clock(visit.start)}-{clock(visit.end)}', 12)}{end}",
        f"{begin}{pad(clock(visit.start), 6)}{end}",
        _say_arrival(n, way) if way is not None else "",
        when=when,
        is_late=way is not None and way.spare < 0 and when in ("", "next"),
    )


def _say_arrival(n: int, way: RouteWay) -> str:
    return say_way(way.minutes, way.spare) if n else f"{-way.spare} LATE"


def _visit_notes(plan: Plan, day: Day, route: DayRoute, told: RouteTold, n: int) -> Iterator[str]:
    """What stands in the room, what a helper brings, what is carried by hand."""
    for how, one, several in _AND_THEN:
        names = [name_of(plan, each) for each, then in told.standing[n] if then == how]
        if names:
            yield f"{join_words(names)} {'stand' if names[1:] else 'stands'} there; {several if names[1:] else one}."
    visit = day.visits[n]
    if visit.end <= day.store_opens:
        yield f"Nothing comes from the store, which is locked until {clock(day.store_opens)}."
    yield from _by_helper(day, route, n)
    yield from say_carried_there(plan, route, visit.key)


def _by_helper(day: Day, route: DayRoute, n: int) -> Iterator[str]:
    """ "A helper brings Box 3, and takes it on to V3 after." or back to the store: nobody else has it in between."""
    visit = day.visits[n]
    for each in day.containers:
        if each.id in route.helped and visit.key in each.visits:
            later = next((one.name for one in day.visits[n + 1 :] if one.key in each.visits), None)
            then = f"on to {later}" if later is not None else "back to the store"
            yield f"A helper brings {each.name}, and takes it {then} after."
