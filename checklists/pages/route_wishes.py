"""Her wishes for the route in words, and what each would change."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.said import say_ride_pin, say_room_pin
from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.pages.route import MOST_CHANGES, say_changes
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute, PinCost, pins_in_the_way
from checklists.route.pins import Pin
from checklists.route.problem import Cost
from checklists.words import plural

NO_PLAN = "no plan then"
HELPER_CAUTION = (
    "A helper: counted sharps are handed over counted, and to an adult; a child carries nothing heavier than 5 kg"
    " (common practice, no source). Local rules decide."
)


def say_pin(plan: Plan, day: Day, pin: Pin) -> str:
    """ "never by the store after V2 (P2)", "Box 3 always rides", "nothing is left in Room 21"."""
    match pin.kind:
        case "stops":
            visit = next((each for each in day.visits if each.period == pin.about), None)
            after = f"{visit.name} ({pin.about})" if visit is not None else pin.about
            return f"{pin.how} by the store after {after}"
        case "rides":
            return say_ride_pin(name_of(plan, pin.about), pin.how)
        case _:
            return say_room_pin(pin.about, pin.how)


def say_wish(plan: Plan, day: Day, wish: PinCost) -> str:
    """ "Never by the store after V2 (P2), for good: costs 2 min more late"."""
    said = say_pin(plan, day, wish.pin)
    span = ", for good" if wish.pin.for_good else ""
    return f"{said[:1].upper()}{said[1:]}{span}: {say_what_it_costs(wish)}"


def say_what_it_costs(wish: PinCost) -> str:
    """What the best plan is worse by because of it."""
    if wish.with_it is None:
        return "alone in the way of any plan" if wish.without is not None else "no plan, with it or without"
    if wish.without is None:
        return "no plan without it"
    return f"{say_difference(wish.without, wish.with_it)} than without it".replace(
        "nothing changes than", "no worse than"
    )


def say_difference(before: Cost | None, after: Cost | None) -> str:
    """ "2 min later, 1 stop more": only what gets worse or better."""
    if after is None:
        return NO_PLAN if before is not None else "still no plan"
    if before is None:
        return "a plan then"
    late, stops = after.late - before.late, after.stops - before.stops
    ahead, behind, loaded = after.ahead - before.ahead, after.behind - before.behind, after.loaded - before.loaded
    said = [
        f"{abs(late)} min {'later' if late > 0 else 'less late'}" if late else "",
        f"{plural(abs(stops), 'stop')} {'more' if stops > 0 else 'fewer'}" if stops else "",
        f"{abs(ahead)} {'more' if ahead > 0 else 'fewer'} left ahead" if ahead else "",
        f"{abs(behind)} {'more' if behind > 0 else 'fewer'} to fetch after school" if behind else "",
        f"{abs(loaded)} {'more' if loaded > 0 else 'fewer'} to load" if loaded else "",
    ]
    return ", ".join(each for each in said if each) or "nothing changes"


def say_ways_out(plan: Plan, day: Day, route: DayRoute) -> Iterator[str]:
    """Where nothing fits: each single thing that would make a plan, her own wishes first."""
    for pin in pins_in_the_way(route, day):
        yield f"Take back: {say_pin(plan, day, pin)}."
    left = list(say_changes(plan, day, route.problem, route.changes))
    yield from left[:MOST_CHANGES]
