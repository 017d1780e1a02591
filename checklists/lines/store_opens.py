"""A store that is locked until a time: what rides without it, and what to do about a visit before there is anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from checklists.daybook.entries import Changed
from checklists.lines.decisions import AS_IT_IS, not_visited, other_lessons
from checklists.lines.reasoning import Judged
from checklists.lines.records import Because, Decision, Offer, Visit
from checklists.plan.records import Plan
from checklists.walks import STORE, DayWalks
from checklists.words import clock, join_words


def store_too_late(
    walks: DayWalks, day: date, opens: int | None, judged: Sequence[Judged], away: Sequence[str] = ()
) -> Iterator[Decision]:
    """One decision for each visit that has begun before she can be there from the store, till one has not.

    It is no decision any more once she has chosen a lesson, or the class's own all the same.
    """
    plan = walks.plan
    for one in judged if opens is not None else ():
        visit = one.visit
        late = (opens or 0) + walks.minutes(STORE, visit.room) + plan.school.habits.set_up_minutes - visit.start
        if late <= 0:
            return
        if visit.instead or visit.insisted or not visit.steps:
            continue
        yield _decision(plan, day, opens or 0, late, visit, away)


def _decision(plan: Plan, day: date, opens: int, late: int, visit: Visit, away: Sequence[str]) -> Decision:
    at = datetime.combine(day, time())
    along = join_words(f"{count} {plan.name_of_supply(supply)}" for supply, count in plan.school.cart.standing.items())
    rides = f"Without it only what stands on the cart rides: {along}." if along else "Nothing rides without it."
    text = f"The store opens at {clock(opens)}, {late} min too late for {visit.name} {visit.class_id}. {rides}"
    return Decision(
        key=f"locked/{visit.key}",
        visit=visit.key,
        text=text,
        offers=(
            *other_lessons(plan, at, visit, visit.steps[0]),
            Offer(AS_IT_IS, Changed(at=at, lessons={visit.key: ""})),
            not_visited(at, visit, away),
        ),
        because=(Because(f"the walk to the room and setting up, from {clock(opens)} on", (visit.key,)),),
        stops=False,
    )
