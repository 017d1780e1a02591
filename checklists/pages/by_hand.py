"""The words of what is carried by hand on a day's route: ahead, along, and back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.lines.carrying import ByHand, visits_before_carrying
from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.route.day_route import DayRoute
from checklists.words import clock, join_words, minute_of, say_room


def say_by_hand(plan: Plan, day: Day, route: DayRoute, before: int) -> Iterator[str]:
    """What she carries from a stop before a visit, counted from 0: back from the one before, ahead, and along."""
    for one in route.carried:
        n = one.visit.number - 1
        if n == before - 1 and not one.visit.left_ahead and one.containers:
            rest = f" (1 of {one.trips} trips now, the rest when there is time)" if one.trips > 1 else ""
            yield f"Bring back: {_names(plan, one)}{rest}."
    for one in route.carried:
        if one.visit.left_ahead and visits_before_carrying(one, day.visits) == before:
            when = f" in {one.ahead.name}, {clock(minute_of(one.ahead.start))}" if one.ahead is not None else ""
            yield (
                f"Carry ahead by hand{when}: {_names(plan, one)} to {say_room(one.visit.room)}, {one.mass_and_trips},"
                f" {one.there_and_back} min; lock the room, sharp things stay with you."
            )
    for one in route.carried:
        if one.visit.number - 1 == before and not one.visit.left_ahead:
            yield f"By hand: {_names(plan, one)}, {one.mass_and_trips}."


def say_brought_back(plan: Plan, route: DayRoute) -> Iterator[str]:
    """What is carried back after school: what was carried ahead, and what the last visit had."""
    for one in route.carried:
        if one.containers and (one.visit.left_ahead or one.visit.is_last):
            yield f"Carry back {_names(plan, one)} from {say_room(one.visit.room)}, {one.mass_and_trips}."


def say_carried_there(plan: Plan, route: DayRoute, visit: str) -> Iterator[str]:
    """What stands at a visit because it was carried there ahead."""
    for one in route.carried:
        if one.visit.key == visit and one.visit.left_ahead:
            yield f"{_names(plan, one)}: carried there ahead."


def is_by_hand(day: Day, first: int, end: int) -> bool:
    """Whether no visit from ``first`` up to ``end`` (not included) comes on the cart."""
    return all(visit.by_hand for visit in day.visits[first:end])


def _names(plan: Plan, one: ByHand) -> str:
    names: Sequence[str] = [name_of(plan, each) for each in one.containers]
    return join_words(names) if names else "what stands on the cart"
