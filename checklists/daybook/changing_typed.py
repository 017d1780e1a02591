"""What she types about a changed day, read: times of an interruption, grades that are tested, how many come."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

from checklists.daybook.changing import Topic, not_taught_from, way_example
from checklists.daybook.entries import AnyEntry, Changed, Interruption, Testing
from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan, grade_number
from checklists.taught_periods import bells_on
from checklists.walks import MOST_MINUTES_MORE, way_named, wings_of
from checklists.words import clock, join_words, minute_of

_TIME = re.compile(r"^(\d{1,2})[:.]?(\d{2})$")
_GRADES = re.compile(r"^(pk|k|[1-8])(?:-(pk|k|[1-8]))?$")
_WALK_MORE = re.compile(r"^w([1-9]|[12]\d)$")
MOST_CHILDREN = 400
FARTHEST = 62
"""Days within which a day of the month is looked for."""


def entries_typed(
    topic: Topic, text: str, plan: Plan, day: Day, marks: Marks, at: datetime, visit: Visit | None = None
) -> tuple[AnyEntry, ...] | str:
    """The entries for a typed text, or what is wrong with it, in words."""
    said = " ".join(text.split()).casefold()
    found: AnyEntry | str = "There is nothing to type here."
    match topic.typed:
        case "times":
            found = _interruption(said, marks.changes, at)
        case "testing":
            found = _testing(said, plan, day, marks.changes, at)
        case "children" if visit is not None:
            found = _children(said, visit, at)
        case "opening":
            found = _opening(said, at)
        case "longer way":
            found = _longer_way(said, plan, day, at)
        case "gone":
            return _gone(said, day, marks, at)
    return found if isinstance(found, str) else (found,)


def _opening(said: str, at: datetime) -> AnyEntry | str:
    minute = _minute(said)
    return "Type from when on it is open, as 755." if minute is None else Changed(at=at, store_opens=clock(minute))


def _gone(said: str, day: Day, marks: Marks, at: datetime) -> tuple[AnyEntry, ...] | str:
    minute = _minute(said)
    if minute is None:
        return "Type when you went home, as 1130."
    left = not_taught_from(day, marks, at, minute)
    return left or f"No visit begins at {clock(minute)} or later that nobody has told of."


def _longer_way(said: str, plan: Plan, day: Day, at: datetime) -> AnyEntry | str:
    """A room or a wing, then minutes; 0 for as usual."""
    where, _, minutes = said.replace("+", " ").rpartition(" ")
    where = where.strip()
    if not where or not minutes.isdecimal() or not minutes.isascii():
        return f"Type where, and how many minutes more, as {way_example(plan, day)}."
    place = way_named(plan, where)
    if place is None:
        wings = wings_of(plan)
        there = f"the wings are {join_words(wings)}" if wings else "no room says its wing in school.toml"
        return f'"{where}" is no room or wing; {there}.'
    if int(minutes) > MOST_MINUTES_MORE:
        return f"{int(minutes)} min more are too many: 0 to {MOST_MINUTES_MORE}."
    return Changed(at=at, longer_ways={place: int(minutes)})


def _interruption(said: str, changes: Changed | None, at: datetime) -> AnyEntry | str:
    first, _, rest = said.replace("-", " ").partition(" ")
    second, _, why = rest.strip().partition(" ")
    start, end = _minute(first), _minute(second)
    if start is None or end is None:
        return "Type from when to when, as 930 1030."
    if end <= start:
        return f"It would end at {clock(end)}, before it begins at {clock(start)}."
    there = tuple(changes.interruptions or ()) if changes is not None else ()
    more = Interruption(clock(start), clock(end), why or "assembly")
    return Changed(at=at, interruptions=(*there, more))


def _minute(text: str) -> int | None:
    found = _TIME.match(text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        return None
    return minute_of(f"{int(found[1])}:{found[2]}")


def _children(said: str, visit: Visit, at: datetime) -> AnyEntry | str:
    if not said.isdecimal() or not said.isascii() or int(said) > MOST_CHILDREN:
        return f"Type how many of {visit.class_id} come, as 25."
    return Changed(at=at, students={visit.class_id: int(said)})


def _testing(said: str, plan: Plan, day: Day, changes: Changed | None, at: datetime) -> AnyEntry | str:
    """Grades, periods, the last day (of the month, or a whole date), w2 where walks take longer; or off."""
    grades: tuple[str, ...] = ()
    periods: list[str] = []
    last: date | None = None
    more = 0
    names = [period.name for period in bells_on(plan, changes).periods]
    if said == "off":
        return Testing(at=at, grades=(), first=day.date, last=plan.school.last_day)
    for word in said.replace(",", " ").split():
        if not grades and _GRADES.match(word):
            grades = grades_between(word)
        elif (between := periods_between(word, names)) is not None:
            periods += between
        elif (longer := _WALK_MORE.match(word)) is not None:
            more = int(longer[1])
        elif (found := _day_of(word, day.date)) is not None:
            last = found
        else:
            return f'"{word}" is no grade, period or day. Type {topic_example(day)}.'
    taught = [grade for grade in grades if any(each.grade == grade for each in plan.classes)]
    if not taught:
        return f"Type which grades are tested, as {topic_example(day)}."
    return Testing(
        at=at,
        grades=tuple(taught),
        first=day.date,
        last=last or day.date,
        periods=tuple(dict.fromkeys(periods)),
        walk_more=more,
    )


def topic_example(day: Day) -> str:
    """How it is typed, with a day that comes."""
    return f"3-5 p1-p3 {(day.date + timedelta(4)).day}"


def grades_between(word: str) -> tuple[str, ...]:
    first, _, last = word.upper().partition("-")
    every = ("PK", "K", *(str(n) for n in range(1, 9)))
    low, high = grade_number(first), grade_number(last or first)
    return tuple(each for each in every if low <= grade_number(each) <= high)


def periods_between(word: str, names: list[str]) -> list[str] | None:
    """ "p1-p3" or "p2", by the names of the bells; None where it is no such thing."""
    folded = [name.casefold() for name in names]
    first, _, last = word.partition("-")
    last = last or first
    if first in folded and last not in folded and f"{first[0]}{last}" in folded:
        last = f"{first[0]}{last}"  # "p1-3"
    if first not in folded or last not in folded:
        return None
    low, high = folded.index(first), folded.index(last)
    return names[low : high + 1] if low <= high else None


def _day_of(word: str, start: date) -> date | None:
    if word.isdecimal() and word.isascii() and 1 <= int(word) <= 31:
        days = (start + timedelta(n) for n in range(FARTHEST))
        return next((each for each in days if each.day == int(word)), None)
    try:
        found = date.fromisoformat(word)
    except ValueError:
        return None
    return found if found >= start else None
