"""How it stands: where every class is against the plan, who is owed what, what is missing, lent, on a wall, short.

From two states alone, that with which the daybook (or the school year) began and that of now: no day in between is
read. Children are class-list numbers and counts; needs never appear here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date

from msgspec import Struct

from checklists.calendar import calendar_of
from checklists.class_places import progress_of
from checklists.daybook.state import Away, Case, Loan, Owed, State
from checklists.plan.records import Plan, SchoolClass, grade_number

MISSED_MUCH = 2
"""Parts owed from which a child is named. Common practice, no source."""


class Standing(Struct, frozen=True):
    """Where a class is. ``to_plan`` and ``to_furthest`` are parts, and so visits, below nothing where it is behind."""

    class_id: str
    grade: str
    lesson: str
    """Title of its lesson; empty where no lesson is left."""
    part: int
    parts: int
    """Of the lesson."""
    planned: int
    """Visits planned since the daybook began, as far as there are parts to teach."""
    to_plan: int
    to_furthest: int
    """Against the furthest class of its grade."""
    not_told: int
    """Visits of which nobody has told yet: the class may be further."""


class Missed(Struct, frozen=True):
    """A child that is owed several parts."""

    class_id: str
    number: int
    parts: int


class LostDay(Struct, frozen=True):
    """A school day that was lost, and the visits that were planned on it."""

    day: date
    visits: int


class LookBack(Struct, frozen=True):
    """How it stands when ``until`` opens, or at its end where it is closed."""

    since: date | None
    until: date
    at_the_end: bool
    standings: tuple[Standing, ...]
    """Grade by grade, that of the class most behind first; in a grade the class most behind first."""
    owed: dict[str, tuple[Owed, ...]]
    missed: tuple[Missed, ...]
    cases: tuple[Case, ...]
    lent: tuple[Loan, ...]
    on_walls: dict[str, Away]
    came_short: tuple[tuple[str, int], ...]
    """Supply, and on how many days it came up short, the most often first."""
    lost: tuple[LostDay, ...]


def look_back(
    plan: Plan, begun: State, now: State, since: date | None, until: date, *, at_the_end: bool = False
) -> LookBack:
    """``begun`` is how things stood when ``since`` opened; None: nothing is told yet, and no visit was planned."""
    planned = planned_visits(plan, since, until, at_the_end=at_the_end)
    standings = tuple(_standings(plan, begun, now, planned))
    known = {each.id for each in plan.classes}
    lost = [day for day in now.lost_days if since is None or day >= since]
    return LookBack(
        since=since,
        until=until,
        at_the_end=at_the_end,
        standings=standings,
        owed={class_id: owed for class_id, owed in sorted(now.owed.items()) if class_id in known and owed},
        missed=tuple(each for each in _missed_much(now) if each.class_id in known),
        cases=now.cases,
        lent=now.lent,
        on_walls={class_id: away for class_id, away in sorted(now.work_away.items()) if class_id in known},
        came_short=tuple(sorted(now.came_short.items(), key=lambda each: (-each[1], each[0]))),
        lost=tuple(LostDay(day, sum(_visits_on(plan, day).values())) for day in sorted(lost)),
    )


def planned_visits(plan: Plan, since: date | None, until: date, *, at_the_end: bool = False) -> Counter[str]:
    """Class -> its visits of the timetable from ``since`` until ``until`` opens, as if no day had been lost."""
    calendar = calendar_of(plan.school)
    days = [day for day in calendar.planned if since is not None and since <= day]
    days = [day for day in days if day < until or (at_the_end and day == until)]
    names = Counter(calendar.day_name(day) for day in days)
    found: Counter[str] = Counter()
    for name, count in names.items():
        for class_id in plan.timetable.get(name, {}).values():
            found[class_id] += count
    return found


def _visits_on(plan: Plan, day: date) -> Counter[str]:
    return Counter(plan.timetable.get(calendar_of(plan.school).day_name(day), {}).values())


def _standings(plan: Plan, begun: State, now: State, planned: Counter[str]) -> Iterator[Standing]:
    done = {each.id: parts_done(plan, now, each) for each in plan.classes}
    furthest: dict[str, int] = {}
    for each in plan.classes:
        furthest[each.grade] = max(furthest.get(each.grade, 0), done[each.id])
    found = [_standing(plan, begun, now, each, planned[each.id], done[each.id], furthest) for each in plan.classes]
    worst: dict[str, int] = {}
    for one in found:
        worst[one.grade] = min(worst.get(one.grade, one.to_plan), one.to_plan)
    yield from sorted(
        found,
        key=lambda one: (worst[one.grade], grade_number(one.grade), one.to_plan, one.to_furthest, one.class_id),
    )


def _standing(
    plan: Plan, begun: State, now: State, class_: SchoolClass, planned: int, done: int, furthest: dict[str, int]
) -> Standing:
    start = parts_done(plan, begun, class_)
    can_be_done = max(0, _parts_in_all(plan, class_) - start)
    planned = min(planned, can_be_done)
    progress = progress_of(plan, now, class_)
    lesson = plan.lesson_by_id.get(progress.lesson) if progress is not None else None
    return Standing(
        class_id=class_.id,
        grade=class_.grade,
        lesson=lesson.title if lesson is not None else "",
        part=progress.part if progress is not None and lesson is not None else 0,
        parts=len(lesson.parts) if lesson is not None else 0,
        planned=planned,
        to_plan=done - start - planned,
        to_furthest=done - furthest[class_.grade],
        not_told=len(now.unsure.get(class_.id, ())),
    )


def parts_done(plan: Plan, state: State, class_: SchoolClass) -> int:
    """Parts of its grade's lessons that a class has behind it; what it filled time with is none of them."""
    listed = plan.teaching.get(class_.grade, ())
    progress = progress_of(plan, state, class_) or state.progress.get(class_.id)
    if progress is None:
        return 0
    over = [each for each in dict.fromkeys(progress.lessons_done) if each != progress.lesson]
    lessons = (plan.lesson_by_id[each] for each in over if each in listed and each in plan.lesson_by_id)
    now = progress.part - 1 + len(progress.done_ahead) if progress.lesson in listed else 0
    if progress.lesson in plan.lesson_by_id:
        now = min(now, len(plan.lesson_by_id[progress.lesson].parts))
    return sum(len(lesson.parts) for lesson in lessons) + now


def _parts_in_all(plan: Plan, class_: SchoolClass) -> int:
    listed = dict.fromkeys(plan.teaching.get(class_.grade, ()))
    return sum(len(plan.lesson_by_id[each].parts) for each in listed if each in plan.lesson_by_id)


def _missed_much(now: State) -> Iterator[Missed]:
    """Children by number who are owed several parts, the most first; a piece that broke was not missed."""
    found: list[Missed] = []
    for class_id, owed in now.owed.items():
        parts = {(number, each.lesson, each.part) for each in owed if not each.broken for number in each.numbers}
        counted = Counter(number for number, _, _ in parts)
        found += [Missed(class_id, number, count) for number, count in counted.items() if count >= MISSED_MUCH]
    yield from sorted(found, key=lambda each: (-each.parts, each.class_id, each.number))
