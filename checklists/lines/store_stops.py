"""Where she is at the store on a day, and what comes on the cart and off it there, where no route is planned.

The cart is loaded in the morning and in the breaks spent at the store, and what a coming visit needs is taken along
from the last of them, be it too much. ``checklists.route.stops`` gives the same of the best route, where there is one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from checklists.lines.containers import CART
from checklists.lines.loads import box_or_kit
from checklists.lines.records import Container, Visit
from checklists.lines.tied_up import legs_of
from checklists.plan.records import Bells, Break, Habits, Plan
from checklists.walks import STORE, DayWalks
from checklists.words import minute_of


class StoreStop(Struct, frozen=True):
    """A time at the store. Minutes are those of the day, containers are ids."""

    before_visit: str
    """Key of the visit that comes after it."""
    breaks: tuple[str, ...]
    """Names of the breaks it is made in: "lunch"; none in the morning."""
    since: int | None
    """When she is there, from the room of the visit before; None in the morning."""
    leave_by: int
    """With what is fetched first."""
    off: tuple[str, ...]
    """What no later visit needs."""
    on: tuple[str, ...]
    half_slots: int
    """What the cart carries from here on, in half slots."""
    too_much: bool
    """Whether that is more than the cart holds: some of it has to wait, or be left ahead."""
    minutes: int = 0
    """What the way by the store takes, handling included; 0 in the morning."""
    fetch: tuple[tuple[str, str, int], ...] = ()
    """What stands in a room of no use and is needed from here on: container, room, minutes there and back."""
    ahead: tuple[tuple[str, tuple[str, ...], int], ...] = ()
    """What is taken ahead to rooms from here: the room, the containers, the minutes there and back."""
    by_hand: tuple[str, ...] = ()
    """What is carried to the visit where no cart gets to."""
    mass_and_trips: str = ""
    """Of that: "7.6 kg, 1 trip"; "" where the cart comes along."""
    back: tuple[str, ...] = ()
    """What was carried to the visit before, and is brought back."""


def store_stops(
    walks: DayWalks, bells: Bells, visits: Sequence[Visit], containers: Sequence[Container]
) -> tuple[StoreStop, ...]:
    """The morning's loading, and every break long enough for the way to the store and back.

    Where the cart holds everything at once, all of it comes on in the morning and stays.
    """
    plan = walks.plan
    needed = {each.id: set(each.visits) for each in containers if each.id != CART and each.visits}
    holds = plan.school.cart.half_slots
    at_once = _half_slots(plan, needed) <= holds
    legs = _legs(bells, visits)
    stops: list[StoreStop] = []
    along: list[str] = []
    for n, leg in enumerate(legs):
        later = {visit.key for rest in legs[n:] for visit in rest}
        wanted = [each for each in needed if at_once or not needed[each].isdisjoint(visit.key for visit in leg)]
        off = [each for each in along if not at_once and needed[each].isdisjoint(later)]
        kept = [each for each in along if each not in off]
        for each in reversed([each for each in kept if each not in wanted]):  # needed later still, as far as it fits
            if _half_slots(plan, {*kept, *wanted}) > holds:
                kept.remove(each)
                off.append(each)
        on = [each for each in wanted if each not in kept]
        along = [*kept, *on]
        stops.append(_stop(walks, bells, legs[n - 1][-1] if n else None, leg[0], off, on, _half_slots(plan, along)))
    return tuple(stops)


def _stop(
    walks: DayWalks, bells: Bells, before: Visit | None, first: Visit, off: list[str], on: list[str], half_slots: int
) -> StoreStop:
    since = None if before is None else before.end + walks.minutes(before.room, STORE)
    return StoreStop(
        before_visit=first.key,
        breaks=() if before is None else names_of_breaks(walks.plan, bells, before, first),
        since=since,
        leave_by=max(leave_for(walks.plan, first, walks.minutes(STORE, first.room)), since or 0),
        off=tuple(off),
        on=tuple(on),
        half_slots=half_slots,
        too_much=half_slots > walks.plan.school.cart.half_slots,
    )


def leave_for(plan: Plan, visit: Visit, minutes: int) -> int:
    """When to leave the store for a visit ``minutes`` away: setting up and some slack come before the bell."""
    return visit.start - minutes - plan.school.habits.set_up_minutes - plan.school.habits.slack_minutes


def _legs(bells: Bells, visits: Sequence[Visit]) -> list[list[Visit]]:
    """The visits between one stop and the next: a break too short for the way by the store is none."""
    legs: list[list[Visit]] = []
    for leg in legs_of(bells, visits):
        coming = list(leg.values())
        if legs and coming[0].gap_before < coming[0].swap_minutes_before:
            legs[-1] += coming
        else:
            legs.append(coming)
    return legs


FREE_PERIOD = "free period"


def names_of_breaks(plan: Plan, bells: Bells, before: Visit, after: Visit) -> tuple[str, ...]:
    """What the time at the store between two visits is called: "lunch", "planning"; "free period" where nothing is."""
    breaks = breaks_between(bells, before, after)
    if not breaks and free_period_before(plan.school.habits, after, breaks):
        return (FREE_PERIOD,)
    return tuple(each.name for each in breaks)


def free_period_before(habits: Habits, visit: Visit, breaks: Iterable[Break]) -> int:
    """Minutes before a visit in which nothing is taught and no break is, from ``habits.free_period_minutes`` on."""
    free = visit.gap_before - sum(minutes_of_break(each) for each in breaks)
    return free if free >= max(1, habits.free_period_minutes) else 0


def minutes_of_break(each: Break) -> int:
    return minute_of(each.end) - minute_of(each.start)


def breaks_between(bells: Bells, before: Visit, after: Visit) -> tuple[Break, ...]:
    """Breaks at the store between two visits, in time order."""
    found = (each for each in bells.breaks if before.start < minute_of(each.start) <= after.start)
    return tuple(sorted(found, key=lambda each: minute_of(each.start)))


def _half_slots(plan: Plan, containers: Iterable[str]) -> int:
    return sum(box_or_kit(plan, each).half_slots for each in containers)
