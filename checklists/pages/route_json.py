"""The route of a day as fields for scripts: the problem as given, her wishes, the plan, its cost."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import leave_by_now
from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute, pins_in_the_way
from checklists.route.legs import Like
from checklists.route.pins import Pin
from checklists.route.problem import Cost, Leg, RouteProblem, RouteVisit
from checklists.route.stops import way_of
from checklists.taught_periods import bells_on
from checklists.walks import is_said
from checklists.words import clock


def route_as_json(plan: Plan, day: Day, marks: Marks, route: DayRoute) -> Fields:
    """The page "route": everything that the plan depends on, so that anybody can check it.

    ``problem``: ``visits`` (``visit room start end needs walk_more carried folders``; ``carried`` minutes by hand from
    the store, else null), ``containers`` (``id half_slots kilograms may_be_left``), ``capacity``, ``most_kilograms``
    (or null), ``walks`` (``from to minutes assumed``; ``assumed``: nobody has said it), ``handling``, ``sessions``
    (when something can be left ahead, before school or in a break: ``after minutes been``), ``no_stop_after``,
    ``stop_after``, ``never_in``, ``must_ride``, ``folders_on_top``, ``folder_half_slots``, ``opens`` (when the store
    does; null: it is always open), ``standing`` (``container room``) and ``begun``, how far the day has come (its
    ``legs``; how many ``visits``; ``out``: she is not at the store). ``after`` and stops count visits; of what a helper
    carries no visit has need. ``pins``: ``kind about how for_good``. ``helped``: what a helper carries. ``like``: the
    route so far that the plan is like (``stops``, ``ahead`` of ``container visit session``), or null.

    ``plan`` is null where nothing fits, else ``legs``, each from one stop at the store to the next (``first last rides
    ahead kept``, visits by key; ``ahead`` is ``container room session joins``, session -1: it stood there already;
    ``kept`` stays on the cart for a later leg), ``cost`` (``late stops ahead behind loaded``), ``stops`` (``before``,
    the visit after it, ``since`` and ``leave_by``, ``fetch`` of ``container room minutes``; ``since`` is null before
    school) and ``ways`` (``visit minutes spare by_store``). ``by_hand``: what no cart brings, ``visit containers
    kilograms trips minutes ahead``, minutes from the room before by the store to the door. ``changes``: ``kind
    container session by``, and ``in_the_way``, her wishes without any one of which there would be a plan: where nothing
    fits.
    """
    found, told = route.plan, route.told
    keys = [visit.key for visit in route.problem.visits]
    return {
        "format": 1,
        "page": "route",
        "date": day.date.isoformat(),
        "problem": _problem_fields(plan, route.problem, keys),
        "pins": [pin_fields(each) for each in route.pins],
        "helped": list(route.helped),
        "like": None if route.like is None else _like_fields(route.like, keys),
        "plan": None
        if found is None or told is None
        else {
            "legs": _legs_fields(found.legs, keys),
            "cost": cost_fields(found.cost),
            "stops": _stops_fields(plan, day, marks, route),
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


def _stops_fields(plan: Plan, day: Day, marks: Marks, route: DayRoute) -> list[Fields]:
    """The times are those of the Route: before school the time to leave with what is still to be fetched."""
    first = leave_by_now(day, marks, waits=route.fetched_later)
    stops = way_of(plan, bells_on(plan, marks.changes), day, route).stops
    return [
        {
            "before": stop.before_visit,
            "since": None if stop.since is None else clock(stop.since),
            "leave_by": clock(stop.leave_by if n or first is None else first),
            "fetch": [{"container": each, "room": room, "minutes": minutes} for each, room, minutes in stop.fetch],
        }
        for n, stop in enumerate(stops)
    ]


def _problem_fields(plan: Plan, problem: RouteProblem, keys: Sequence[str]) -> Fields:
    begun = problem.begun
    return {
        "visits": [_visit_fields(each) for each in problem.visits],
        "containers": [
            {"id": each.id, "half_slots": each.size, "kilograms": each.kilograms, "may_be_left": each.may_be_left}
            for each in problem.containers
        ],
        "capacity": problem.capacity,
        "most_kilograms": problem.most_kilograms,
        "walks": [
            {"from": start, "to": end, "minutes": least, "assumed": not is_said(plan, start, end)}
            for (start, end), least in problem.walks.items()
        ],
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
