"""Her own wishes for the route: a stop made or not, what always rides or is carried by a helper, where nothing is left.

A wish holds for a day (an entry of its record) or for good (the plan). What it costs is how much better the best plan
would be without it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Final, Literal

from msgspec import Struct, structs

from checklists.daybook.entries import Changed
from checklists.lines.records import Day
from checklists.plan.records import Plan, RidePin, RoomPin, School, StopPin
from checklists.route.problem import RouteProblem

Kind = Literal["stops", "rides", "leave_in"]
KINDS: tuple[Kind, ...] = ("stops", "rides", "leave_in")
HELPER: Final = "helper"


class Pin(Struct, frozen=True, order=True):
    """One wish that holds on a day."""

    kind: Kind
    about: str
    """A period, a container or a room."""
    how: StopPin | RidePin | RoomPin
    for_good: bool = False
    """It stands in the plan, and the day has not said otherwise."""


def pins_on(plan: Plan, changes: Changed | None) -> tuple[Pin, ...]:
    """The wishes that hold on a day, those of the day before those for good."""
    found: list[Pin] = []
    for kind in KINDS:
        for_good = getattr(plan.school.route, kind)
        said = (getattr(changes, kind) or {}) if changes is not None else {}
        found += [Pin(kind, about, how) for about, how in said.items() if how not in ("", "free")]
        left = (each for each in for_good.items() if each[1] != "free" and not said.get(each[0]))
        found += [Pin(kind, about, how, for_good=True) for about, how in left]
    return tuple(sorted(found, key=lambda pin: pin.for_good))


def entry_of_pin(pin: Pin, at: datetime) -> Changed:
    """The entry that says a wish for the day."""
    return structs.replace(Changed(at=at), **{pin.kind: {pin.about: pin.how}})


def entry_without_pin(pin: Pin, at: datetime) -> Changed:
    """The entry that takes a wish back for the day: one that holds for good is left out on that day."""
    return structs.replace(Changed(at=at), **{pin.kind: {pin.about: "free" if pin.for_good else ""}})


def school_with_pin(school: School, pin: Pin) -> School:
    """The school with a wish that holds for good."""
    return _school_with(school, pin.kind, getattr(school.route, pin.kind) | {pin.about: pin.how})


def school_without_pin(school: School, pin: Pin) -> School:
    """The school without a wish that held for good."""
    left = {about: how for about, how in getattr(school.route, pin.kind).items() if about != pin.about}
    return _school_with(school, pin.kind, left)


def put_pin_back(school: School, before: School, pin: Pin) -> School:
    """The school with one wish as it was before. Whatever else was changed stays."""
    was = getattr(before.route, pin.kind).get(pin.about)
    return school_without_pin(school, pin) if was is None else school_with_pin(school, structs.replace(pin, how=was))


def left_out(plan: Plan, changes: Changed | None) -> tuple[Pin, ...]:
    """Wishes for good that the day has said are not to hold on it."""
    return tuple(
        Pin(kind, about, how, for_good=True)
        for kind in KINDS
        for about, how in getattr(plan.school.route, kind).items()
        if how != "free" and changes is not None and (getattr(changes, kind) or {}).get(about) == "free"
    )


def _school_with(school: School, kind: Kind, said: dict[str, str]) -> School:
    return structs.replace(school, route=structs.replace(school.route, **{kind: said}))


def helped(pins: Iterable[Pin]) -> frozenset[str]:
    """Containers that a helper carries."""
    return frozenset(pin.about for pin in pins if pin.kind == "rides" and pin.how == HELPER)


def with_pins(problem: RouteProblem, day: Day, pins: Sequence[Pin]) -> RouteProblem:
    """The problem of a day with her wishes. What a helper carries is in nobody's way, at the visits to come."""
    carried, begun = helped(pins), problem.begun
    taken = begun.containers
    over = {each for visit in problem.visits[: begun.visits] for each in visit.needs}
    after = {visit.period: n for n, visit in enumerate(day.visits, 1) if n < len(day.visits)}
    stops = {(pin.how, after[pin.about]) for pin in pins if pin.kind == "stops" and pin.about in after}
    return structs.replace(
        problem,
        visits=tuple(
            structs.replace(visit, needs=tuple(each for each in visit.needs if n < begun.visits or each not in carried))
            for n, visit in enumerate(problem.visits)
        ),
        containers=tuple(each for each in problem.containers if each.id not in carried or each.id in taken | over),
        standing=tuple(each for each in problem.standing if each.container not in carried),
        no_stop_after=problem.no_stop_after | {n for how, n in stops if how == "never"},
        stop_after=problem.stop_after | {n for how, n in stops if how == "always"},
        never_in=problem.never_in | {pin.about for pin in pins if pin.kind == "leave_in"},
        must_ride=problem.must_ride | {pin.about for pin in pins if pin.kind == "rides" and pin.how == "always"},
    )
