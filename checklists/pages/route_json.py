"""The route of a day as fields for scripts: the problem as given, her wishes, the plan, its cost."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.route.day_route import DayRoute, pins_in_the_way
from checklists.route.legs import Like
from checklists.route.pins import Pin
from checklists.route.problem import Cost, Leg, RouteProblem, RouteVisit
from checklists.words import clock


def route_as_json(day: Day, route: DayRoute) -> Fields:
    """The page "route": everything that the plan depends on, so that anybody can check it.

    ``problem``: ``visits`` (``visit room start end needs walk_more carried folders``; ``carried`` minutes by hand from
    the store, else null), ``containers`` (``id half_slots kilograms may_be_left``), ``capacity``, ``most_kilograms``
    (or null), ``walks`` (``from to minutes``), ``handling``, ``sessions`` (``after minutes been``), ``no_stop_after``,
    ``stop_after``, ``never_in``, ``must_ride``, ``folders_on_top``, ``folder_half_slots``, ``opens`` (when the store
    does; null: it is always open), ``standing`` (``container room``) and ``begun`` (``legs visits out``). ``after`` and
    stops count visits; of what a helper carries no visit has need. ``pins``: ``kind about how for_good``. ``helped``:
    what a helper carries. ``like``: the route so far that the plan is like (``stops``, ``ahead`` of ``container visit
    session``), or null.

    ``plan`` is null where nothing fits, else ``legs`` (``first last rides ahead kept``, visits by key; ``ahead`` is
    ``container room session joins``, session -1: it stood there already; ``kept`` stays on the cart for a later leg),
    ``cost`` (``late stops ahead behind loaded``) and ``ways`` (``visit minutes spare by_store``). ``by_hand``: what
    no cart brings, ``visit containers kilograms trips minutes ahead``, minutes from the room before by the store to the
    door. ``changes``: ``kind container session by``, and ``in_the_way``, her wishes without any one of which there
    would be a plan: where nothing fits.
    """
    found, told = route.plan, route.told
    keys = [visit.key for visit in route.problem.visits]
    return {
        "format": 1,
        "page": "route",
        "date": day.date.isoformat(),
        "problem": _problem_fields(route.problem, keys),
        "pins": [pin_fields(each) for each in route.pins],
        "helped": list(route.helped),
        "like": None if route.like is None else _like_fields(route.like, keys),
        "plan": None
        if found is None or told is None
        else {
            "legs": _legs_fields(found.legs, keys),
            "cost": cost_fields(found.cost),
            "ways": [
                {"visit": keys[way.visit], "minutes": way.minutes, "spare": way.spare, "by_store": way.by_store}
                for way in told.ways
            ],
        },
        "by_hand": [
            {
                "visit": one.visit.key,
                "containers": list(one.containers),
                "kilograms": one.kilograms,
                "trips": one.trips,
                "minutes": one.minutes,
                "ahead": bool(one.visit.left_ahead),
            }
            for one in route.carried
        ],
        "changes": [
            {"kind": each.kind, "container": each.container, "session": each.session, "by": each.by}
            for each in route.changes
        ],
        "in_the_way": [pin_fields(each) for each in pins_in_the_way(route, day)],
    }


def pin_fields(pin: Pin) -> Fields:
    """``kind`` is stops, rides or leave_in; ``about`` a period, a container or a room."""
    return {"kind": pin.kind, "about": pin.about, "how": pin.how, "for_good": pin.for_good}


def cost_fields(cost: Cost) -> Fields:
    return {
        "late": cost.late,
        "stops": cost.stops,
        "ahead": cost.ahead,
        "behind": cost.behind,
        "loaded": cost.loaded,
    }


def _problem_fields(problem: RouteProblem, keys: Sequence[str]) -> Fields:
    begun = problem.begun
    return {
        "visits": [_visit_fields(each) for each in problem.visits],
        "containers": [
            {"id": each.id, "half_slots": each.size, "kilograms": each.kilograms, "may_be_left": each.may_be_left}
            for each in problem.containers
        ],
        "capacity": problem.capacity,
        "most_kilograms": problem.most_kilograms,
        "walks": [{"from": start, "to": end, "minutes": least} for (start, end), least in problem.walks.items()],
        "handling": problem.handling,
        "sessions": [
            {"after": each.after, "minutes": each.minutes, "been": list(each.been)} for each in problem.sessions
        ],
        "no_stop_after": sorted(problem.no_stop_after),
        "stop_after": sorted(problem.stop_after),
        "never_in": sorted(problem.never_in),
        "must_ride": sorted(problem.must_ride),
        "folders_on_top": problem.folders_on_top,
        "folder_half_slots": problem.folder_size,
        "opens": clock(problem.opens) if problem.opens else None,
        "standing": [{"container": each.container, "room": each.room} for each in problem.standing],
        "begun": {"legs": _legs_fields(begun.legs, keys), "visits": begun.visits, "out": begun.out},
    }


def _visit_fields(visit: RouteVisit) -> Fields:
    return {
        "visit": visit.key,
        "room": visit.room,
        "start": clock(visit.start),
        "end": clock(visit.end),
        "needs": list(visit.needs),
        "walk_more": visit.walk_more,
        "carried": visit.carried,
        "folders": visit.folders,
    }


def _legs_fields(legs: Iterable[Leg], keys: Sequence[str]) -> list[Fields]:
    return [
        {
            "first": keys[leg.first],
            "last": keys[leg.last],
            "rides": list(leg.rides),
            "ahead": [
                {"container": one.container, "room": one.room, "session": one.session, "joins": one.joins}
                for one in leg.ahead
            ],
            "kept": list(leg.kept),
        }
        for leg in legs
    ]


def _like_fields(like: Like, keys: Sequence[str]) -> Fields:
    ahead = sorted((container, n, session) for (container, n), session in like.ahead.items())
    return {
        "stops": sorted(like.stops),
        "ahead": [{"container": each, "visit": keys[n], "session": session} for each, n, session in ahead],
    }
