"""A day's route in plain text, 80 columns wide: what the Route screen shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.pages.route import say_cost, say_too_much, say_whether_any
from checklists.pages.route_layout import lay_out
from checklists.pages.route_next import say_next
from checklists.pages.route_timeline import AFTER_SCHOOL, route_timeline
from checklists.pages.route_wishes import HELPER_CAUTION, say_pin, say_way_out, say_wish, ways_out
from checklists.pages.walks import say_way_between, walk_known
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute, PinCost
from checklists.route.pins import HELPER, Pin
from checklists.route.unknown_walks import UnknownWalk
from checklists.words import say_date

BAR = ("#", ".")
_WITHIN = 78


def route_page(
    plan: Plan,
    day: Day,
    marks: Marks,
    route: DayRoute,
    minute: int | None,
    costs: Sequence[PinCost] = (),
    out: Sequence[Pin] = (),
    walks: Sequence[UnknownWalk] = (),
) -> str:
    """The day in order, or what would help where nothing fits; walks to be asked; her wishes with what each costs.

    ``minute`` is that of the clock where the day is today.
    """
    following = say_next(plan, day, marks, route, minute) if minute is not None else ""
    if route.plan is None:
        ways = [say_way_out(way) for way in ways_out(plan, day, route)]
        rows = [*say_too_much(day, route.problem), say_whether_any(ways), *(f"- {each}" for each in ways)]
        parts = [line for each in rows for line in wrap(each, indent=2)]
        parts += ["", ruled("THE VISITS"), *wrap(following), *_timeline(plan, day, marks, route, minute)]
    else:
        parts = [two_ends(f"ROUTE  {say_date(day.date)}", say_cost(route.plan)), "=" * 80]
        parts += [*wrap(following), *_timeline(plan, day, marks, route, minute)]
    parts += _section("NOT KNOWN, and the route depends on it", [_say_asked(plan, each) for each in walks])
    wishes = [say_wish(plan, day, each) for each in costs]
    wishes += [f"Left out this day: {say_pin(plan, day, pin)}, for good" for pin in out]
    if any(each.pin.how == HELPER for each in costs):
        wishes.append(HELPER_CAUTION)
    parts += _section("YOUR WISHES", wishes)
    return "\n".join(parts) + "\n"


def _section(title: str, rows: Sequence[str]) -> list[str]:
    said = [line for each in rows for line in wrap(each, first="  ", indent=4)]
    return ["", ruled(title), *said] if said else []


def _say_asked(plan: Plan, walk: UnknownWalk) -> str:
    """What is assumed, and what to type."""
    way, known = say_way_between(walk.start, walk.end), walk_known(plan, walk.start, walk.end)
    return f"{way[:1].upper()}{way[1:]}: {known.told}. Say it: trundle walk {walk.start} {walk.end} {walk.assumed}"


def _timeline(plan: Plan, day: Day, marks: Marks, route: DayRoute, minute: int | None) -> Iterator[str]:
    before = None
    for row, line in lay_out(route_timeline(plan, day, marks, route, minute), _WITHIN, BAR):
        if row is not before and (row.kind == "stop" or row.key == AFTER_SCHOOL):
            yield ""
        yield line if row.kind == "stop" or row.key == AFTER_SCHOOL else f"  {line}"
        before = row
