"""Read the values behind the options of a changed day: each raises ValueError in words for a teacher."""

from __future__ import annotations

import re
from datetime import date
from typing import get_args

from checklists.commandline.values import read_minute, read_number, read_one_of, read_said_of, read_yes
from checklists.daybook.entries import Fill
from checklists.plan.records import DayOff
from checklists.walks import MOST_MINUTES_MORE
from checklists.words import clock, minute_of

FILLS: tuple[str, ...] = get_args(Fill)
OWN = "own"
USUAL = "usual"
"""Instead of a lesson, a room or a class: the class's own again."""
NEXT = "next"
"""Instead of the number of a part: the class's next one again."""
UNINTERRUPTED = ("", "", "")
_GRADES = re.compile(r"(pk|k|[1-8])(-(pk|k|[1-8]))?")
_FROM_TO = re.compile(r"((?:[01]?\d|2[0-3]):[0-5]\d)\s*(?:-|–|to)\s*((?:[01]?\d|2[0-3]):[0-5]\d)")
NOBODY = ("", "", 0)
"""Nobody joins another class."""


_DAYS_OFF = re.compile(r"^(\d{4}-\d\d-\d\d)(?: ?\.\. ?(\d{4}-\d\d-\d\d))?(?:[= ]+(\S.{0,399}))?$")


def read_days_off(text: str) -> DayOff:
    """ "2027-11-25..2027-11-26=Thanksgiving": with the days in between. The last and the reason may be left out."""
    found = _DAYS_OFF.match(text.strip())
    try:
        if found is not None:
            last = date.fromisoformat(found[2]) if found[2] else None
            return DayOff(date.fromisoformat(found[1]), last, (found[3] or "").strip())
    except ValueError:
        pass
    raise ValueError("is no day off; write it like 2027-11-25..2027-11-26=Thanksgiving, or 2027-09-06")


def read_guests(text: str) -> tuple[str, str, int]:
    """ "3-B:3-K=2": two of 3-B join 3-K; ``NOBODY`` for "none"."""
    if text.casefold() in ("none", "nobody"):
        return NOBODY
    classes, _, count = text.rpartition("=")
    of, _, join = classes.partition(":")
    try:
        if of.strip() and join.strip() and read_number(count):
            return of.strip(), join.strip(), read_number(count)
    except ValueError:
        pass
    raise ValueError("does not say how many of which class join which; write it like 3-B:3-K=2, or none")


def read_class_and_count(text: str) -> tuple[str, int]:
    """ "3-K=27": so many of 3-K."""
    return read_said_of(text, read_number, "does not say how many in which class; write it like 3-K=27")


def read_lesson_of_visit(text: str) -> tuple[str, str]:
    """ "V5=leaf-rubbings": that lesson in that visit; "V5=own" for the class's own part."""
    visit, _, lesson = text.partition("=")
    if not visit.strip() or not lesson.strip():
        raise ValueError("does not say which lesson in which visit; write it like V5=leaf-rubbings, or V5=own")
    return visit.strip(), lesson.strip()


def read_part_of_visit(text: str) -> tuple[str, int]:
    """ "V3=3": part 3 in that visit; "V3=next" for the class's next part again, read as 0."""

    def read(part: str) -> int:
        if part.casefold() == NEXT:
            return 0
        number = read_number(part)
        if not 1 <= number <= 40:
            raise ValueError
        return number

    return read_said_of(text, read, "does not say which part in which visit; write it like V3=3, or V3=next")


def read_room_of_visit(text: str) -> tuple[str, str]:
    """ "V3=library": the visit is in that room; "V3=own" for the class's own."""
    visit, _, room = text.partition("=")
    if not visit.strip() or not room.strip():
        raise ValueError("does not say which visit is in which room; write it like V3=library, or V3=own")
    return visit.strip(), room.strip()


def read_join(text: str) -> tuple[str, str]:
    """ "3-B:3-K": 3-B is taught together with 3-K; "3-B:own" by itself again."""
    class_, _, host = text.partition(":")
    if not class_.strip() or not host.strip():
        raise ValueError("does not say which class is taught with which; write it like 3-B:3-K, or 3-B:own")
    return class_.strip(), host.strip()


def read_interruption(text: str) -> tuple[str, str, str]:
    """ "9:30-10:30=assembly": no class is taught in that time; ``UNINTERRUPTED`` for "none"."""
    if text.casefold().strip() == "none":
        return UNINTERRUPTED
    times, _, why = text.partition("=")
    found = _FROM_TO.fullmatch(times.strip())
    if found is None:
        raise ValueError("does not say from when to when; write it like 9:30-10:30=assembly, or none")
    if minute_of(found[1]) >= minute_of(found[2]):
        raise ValueError(f"ends before it begins; write it like {found[2]}-{found[1]}")
    return found[1], found[2], why.strip()


def read_opening(text: str) -> str:
    """When the store opens, "7:55"; "usual": whenever she comes. Raises ValueError."""
    return "" if text.casefold() == USUAL else clock(read_minute(text))


def read_longer_way(text: str) -> tuple[str, int]:
    """ "B=2": two minutes more to and from wing B; "12=0": to Room 12 as usual; "0": every way as usual."""
    if text.strip() == "0":
        return "", 0

    def read(minutes: str) -> int:
        number = read_number(minutes)
        if number > MOST_MINUTES_MORE:
            raise ValueError
        return number

    how_many = f"how many minutes more (0 to {MOST_MINUTES_MORE}) to where"
    return read_said_of(text, read, f"does not say {how_many}; write it like B=2 or 12=3, or 0")


def read_half(text: str) -> tuple[str, bool]:
    """ "V4=yes": half of its part is taught, the rest at the next visit."""
    return read_said_of(text, read_yes, "does not say whether half of it is taught; write it like V4=yes")


def read_rooms(text: str) -> tuple[str, ...]:
    """ "12,21", "everywhere", or "none"."""
    words = [each.strip() for each in text.split(",") if each.strip()]
    if not words:
        raise ValueError("names no room; write it like 12,21, or everywhere, or none")
    return () if [each.casefold() for each in words] == ["none"] else tuple(words)


def read_grades(text: str) -> tuple[str, ...]:
    """ "3-5", "K,1"."""
    words = tuple(each.strip() for each in text.split(",") if each.strip())
    if not words or not all(_GRADES.fullmatch(each.casefold()) for each in words):
        raise ValueError("names no grades; write them like 3-5 or K,1")
    return tuple(each.casefold() for each in words)


def read_periods(text: str) -> tuple[str, ...]:
    """ "P1-P3", "P1,P4"."""
    words = tuple(each.strip() for each in text.split(",") if each.strip())
    if not words:
        raise ValueError("names no period; write them like P1-P3 or P1,P4")
    return words


def read_walk_more(text: str) -> int:
    number = read_number(text)
    if number > 30:
        raise ValueError("are more minutes than a walk takes; write 0 to 30")
    return number


def read_fill(text: str) -> str:
    return read_one_of(text, FILLS)
