"""Another value in a field of the plan, and what has to go along with it."""

from __future__ import annotations

from typing import Any

from msgspec import structs

from checklists.forms.places import Place, put, value_at
from checklists.plan.check import WEEKDAYS
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Rotation

_LETTERS = "ABCDEFGHIJ"


def changed(files: PlanFiles, place: Place, value: Any) -> PlanFiles:
    """The files with another value in the field at a place.

    A timetable goes along with its days: where they are called otherwise, or go by weekdays now, what was said of the
    first day holds for the first one. Visits of days that are no more fall out.
    """
    before = value_at(files, place[:-1])
    files = put(files, place, value)
    if not isinstance(before, Rotation):
        return files
    after = _whole(value_at(files, place[:-1]), before)
    days = dict(zip(_days(before), _days(after), strict=False))
    timetable = {days[day]: periods for day, periods in files.classes.timetable.items() if day in days}
    files = put(files, place[:-1], after)
    return structs.replace(files, classes=structs.replace(files.classes, timetable=timetable))


def _whole(rotation: Rotation, before: Rotation) -> Rotation:
    """A rotation that fits in itself: by weekday there are no days to name, and a cycle has some."""
    if rotation.kind == "weekdays":
        return structs.replace(rotation, days=())
    if not rotation.days:
        return structs.replace(rotation, days=tuple(_LETTERS[: len(_days(before))]))
    return rotation


def _days(rotation: Rotation) -> tuple[str, ...]:
    return WEEKDAYS if rotation.kind == "weekdays" else rotation.days
