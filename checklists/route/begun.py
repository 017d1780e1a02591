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
from checklists.route.problem import RoutePlan


class RouteSoFar(Struct, frozen=True):
    """The route she was going by before something was said, as an entry that may be needed."""

    entry: RouteKept
    before: RoutePlan
    in_any_case: bool
    """An earlier one is to count no longer."""

    def is_needed(self, now: DayRoute) -> bool:
        """Whether the route is another one without it."""
        return self.in_any_case or not is_same_way(self.before, now.plan)


def route_so_far(day: Day, marks: Marks, route: DayRoute, entries: Iterable[AnyEntry]) -> RouteSoFar | None:
    """The route to keep with what is being said; None before the day, after it, or where it says nothing of a route.

    After a wish of hers the rest of the day is as good as can be; after anything else as like this one as can be.
    """
    said = tuple(entries)
    at = said[0].at
    if at.date() != day.date or not day.visits or route.plan is None:
        return None
    stands = [entry for entry in said if isinstance(entry, Stands)]
    matter = [entry for entry in stands if _is_needed_again(entry, marks, route)]
    if len(stands) == len(said) and not matter:
        return None
    begun, out = how_far(day, marks, route.plan, at)
    anew = all(isinstance(entry, Changed) and is_only_wishes(entry) for entry in said)
    if begun == len(day.visits) or (anew and not begun and not out and marks.route is None):
        return None
    keys = tuple(visit.key for visit in day.visits[:begun])
    entry = RouteKept(at=at, legs=keep_route(route.problem, route.plan), begun=keys, out=out, anew=anew)
    # What stands somewhere by now is held against the visits that are still to come.
    in_any_case = (anew and marks.route is not None) or any(begun and not _is_planned(each, route) for each in matter)
    return RouteSoFar(entry, route.plan, in_any_case=in_any_case)


def route_anew(day: Day, marks: Marks, route: DayRoute, at: datetime) -> RouteKept | None:
    """The entry after which the rest of the day is as good as can be; what has begun is kept.

    None on another day, after the last visit, and where there is no route.
    """
    if at.date() != day.date or route.plan is None:
        return None
    begun, out = how_far(day, marks, route.plan, at)
    if begun == len(day.visits):
        return None
    keys = tuple(visit.key for visit in day.visits[:begun])
    return RouteKept(at=at, legs=keep_route(route.problem, route.plan), begun=keys, out=out, anew=True)


def is_only_wishes(entry: Changed) -> bool:
    """Whether a change of the day says nothing but wishes for the route."""
    others = [name for name in entry.__struct_fields__ if name not in (*KINDS, "at")]
    return all(getattr(entry, name) is None for name in others)


def _is_needed_again(entry: Stands, marks: Marks, route: DayRoute) -> bool:
    """Whether a container that stands somewhere new is needed again."""
    was = marks.places.get(entry.container)
    if was is not None and was.place == entry.place:
        return False
    coming = route.problem.visits[route.problem.begun.visits :]
    return any(entry.container in visit.needs for visit in coming)


def _is_planned(entry: Stands, route: DayRoute) -> bool:
    """Whether the route has it there at some time."""
    ahead = {(each.container, each.room) for leg in (route.plan.legs if route.plan else ()) for each in leg.ahead}
    return (entry.container, entry.place) in ahead


def how_far(day: Day, marks: Marks, plan: RoutePlan, at: datetime) -> tuple[int, bool]:
    """How many visits have begun, and whether she is under way.

    At the store: before she leaves, and from the end of a visit after which the plan has her go by the store.
    """
    minute = at.hour * 60 + at.minute
    begun = sum(visit.start <= minute for visit in day.visits)
    if not begun:
        return 0, marks.left is not None and marks.left.at.date() == day.date
    stops_next = any(leg.first == begun for leg in plan.legs)
    return begun, not (stops_next and minute >= day.visits[begun - 1].end)
