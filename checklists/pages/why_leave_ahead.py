"""Why something is left ahead, by when she sets out with it, and why other containers ride instead."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.line_states import is_critical, open_lines
from checklists.daybook.marks import Marks
from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.pages.why import Why
from checklists.plan.records import Plan
from checklists.route.day_problem import why_never_left
from checklists.route.day_route import DayRoute
from checklists.route.departure import Departure, ToLeave
from checklists.words import clock, join_words, plural, say_room

CHANGE = (
    "On its row n takes it along today. On the Route (Tab, Enter) Enter on a visit or a stop has the other wishes.",
    'In the command line: trundle pin rides "Box K" (the name of the container); trundle pin --help has the rest.',
)


def why_leave_ahead(plan: Plan, day: Day, marks: Marks, route: DayRoute, departure: Departure, trip: ToLeave) -> Why:
    """Everything about one trip of those before the stop at the store that comes next."""
    how = [*_say_leave_by(plan, day, marks, departure), *_say_room_on_cart(plan, day, route, departure, trip)]
    return Why("leave ahead", trip.words, tuple(how), (), CHANGE)


def say_open_in_it(day: Day, marks: Marks, trip: ToLeave) -> str:
    """What a trip goes with though it is not packed: "Box K still has 3 critical lines open."; empty: it is ready."""
    open_in_it = [line for line in open_lines(day, marks) if line.container in trip.containers and is_critical(line)]
    if not open_in_it:
        return ""
    still = [
        name
        for container, name in zip(trip.containers, trip.names, strict=True)
        if any(line.container == container for line in open_in_it)
    ]
    has = "have" if still[1:] else "has"
    return f"{join_words(still)} still {has} {plural(len(open_in_it), 'critical line')} open."


def _say_leave_by(plan: Plan, day: Day, marks: Marks, departure: Departure) -> Iterator[str]:
    """ "Leave ahead by 8:04: 8:20 less 2 min to walk, 4 to set up, 2 of slack, 6 for Box K to Room 1 and back." """
    leave, visit, habits = departure.leave_by(day, marks), departure.before, plan.school.habits
    cart = day.leave_by if not departure.stop else departure.leave
    if leave is None or visit is None or cart is None:
        return
    walk = visit.start - cart - habits.set_up_minutes - habits.slack_minutes
    less = [f"{walk} min to walk", f"{habits.set_up_minutes} to set up", f"{habits.slack_minutes} of slack"]
    left = cart
    for each in departure.to_leave:
        if not departure.is_left(each, marks):
            less.append(f"{each.minutes} for {join_words(each.names)} to {say_room(each.room)} and back")
            left -= each.minutes
    if left > leave.minute:
        less.append(f"{left - leave.minute} to fetch what is not at the store")
    later = f", and not before the store opens at {clock(day.store_opens)}" if left < leave.minute else ""
    yield f"{leave.words}: {clock(visit.start)} less {', '.join(less)}{later}."


def _say_room_on_cart(plan: Plan, day: Day, route: DayRoute, departure: Departure, trip: ToLeave) -> Iterator[str]:
    """What rides from that stop, that the trip's containers do not fit beside it, and why it is not the others."""
    stop = route.told.stops[departure.stop] if route.told is not None else None
    if stop is None:
        return
    sizes = {each.id: each for each in route.problem.containers}
    rides = [each for each in stop.rides if each in sizes]
    wanted = sum(sizes[each].size for each in trip.containers if each in sizes)
    names = join_words(name_of(plan, each) for each in rides)
    yield (
        f"The cart takes {plural(route.problem.capacity, 'half slot')}, and {stop.load} are in use from there"
        f"{f': {names} ride' if names else ''}. {join_words(trip.names)}, {plural(wanted, 'half slot')}, "
        "would come on top."
    )
    for each in rides:
        yield f"{name_of(plan, each)}: {_why_it_rides(plan, day, route, each)}."


def _why_it_rides(plan: Plan, day: Day, route: DayRoute, container: str) -> str:
    never = why_never_left(plan, day, container)
    if never:
        return f"{never}, so it is never left in a room"
    if container in route.problem.must_ride:
        return "it always rides, as you said"
    if not next(each.may_be_left for each in route.problem.containers if each.id == container):
        return "it may not be left in a room"
    users = [visit.name for visit in day.visits if container in _needs(route, visit.key)]
    several = f" ({join_words(users)} need it)" if users[1:] else ""
    return f"it might be left as well{several}; leaving it in its place makes the day no better"


def _needs(route: DayRoute, visit: str) -> tuple[str, ...]:
    return next((each.needs for each in route.problem.visits if each.key == visit), ())
