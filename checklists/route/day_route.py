"""A day's list as a problem of its route: what each visit needs of boxes and kits, walks, sessions at the store."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from checklists.lines.containers import CART
from checklists.lines.loads import box_or_kit
from checklists.lines.records import Container, Day, Line, Visit
from checklists.lines.store_stops import breaks_between
from checklists.plan.records import Bells, Break, Plan
from checklists.route.problem import RouteContainer, RoutePlan, RouteProblem, RouteVisit, Session
from checklists.route.smallest_changes import SmallChange, smallest_changes
from checklists.route.solve import solve
from checklists.route.told import RouteTold, told
from checklists.taught_periods import is_meal
from checklists.walks import STORE, DayWalks, walks_of
from checklists.words import minute_of

NEVER_LEFT = frozenset({"hot-tool", "high-temperature"})
"""Marks of supplies that are never left in a room with children; sharp things are not either."""


def route_problem(plan: Plan, bells: Bells, day: Day) -> RouteProblem:
    """The problem of a day. It depends on the list alone and not on the hour, so that the same day has the same plan.

    Containers on the cart for good, and those that take up no room on it, are left out.
    """
    riding = [each for each in day.containers if each.kind != "cart" and each.visits]
    sized = [each for each in riding if box_or_kit(plan, each.id).half_slots > 0]
    habits = plan.school.habits
    rooms = dict.fromkeys(visit.room for visit in day.visits)
    return RouteProblem(
        visits=tuple(_visit(visit, sized) for visit in day.visits),
        containers=tuple(_container(plan, each, day.lines) for each in sized),
        capacity=plan.school.cart.half_slots,
        walks=dict(_walks(walks_of(plan, day), [STORE, *rooms])),
        handling=habits.swap_minutes,
        sessions=tuple(sessions_of(plan, bells, day.visits)),
        most_kilograms=_most_kilograms(plan, day),
    )


def _visit(visit: Visit, containers: Sequence[Container]) -> RouteVisit:
    needs = tuple(sorted(each.id for each in containers if visit.key in each.visits))
    return RouteVisit(visit.key, visit.room, visit.start, visit.end, needs)


def _container(plan: Plan, container: Container, lines: Iterable[Line]) -> RouteContainer:
    facts = box_or_kit(plan, container.id)
    safe = not any(_is_never_left(plan, line) for line in lines if line.container == container.id)
    return RouteContainer(container.id, facts.half_slots, container.kilograms or 0, facts.may_be_left and safe)


def _is_never_left(plan: Plan, line: Line) -> bool:
    """Whether a line is sharp, hot, or a sheet that tells of a child's need."""
    supply = plan.supply_by_id.get(line.supply)
    if supply is None:
        return False
    is_private_sheet = supply.kind == "sheet" and any(each.private for each in line.because)
    return supply.sharp or not NEVER_LEFT.isdisjoint(supply.marks) or is_private_sheet


def _walks(walks: DayWalks, places: Sequence[str]) -> Iterator[tuple[tuple[str, str], int]]:
    for n, start in enumerate(places):
        for end in places[n + 1 :]:
            yield (start, end), walks.minutes(start, end)


def _most_kilograms(plan: Plan, day: Day) -> float | None:
    """What the cart's limit leaves for boxes and kits; None where no mass is known."""
    if not any(each.kilograms for each in day.containers if each.kind != "cart"):
        return None
    own = sum(each.kilograms or 0 for each in day.containers if each.id == CART)
    return max(0.0, plan.school.cart.limit_kg - own)


def sessions_of(plan: Plan, bells: Bells, visits: Sequence[Visit]) -> Iterator[Session]:
    """Before school, and each break between two visits that is long enough for the way by the store.

    The minutes are those for leaving ahead: of a break what is no meal, and no more than she gives it.
    """
    habits = plan.school.habits
    yield Session(0, habits.leave_ahead_before_school)
    for n in range(1, len(visits)):
        breaks = breaks_between(bells, visits[n - 1], visits[n])
        if breaks and visits[n].gap_before >= visits[n].swap_minutes_before:
            free = sum(_minutes(each) for each in breaks if not is_meal(each))
            yield Session(n, min(free, habits.leave_ahead_in_a_break))


def _minutes(each: Break) -> int:
    return minute_of(each.end) - minute_of(each.start)


class DayRoute(Struct, frozen=True):
    """The route of a day: its problem, the best plan in the order of the day, or what would make one."""

    problem: RouteProblem
    plan: RoutePlan | None
    told: RouteTold | None
    changes: tuple[SmallChange, ...] = ()
    """Where there is no plan."""


def route_of(plan: Plan, bells: Bells, day: Day, *, with_changes: bool = True) -> DayRoute:
    """The best route of a day with visits. What would make one is worked out only where it is asked for."""
    problem = route_problem(plan, bells, day)
    found = solve(problem)
    if found is None:
        return DayRoute(problem, None, None, smallest_changes(problem) if with_changes else ())
    return DayRoute(problem, found, told(problem, found))
