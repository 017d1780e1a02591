"""Wishes for the route as plain text, and as fields for scripts."""

from __future__ import annotations

from collections.abc import Sequence

from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.pages.route_json import cost_fields, pin_fields
from checklists.pages.route_wishes import HELPER_CAUTION, say_difference, say_pin, say_wish
from checklists.plan.records import Plan
from checklists.route.day_route import PinCost
from checklists.route.pins import HELPER, Pin
from checklists.route.problem import Cost
from checklists.words import say_date


def pins_page(plan: Plan, day: Day, costs: Sequence[PinCost], out: Sequence[Pin]) -> str:
    """The wishes that hold, each with what it costs, then those for good that the day leaves out."""
    if not costs and not out:
        return f"{say_date(day.date)}: no wishes for the route. Say one like this: trundle pin never-after P2\n"
    rows = wrap(f"{say_date(day.date)}: your wishes for the route.")
    for each in costs:
        rows += wrap(f"{say_wish(plan, day, each)}.", first="  ", indent=4)
    for pin in out:
        rows += wrap(f"Left out this day: {say_pin(plan, day, pin)}, for good.", first="  ", indent=4)
    if any(each.pin.how == HELPER for each in costs):
        rows += wrap(HELPER_CAUTION)
    return "\n".join(rows) + "\n"


def said_page(
    plan: Plan, day: Day, pin: Pin, before: Cost | None, after: Cost | None, *, back: bool, for_good: bool
) -> str:
    """What was said or taken back, and what it does to the day's route."""
    words = say_pin(plan, day, pin)
    span = "for good" if for_good else f"on {say_date(day.date)}"
    said = f"Taken back: {words}" if back else f"{words[:1].upper()}{words[1:]}"
    rows = wrap(f"{said}, {span}: {say_difference(before, after)}.")
    if pin.how == HELPER and not back:
        rows += wrap(HELPER_CAUTION)
    return "\n".join(rows) + "\n"


def pins_as_json(
    day: Day,
    costs: Sequence[PinCost],
    out: Sequence[Pin],
    said: tuple[Pin, bool, bool] | None = None,
    before: Cost | None = None,
    after: Cost | None = None,
) -> Fields:
    """The page "pin": ``pins`` that hold (``kind about how for_good cost without``) and ``left_out`` of this day.

    ``said`` is null, or what was said now: ``kind about how for_good back before after told``. Costs are ``late stops
    ahead behind loaded`` of the best plan, null where there is none: ``cost`` with all wishes, ``without`` this one.
    """
    return {
        "format": 1,
        "page": "pin",
        "date": day.date.isoformat(),
        "pins": [
            {**pin_fields(each.pin), "cost": _cost(each.with_it), "without": _cost(each.without)} for each in costs
        ],
        "left_out": [pin_fields(each) for each in out],
        "said": None
        if said is None
        else {
            **pin_fields(said[0]),
            "back": said[1],
            "for_good": said[2],
            "before": _cost(before),
            "after": _cost(after),
            "told": say_difference(before, after),
        },
    }


def _cost(cost: Cost | None) -> Fields | None:
    return None if cost is None else cost_fields(cost)
