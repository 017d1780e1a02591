"""The plan of the next school year from this one's: classes, rooms and the timetable stay, the children move up.

The class of a grade gets the children of the class one grade below with the same letter: how many they are, their
needs, what they avoid. At which tables they sit is not known in the new room, and class-list numbers begin anew, so
that nobody has left yet. Tables, adults and what the room has stay with the room.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from msgspec import Struct, structs

from checklists.plan.records import Classes, DayOff, Grade, School, SchoolClass, grade_number
from checklists.plan.usual_sizes import usual_size
from checklists.words import say_full_date

LONGEST_YEAR, SHORTEST_YEAR = 400, 60
"""Days from the first to the last between which a school year lies: outside of them a date was mistyped."""
A_YEAR = timedelta(weeks=52)
"""From a date to the one proposed a year later: the same weekday."""


class CannotBegin(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """A year that cannot be; the message says why, and what can be."""


class Move(Struct, frozen=True):
    """Whose children a class has in the next year; ``of`` is empty where there is no class below it."""

    class_id: str
    room: str
    of: str
    students: int | str
    wanted: str = ""
    """Where there is no class below it though its grade is not the lowest: the class that would be it."""


class NextYear(Struct, frozen=True):
    """The next school year as it would be."""

    school: School
    classes: Classes
    moves: tuple[Move, ...]
    finished: tuple[str, ...]
    """Classes of the highest grade: their children leave the school."""
    unplaced: tuple[str, ...]
    """Classes whose children would move into a class that is not in the plan."""


def next_year(school: School, classes: Classes, first: date, last: date, days_off: Iterable[DayOff]) -> NextYear:
    """The year from ``first`` to ``last``. Raises CannotBegin where that cannot be a school year after this one."""
    off = tuple(sorted(days_off, key=lambda each: each.first))
    _refuse_what_cannot_be(school, first, last, off)
    used = tuple(each for each in classes.classes if not each.archived)
    by_id = {each.id: each for each in used}
    lowest = min((grade_number(each.grade) for each in used), default=0)
    highest = max((grade_number(each.grade) for each in used), default=0)
    moves: list[Move] = []
    moved: list[SchoolClass] = []
    for each in classes.classes:
        if each.archived:
            moved.append(each)
            continue
        wanted = _id_below(each)
        below = by_id.get(wanted) if wanted else None
        now = _with_children_of(each, below)
        moved.append(now)
        missing = wanted if below is None and grade_number(each.grade) > lowest else ""
        moves.append(Move(each.id, each.room, below.id if below is not None else "", now.students, missing))
    gone_up = {move.of for move in moves}
    finished = tuple(each.id for each in used if grade_number(each.grade) == highest)
    return NextYear(
        school=structs.replace(school, first_day=first, last_day=last, days_off=off),
        classes=structs.replace(classes, classes=tuple(moved)),
        moves=tuple(moves),
        finished=finished,
        unplaced=tuple(each.id for each in used if each.id not in gone_up and each.id not in finished),
    )


def a_year_later(days_off: Iterable[DayOff]) -> tuple[DayOff, ...]:
    """Days off 52 weeks on, to be held against the school's calendar."""
    return tuple(
        structs.replace(each, first=each.first + A_YEAR, last=each.last + A_YEAR if each.last is not None else None)
        for each in days_off
    )


def _refuse_what_cannot_be(school: School, first: date, last: date, days_off: tuple[DayOff, ...]) -> None:
    if first <= school.last_day:
        raise CannotBegin(
            f"{say_full_date(first)} is not after this year's last day, {say_full_date(school.last_day)}."
            " Give the first day of the next school year."
        )
    length = (last - first).days + 1
    if not SHORTEST_YEAR <= length <= LONGEST_YEAR:
        raise CannotBegin(
            f"From {say_full_date(first)} to {say_full_date(last)} is no school year. Look at both dates."
        )
    for each in days_off:
        end = each.last or each.first
        if end < each.first:
            raise CannotBegin(f"The day off {each.reason or say_full_date(each.first)} ends before it begins.")
        if end < first or each.first > last:
            what = f"The day off {each.reason} {say_full_date(each.first)}".replace("  ", " ")
            raise CannotBegin(f"{what} is not within the school year.")


def _with_children_of(class_: SchoolClass, below: SchoolClass | None) -> SchoolClass:
    if below is None:
        size = usual_size(class_.grade)
        return structs.replace(class_, students=size, needs=(), avoid=(), left=())
    needs = tuple(structs.replace(each, tables=()) for each in below.needs)
    return structs.replace(class_, students=below.students, needs=needs, avoid=below.avoid, left=())


def _id_below(class_: SchoolClass) -> str:
    """The id of the class one grade below with the same letter: "2-B" for 3-B; empty where there can be none."""
    grade = _grade_below(class_.grade)
    if not grade or not class_.id.startswith(class_.grade):
        return ""
    return grade + class_.id.removeprefix(class_.grade)


def _grade_below(grade: Grade) -> str:
    number = grade_number(grade) - 1
    return {-2: "", -1: "PK", 0: "K"}.get(number, str(number))
