"""How far the day has come when something changes: the route she is going by, as it is written into the day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from checklists.daybook.entries import AnyEntry, Changed, RouteKept, Stands
from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.route.day_route import DayRoute, is_same_way
from checklists.route.kept import keep_route
from checklists.route.pins import KINDS
from checklists.route.problem import RoutePlan, RouteProblem
from checklists.words import minute_of_day


class RouteSoFar(Struct, frozen=True):
    """The route she was going by before something was said, as an entry that may be needed."""

    entry: RouteKept
    before: RoutePlan
    in_any_case: bool
    """An earlier one is to count no longer."""
    earlier: RouteKept | None = None

    def is_needed(self, now: DayRoute) -> bool:
        """Whether the route is another one without it."""
        return self.in_any_case or not is_same_way(self.before, now.plan)


def route_so_far(day: Day, marks: Marks, route: DayRoute, entries: Iterable[AnyEntry]) -> RouteSoFar | None:
    """The route to keep with what is being said; None where it is not said on the day, or says nothing of a route.

    After a wish of hers the rest of the day is as good as can be; after anything else as like this one as can be.
    """
    said = tuple(entries)
    at = said[0].at
    if at.date() != day.date or not day.visits or route.plan is None:
        return None
    stands = [entry for entry in said if isinstance(entry, Stands)]
    if len(stands) == len(said) and not any(_is_needed(entry, route, route.problem.begun.visits) for entry in stands):
        return None
    begun, out = how_far(day, marks, route.plan, at)
    anew = all(isinstance(entry, Changed) and is_only_wishes(entry) for entry in said)
    if anew and not begun and not out and marks.route is None:
        return None
    entry = _as_entry(day, route.problem, route.plan, at, begun, out=out, anew=anew)
    # What stands somewhere new by now is held against the visits that are still to come.
    is_new = any(begun and _is_needed(each, route, begun) and _is_news(each, marks, route) for each in stands)
    return RouteSoFar(entry, route.plan, in_any_case=is_new or (anew and marks.route is not None), earlier=marks.route)


def route_to_keep(day: Day, marks: Marks, route: DayRoute, at: datetime) -> RouteKept | None:
    """The route she is going by, where the plan changes on the way; None before she has left, and after the day."""
    if at.date() != day.date or not day.visits or route.plan is None:
        return None
    begun, out = how_far(day, marks, route.plan, at)
    if begun == len(day.visits) or not (begun or out):
        return None
    return _as_entry(day, route.problem, route.plan, at, begun, out=out, anew=False)


def route_anew(day: Day, marks: Marks, route: DayRoute, at: datetime) -> RouteKept | None:
    """The entry after which the rest of the day is as good as can be; what has begun is kept.

    None on another day, after the last visit, and where there is no route.
    """
    if at.date() != day.date or route.plan is None:
        return None
    begun, out = how_far(day, marks, route.plan, at)
    if begun == len(day.visits):
        return None
    return _as_entry(day, route.problem, route.plan, at, begun, out=out, anew=True)


def _as_entry(
    day: Day, problem: RouteProblem, plan: RoutePlan, at: datetime, begun: int, *, out: bool, anew: bool
) -> RouteKept:
    keys = tuple(visit.key for visit in day.visits[:begun])
    return RouteKept(at=at, legs=keep_route(problem, plan), begun=keys, out=out, anew=anew)


def is_only_wishes(entry: Changed) -> bool:
    """Whether a change of the day says nothing but wishes for the route."""
    others = [name for name in entry.__struct_fields__ if name not in (*KINDS, "at")]
    return all(getattr(entry, name) is None for name in others)


def _is_needed(entry: Stands, route: DayRoute, since: int) -> bool:
    """Whether a visit from this one on needs the container."""
    return any(entry.container in visit.needs for visit in route.problem.visits[since:])


def _is_news(entry: Stands, marks: Marks, route: DayRoute) -> bool:
    """Whether it stood elsewhere so far, and the route has it there at no time."""
    was = marks.places.get(entry.container)
    ahead = route.plan.left_ahead if route.plan is not None else frozenset()
    return (was is None or was.place != entry.place) and (entry.container, entry.place) not in ahead


def how_far(day: Day, marks: Marks, plan: RoutePlan, at: datetime) -> tuple[int, bool]:
    """How many visits have begun, and whether she is under way.

    At the store: before she leaves, and from the end of a visit after which the plan has her go by the store.
    """
    minute = minute_of_day(at)
    begun = sum(visit.start <= minute for visit in day.visits)
    if not begun:
        return 0, marks.left is not None and marks.left.at.date() == day.date
    stops_next = any(leg.first == begun for leg in plan.legs)
    return begun, not (stops_next and minute >= day.visits[begun - 1].end)
