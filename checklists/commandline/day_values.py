"""Read the values behind the options of a changed day: each raises ValueError in words for a teacher."""

from __future__ import annotations

import re
from datetime import date
from typing import get_args

from checklists.commandline.values import read_number, read_one_of, read_said_of
from checklists.daybook.entries import Fill
from checklists.plan.records import DayOff

FILLS: tuple[str, ...] = get_args(Fill)
OWN = "own"
"""Instead of a lesson: the class's own part again."""
NEXT = "next"
"""Instead of the number of a part: the class's next one again."""
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


def read_fill(text: str) -> str:
    return read_one_of(text, FILLS)
