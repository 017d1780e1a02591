"""Her wishes for the route in words, and what each would change."""

from __future__ import annotations

from msgspec import Struct

from checklists.daybook.said_wishes import say_ride_pin, say_room_pin, say_stop_pin
from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.pages.route import MOST_CHANGES, say_changes, say_cost
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute, PinCost, pins_in_the_way
from checklists.route.pins import HELPER, Pin
from checklists.route.problem import Cost
from checklists.words import plural

NO_PLAN = "nothing fits then"
COSTS_NOTHING = "costs nothing"
HOLDS_UP = "holds up every plan: nothing fits with it"
HELPER_CAUTION = (
    "A helper: counted sharps are handed over counted, and to an adult; a child carries nothing heavier than 5 kg"
    " (common practice, no source). Local rules decide."
)


def say_pin(plan: Plan, day: Day, pin: Pin) -> str:
    """ "never by the store after V2 (P2)", "Box 3 always rides", "nothing is left in Room 21"."""
    match pin.kind:
        case "stops":
            return say_stop_pin(pin.about, pin.how, day)
        case "rides":
            return say_ride_pin(name_of(plan, pin.about), pin.how)
        case _:
            return say_room_pin(pin.about, pin.how)


def say_mass(day: Day, pin: Pin) -> str:
    """ ", 6.9 kg" of what a helper is to carry; "" of other wishes, and where it is not known."""
    kilograms = next((each.kilograms for each in day.containers if each.id == pin.about), None)
    return f", {kilograms:.1f} kg" if pin.how == HELPER and kilograms is not None else ""


def say_wish(plan: Plan, day: Day, wish: PinCost) -> str:
    """ "Never by the store after V2 (P2), for good: costs 2 min more late"."""
    said = say_pin(plan, day, wish.pin)
    span = ", for good" if wish.pin.for_good else ""
    return f"{said[:1].upper()}{said[1:]}{span}: {say_what_it_costs(wish)}"


def say_what_it_costs(wish: PinCost) -> str:
    """What the best plan is worse by because of it."""
    if wish.with_it is None:
        return HOLDS_UP if wish.without is not None else "nothing fits, with it or without"
    if wish.without is None:
        return "nothing fits without it"
    if wish.with_it == wish.without:
        return COSTS_NOTHING
    return f"{say_difference(wish.without, wish.with_it)} than without it"


def say_difference(before: Cost | None, after: Cost | None) -> str:
    """ "2 min later, 1 stop more": only what gets worse or better."""
    if after is None:
        return NO_PLAN if before is not None else "still nothing fits"
    if before is None:
        return "everything fits then"
    late, stops = after.late - before.late, after.stops - before.stops
    ahead, behind, loaded = after.ahead - before.ahead, after.behind - before.behind, after.loaded - before.loaded
    left = "left ahead and to fetch" if ahead == behind else "left ahead"
    said = [
        f"{abs(late)} min {'later' if late > 0 else 'less late'}" if late else "",
        f"{plural(abs(stops), 'stop')} {_more(stops)}" if stops else "",
        f"{abs(ahead)} {_more(ahead)} {left}" if ahead else "",
        f"{abs(behind)} {_more(behind)} to fetch after school" if behind and ahead != behind else "",
    ]
    told = ", ".join(each for each in said if each)
    return told or (f"{abs(loaded)} {_more(loaded)} to put on the cart" if loaded else "nothing changes")


def _more(difference: int) -> str:
    return "more" if difference > 0 else "fewer"


class WayOut(Struct, frozen=True):
    """Something that would make a plan where nothing fits. ``pin``: what is said, or taken ``back``, to do it."""

    words: str
    then: str = ""
    """What the best plan is then."""
    pin: Pin | None = None
    back: bool = False


def say_way_out(way: WayOut) -> str:
    """ "A helper carries Box 3: 1 min late in all, no extra stop."."""
    words = way.words.removesuffix(".")
    return f"{words}: {way.then}." if way.then else f"{words}."


def ways_out(plan: Plan, day: Day, route: DayRoute) -> tuple[WayOut, ...]:
    """Each single thing that would make a plan: her own wishes first, what can be said here next."""
    back = [WayOut(f"Take back: {say_pin(plan, day, pin)}", "", pin, back=True) for pin in pins_in_the_way(route, day)]
    carried = []
    for each in route.changes:
        if each.kind == "carried":
            pin = Pin("rides", each.container, HELPER)
            words = f"A helper carries {name_of(plan, each.container)}{say_mass(day, pin)}"
            carried.append(WayOut(words, say_cost(each.plan), pin))
    others = [each for each in route.changes if each.kind != "carried"]
    said = zip(say_changes(plan, day, route.problem, others), others, strict=True)
    return (*back, *carried[:MOST_CHANGES], *(WayOut(words, say_cost(each.plan)) for words, each in said))
