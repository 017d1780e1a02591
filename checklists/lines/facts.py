"""The given facts of a visit with one part, for the rules."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from checklists.daybook.state import State
from checklists.lines.catch_up import children_in
from checklists.lines.in_the_room import avoided_in, needs_in, youngest_grade_in
from checklists.lines.records import Step, Visit
from checklists.plan.records import Lesson, Part, Plan, Room
from checklists.rules.records import VisitFacts
from checklists.rules.vocabulary import marks_of_supply
from checklists.words import say_date, say_room


class Surroundings(Struct, frozen=True):
    """What a visit's facts depend on beyond the visit itself: its neighbours, drying, the class's other dates."""

    next_visit: Visit | None = None
    """The visit after this one on the same day."""
    drying_on_cart: int = 0
    """Places for wet work left on the cart by the visits before."""
    not_before: date | None = None
    """Before this date the part is too early: something must dry or be fired."""
    not_after: date | None = None
    next_date: date | None = None
    """The class's next visit."""
    next_not_before: date | None = None
    next_not_after: date | None = None
    no_mess: bool = False
    """The day is to stay clean: pictures, a concert, visitors."""


def facts_of(plan: Plan, state: State, visit: Visit, step: Step, day: date, around: Surroundings) -> VisitFacts:
    """The facts of ``visit`` if ``step`` is taught in it on ``day``."""
    lesson = plan.lesson_by_id[step.lesson]
    part = lesson.parts[step.part - 1]
    needs = needs_in(plan, visit)
    room = plan.room_by_id.get(visit.room, Room(visit.room))
    pieces = visit.students * part.pieces_each
    reset = max((plan.kit_by_id[kit].reset_minutes for kit in lesson.kits if kit in plan.kit_by_id), default=0)
    numbers: dict[str, float] = {
        "grade": youngest_grade_in(plan, visit),
        "students": visit.students,
        "tables": visit.tables,
        "part": step.part,
        "parts": len(lesson.parts),
        "minutes": visit.minutes,
        "least_minutes": part.least_minutes,
        "short_by": max(0, part.least_minutes - visit.minutes),
        "gap_before": visit.gap_before,
        "gap_after": visit.gap_after,
        "swap_before": visit.swap_minutes_before,
        "pieces": pieces,
        "reset": reset,
        "adults": visit.adults,
        "guests": sum(guests.count for guests in (*visit.guests, *visit.joined)),
        "month": day.month,
        "english_learners": needs.get("english-learner", 0),
        "owed": children_in(state.owed.get(visit.class_id, ())),
    }
    if room.drying_places is not None:
        numbers["drying_places"] = room.drying_places
    return VisitFacts(
        class_id=visit.class_id,
        lesson=step.lesson,
        tags=frozenset(_tags(plan, state, visit, step, lesson, part, room, day, around)),
        numbers=numbers,
        needs=needs,
        avoid=avoided_in(plan, visit),
        items={
            item.supply: marks_of_supply(plan.supply_by_id[item.supply])
            for item in part.items
            if item.supply in plan.supply_by_id and item.is_for(*visit.classes)
        },
        words=_words(visit, lesson, part, around),
    )


def _words(visit: Visit, lesson: Lesson, part: Part, around: Surroundings) -> dict[str, str]:
    dates = {
        "not before": around.not_before,
        "not after": around.not_after,
        "next visit": around.next_date,
        "next not before": around.next_not_before,
        "next not after": around.next_not_after,
    }
    words = {name: say_date(day) for name, day in dates.items() if day is not None}
    return words | {"class": visit.class_id, "room": say_room(visit.room), "lesson": lesson.title, "part": part.title}


def _tags(
    plan: Plan,
    state: State,
    visit: Visit,
    step: Step,
    lesson: Lesson,
    part: Part,
    room: Room,
    day: date,
    around: Surroundings,
) -> set[str]:
    class_ = plan.class_by_id[visit.class_id]
    following = around.next_visit
    shared = set(lesson.kits) & _kits_of(plan, following) if following is not None else set()
    reset = max((plan.kit_by_id[kit].reset_minutes for kit in shared if kit in plan.kit_by_id), default=0)
    pieces = visit.students * part.pieces_each
    places = None if room.drying_places is None else room.drying_places + around.drying_on_cart
    owed = state.owed.get(visit.class_id, ())
    told = {
        "sink": room.sink is True and not visit.no_water,
        "no sink": room.sink is False or visit.no_water,
        "carpet": room.carpet is True,
        "hard floor": room.carpet is False,
        "projector": room.projector is True,
        "no projector": room.projector is False,
        "single desks": visit.tables >= visit.students > 0,
        "first part": step.part == 1,
        "last part": step.part == len(lesson.parts),
        "several parts": len(lesson.parts) > 1,
        "first visit": visit.is_first,
        "last visit": visit.is_last,
        "short period": visit.minutes < part.least_minutes,
        "no time to swap": not visit.is_first and visit.gap_before < visit.swap_minutes_before,
        "same kit next": bool(shared) and visit.gap_after < reset,
        "kit shared next": bool(shared),
        "rides on cart": room.drying_places is not None and pieces > room.drying_places,
        "drying short": places is not None and pieces > places,
        "too early": around.not_before is not None and day < around.not_before,
        "too late": around.not_after is not None and day > around.not_after,
        "next too early": _is_before(around.next_date, around.next_not_before),
        "next too late": _is_before(around.next_not_after, around.next_date),
        "away from own room": visit.room != class_.room,
        "substitute": visit.substitute,
        "no mess": around.no_mess,
        "guests": bool(visit.guests or visit.joined),
        "fewer adults": visit.adults < class_.adults,
        "one adult": visit.adults <= 1,
        "absences unknown": any(each.unknown for each in owed),
        "owed": any(not each.unknown for each in owed),
    }
    return {*part.tags, *(tag for tag, holds in told.items() if holds)}


def _is_before(one: date | None, other: date | None) -> bool:
    return one is not None and other is not None and one < other


def _kits_of(plan: Plan, visit: Visit) -> set[str]:
    return {kit for step in visit.steps for kit in plan.lesson_by_id[step.lesson].kits}
