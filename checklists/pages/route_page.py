"""A day's route in plain text, 80 columns wide: what the Route screen shows."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.pages.route import say_cost, say_too_much, say_whether_any
from checklists.pages.route_timeline import AFTER_SCHOOL, lay_out, route_timeline, say_next
from checklists.pages.route_wishes import say_way_out, say_wish, ways_out
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute, PinCost
from checklists.words import say_date

BAR = ("#", ".")
_WITHIN = 78


def route_page(
    plan: Plan, day: Day, marks: Marks, route: DayRoute, costs: tuple[PinCost, ...], minute: int | None
) -> str:
    """The day in order, then her wishes with what each costs; where nothing fits, what would help.

    ``minute`` is that of the clock where the day is today.
    """
    if route.plan is None:
        ways = [say_way_out(way) for way in ways_out(plan, day, route)]
        rows = [*say_too_much(day, route.problem), say_whether_any(ways), *(f"- {each}" for each in ways)]
        parts = [line for each in rows for line in wrap(each, indent=2)]
    else:
        parts = [two_ends(f"ROUTE  {say_date(day.date)}", say_cost(route.plan)), "=" * 80]
        following = say_next(plan, day, marks, route, minute) if minute is not None else ""
        parts += [*wrap(following), *_timeline(plan, day, marks, route, minute)]
    if costs:
        parts += ["", ruled("YOUR WISHES")]
        parts += [line for each in costs for line in wrap(say_wish(plan, day, each), first="  ", indent=4)]
    return "\n".join(parts) + "\n"


def _timeline(plan: Plan, day: Day, marks: Marks, route: DayRoute, minute: int | None) -> Iterator[str]:
    before = None
    for row, line in lay_out(route_timeline(plan, day, marks, route, minute), _WITHIN, BAR):
        if row is not before and (row.kind == "stop" or row.key == AFTER_SCHOOL):
            yield ""
        yield line if row.kind == "stop" or row.key == AFTER_SCHOOL else f"  {line}"
        before = row
