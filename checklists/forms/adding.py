"""A new thing for a list of the plan: what must be said of it, what is suggested, and the record that comes of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from msgspec import structs

from checklists.forms.fields import Field, field_of, words_of_record
from checklists.forms.places import Place, value_at
from checklists.plan.new_ids import new_id
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import (
    Bells,
    Break,
    Building,
    DayOff,
    Kit,
    Lesson,
    Part,
    Period,
    Supply,
)
from checklists.plan.usual_sizes import usual_size
from checklists.rules.read import builtin_supplies
from checklists.typed.class_names import name_class
from checklists.words import clock, minute_of

USUAL_PERIOD, USUAL_GAP = 45, 5
"""Minutes of a period, and between two; common practice, no source."""
_WHEN: dict[type, Callable[[Any], Any]] = {
    DayOff: lambda it: it.first,
    Period: lambda it: minute_of(it.start),
    Break: lambda it: minute_of(it.start),
}


def asked_of_new(record_type: type) -> tuple[Field, ...]:
    """What must be said of a new one, in order."""
    return tuple(field_of(record_type, name) for name in words_of_record(record_type).ask)


def suggested(files: PlanFiles, place: Place, field: Field, said: Mapping[str, Any]) -> Any:
    """What Enter alone takes for a field of a new entry of the list at ``place``; None: it must be said."""
    if field.name == "grade" and isinstance(said.get("id"), str):
        return name_class(said["id"]).grade or None
    if field.name == "students":
        return usual_size(str(said.get("grade")))
    if field.name in ("start", "end"):
        return _suggested_time(value_at(files, place), field.name, said)
    if field.name == "name" and place[-1] == "periods":
        return _next_period(value_at(files, place))
    return field.default if field.default not in ("", None, ()) else "" if field.default == "" else None


def new_record(files: PlanFiles, record_type: type, said: Mapping[str, Any]) -> Any:
    """The record, with an id where it needs one."""
    if record_type is Supply:
        taken = [each.id for each in (*files.supplies, *builtin_supplies())]
        return Supply(id=new_id(said["name"], taken, "supply"), **said)
    if record_type is Kit:
        return Kit(id=new_id(said["name"], [each.id for each in files.kits.kits], "kit"), **said)
    if record_type is Lesson:
        taken = [each.id for each in files.lessons]
        return Lesson(id=new_id(said["title"], taken, "lesson"), parts=(Part(title="part 1"),), **said)
    if record_type is Bells:
        return structs.replace(files.school.bells[0], id=said["id"])
    if record_type is Building:
        return Building(rooms=(), **said)
    return record_type(**said)


def position_of_new(entries: tuple[Any, ...], record: Any) -> int:
    """Where a new one stands: what has a time in the order of time, the rest behind the others."""
    key = _WHEN.get(type(record))
    if key is None:
        return len(entries)
    return next((at for at, each in enumerate(entries) if key(each) > key(record)), len(entries))


def _suggested_time(entries: tuple[Period | Break, ...], field: str, said: Mapping[str, Any]) -> str | None:
    if field == "end":
        return clock(minute_of(said["start"]) + USUAL_PERIOD)
    last = max((minute_of(each.end) for each in entries), default=None)
    return None if last is None else clock(last + USUAL_GAP)


def _next_period(periods: tuple[Period, ...]) -> str:
    names = {each.name for each in periods}
    return next(name for number in range(1, 100) if (name := f"P{number}") not in names)
