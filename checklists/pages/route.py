"""The words of a day's route: its cost, its ways, and where nothing fits what would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from checklists.lines.containers import name_of
from checklists.lines.loads import box_or_kit
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.route.problem import RoutePlan, RouteProblem
from checklists.route.smallest_changes import SmallChange, too_much_at
from checklists.route.told import RouteStop
from checklists.words import join_words, plural, say_date, say_room

MOST_CHANGES = 6
"""Small changes that are told, of those that would make a plan."""
WHAT_TAKES_ROOM = "a box takes 2, a kit 1"
"""What a half slot of the cart is."""


def say_cost(found: RoutePlan) -> str:
    """ "5 min late in all, no extra stop, 2 left ahead"."""
    cost = found.cost
    late = f"{cost.late} min late in all" if cost.late else "nowhere late"
    said = [late, plural(cost.stops, "extra stop") if cost.stops else "no extra stop"]
    if cost.ahead:
        said.append(f"{cost.ahead} left ahead")
    return ", ".join(said)


def say_way(minutes: int, spare: int) -> str:
    """ "4 min, 1 to spare", "5 min, 5 LATE"."""
    if spare < 0:
        return f"{minutes} min, {-spare} LATE"
    return f"{minutes} min, {spare} to spare"


def say_fetched(plan: Plan, stop: RouteStop) -> Iterator[str]:
    """ "Printing kit from the library, 2 min": room by room, with the way there and back."""
    for room in dict.fromkeys(each.room for each in stop.fetch):
        names = join_words(name_of(plan, each.container) for each in stop.fetch if each.room == room)
        minutes = sum(each.minutes for each in stop.fetch if each.room == room)
        yield f"{names} from {say_room(room)}" + (f", {minutes} min" if minutes else "")


def say_too_much(day: Day, problem: RouteProblem) -> tuple[str, ...]:
    """Where nothing fits: what is too much."""
    takes = f"the cart takes {problem.capacity} half slots ({WHAT_TAKES_ROOM})"
    rows = [f"No way to take everything along on {say_date(day.date)}: {takes}."]
    over = too_much_at(problem)
    if over is not None:
        visit = day.visits[over[0]]
        rows.append(f"{visit.name} {visit.class_id} alone needs {over[1]} more.")
    return tuple(rows)


def say_whether_any(ways: Sequence[str]) -> str:
    """What stands above the ways that would make a plan."""
    return "Any one of these would do:" if ways else "No single small change would do: give something back."


def say_changes(plan: Plan, day: Day, problem: RouteProblem, changes: Iterable[SmallChange]) -> Iterator[str]:
    """Each small change in words."""
    for each in changes:
        name = name_of(plan, each.container)
        match each.kind:
            case "carried":
                yield f"Somebody carries {name}."
            case "may be left":
                yield f"{name} may be left in a room: {_where_left_is_said(plan, each.container)}."
            case "minutes":
                after = problem.sessions[each.session].after
                when = f"in the break after {day.visits[after - 1].name}" if after else "before school"
                where = "leave_ahead_in_a_break" if after else "leave_ahead_before_school"
                yield f"{each.by} min more for leaving ahead {when}: in school.toml, {where} under [habits]."
            case "half slots":
                more = plural(each.by, "half slot")
                yield f"{more} more on the cart: once it has the room, in school.toml, half_slots under [cart]."


def _where_left_is_said(plan: Plan, container: str) -> str:
    """What keeps a container from being left: her own word in the plan, or what is in it."""
    if box_or_kit(plan, container).may_be_left:
        return "once nothing sharp, hot or private is in it"
    return "in kits.toml, may_be_left = true, if nothing sharp, hot or private is in it"
