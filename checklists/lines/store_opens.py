"""A store that is locked until a time: what rides without it, and what to do about a visit before there is anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from checklists.daybook.entries import Changed
from checklists.lines.carrying import ByHand
from checklists.lines.decisions import AS_IT_IS, not_visited, other_lessons
from checklists.lines.reasoning import Judged
from checklists.lines.records import Because, Decision, Offer, Visit
from checklists.plan.records import Plan
from checklists.walks import STORE, DayWalks
from checklists.words import clock, join_words


def store_too_late(
    walks: DayWalks,
    day: date,
    opens: int | None,
    judged: Sequence[Judged],
    carried: Sequence[ByHand] = (),
    away: Sequence[str] = (),
) -> Iterator[Decision]:
    """One decision for each visit that has begun before she can be there from the store, till one has not.

    It is no decision any more once she has chosen a lesson, or the class's own all the same. To a visit after one that
    is over when the store opens she comes by the store; after one that is not, she has been there already.
    """
    habits = walks.plan.school.habits
    before: Visit | None = None
    for one in judged if opens is not None else ():
        visit, opened = one.visit, opens or 0
        if before is not None and before.end > opened:
            return
        out = walks.minutes(STORE, visit.room) + visit.walk_more + (habits.swap_minutes if before is not None else 0)
        out = next((each.minutes_before for each in carried if each.visit.key == visit.key), out)
        late = opened + out - visit.start
        before = visit
        if late + habits.set_up_minutes <= 0:
            return
        if visit.instead or visit.insisted or not visit.steps:
            continue
        yield _decision(walks.plan, day, opened, late, visit, away)


def _decision(plan: Plan, day: date, opens: int, late: int, visit: Visit, away: Sequence[str]) -> Decision:
    at = datetime.combine(day, time())
    along = join_words(f"{count} {plan.name_of_supply(supply)}" for supply, count in plan.school.cart.standing.items())
    rides = f"Without it only what stands on the cart rides: {along}." if along else "Nothing rides without it."
    return Decision(
        key=f"locked/{visit.key}",
        visit=visit.key,
        text=f"The store opens at {clock(opens)}, {_say_late(plan, opens, late, visit)}. {rides}",
        offers=(
            *other_lessons(plan, at, visit, visit.steps[0]),
            Offer(AS_IT_IS, Changed(at=at, lessons={visit.key: ""})),
            not_visited(at, visit, away),
        ),
        because=(Because(f"the walk to the room and setting up, from {clock(opens)} on", (visit.key,)),),
        stops=False,
    )


def _say_late(plan: Plan, opens: int, late: int, visit: Visit) -> str:
    """ "1 min too late for V1 K-M"; what of it is the way, and is LATE on the route, is said apart."""
    whom = f"{visit.name} {visit.class_id}"
    if visit.end <= opens:
        return f"when {whom} is over"
    set_up = plan.school.habits.set_up_minutes
    of_it = f": {late} min LATE at the door, and {set_up} to set up" if late > 0 and set_up else ""
    return f"{late + set_up} min too late for {whom}{of_it}"
