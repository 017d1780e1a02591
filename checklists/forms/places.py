"""A place within the plan files, and the files with something else there. One way for every record, list and table.

A place is a path from ``PlanFiles`` on: names of fields, the name of a thing in a list of named things ("3-B" among the
classes, so that it stays the same thing when others come or go), else its position, and the key in a table.
"""

from __future__ import annotations

from typing import Any, TypeVar, cast

from msgspec import Struct, structs

from checklists.plan import naming
from checklists.plan.records import Bells, Box, Kit, Lesson, Period, Room, SchoolClass, Supply

T = TypeVar("T")
Step = str | int
Place = tuple[Step, ...]

_OWN: dict[type, tuple[str, str]] = {
    Bells: ("id", naming.BELLS),
    Room: ("id", naming.ROOM),
    SchoolClass: ("id", naming.CLASS),
    Supply: ("id", naming.SUPPLY),
    Kit: ("id", naming.KIT),
    Lesson: ("id", naming.LESSON),
    Box: ("grade", naming.GRADE),
    Period: ("name", naming.PERIOD),
}
"""Things that are told from others of their list by a name: the field it stands in, and the kind of thing it names."""


class Gone(LookupError):  # noqa: N818 - read as a sentence where it is caught
    """Nothing is at this place any more."""


def own_name(record: Any) -> str | None:
    """What tells a thing from others of its list; None where only its position does."""
    found = _OWN.get(type(record))
    return None if found is None else str(getattr(record, found[0]))


def kind_of(record: Any) -> str | None:
    """Which kind of thing that name names, by the words of ``plan.naming``."""
    found = _OWN.get(type(record))
    return None if found is None else found[1]


def kind_of_type(record_type: type) -> str | None:
    """The same, of a record that is not made yet."""
    found = _OWN.get(record_type)
    return None if found is None else found[1]


def step_to(record: Any, position: int) -> Step:
    """The step that leads to an entry of a list."""
    return own_name(record) or position


def value_at(root: Any, place: Place) -> Any:
    """What stands at a place. Raises Gone."""
    for step in place:
        root = _inside(root, step)
    return root


def put(root: T, place: Place, value: Any) -> T:
    """The same with ``value`` at a place. Raises Gone."""
    if not place:
        return cast(T, value)
    step, rest = place[0], place[1:]
    return cast(T, _with(root, step, put(_inside(root, step) if rest else None, rest, value)))


def taken_out(root: T, place: Place) -> T:
    """The same without the entry of a list or table that stands at a place. Raises Gone."""
    entries, step = value_at(root, place[:-1]), place[-1]
    if isinstance(entries, dict):
        if step not in entries:
            raise Gone
        return put(root, place[:-1], {key: each for key, each in entries.items() if key != step})
    position = position_of(entries, step)
    return put(root, place[:-1], (*entries[:position], *entries[position + 1 :]))


def put_in(root: T, place: Place, value: Any, position: int | None = None) -> T:
    """The same with one more entry in the list at a place, at its end or at a position."""
    entries = value_at(root, place)
    at = len(entries) if position is None else position
    return put(root, place, (*entries[:at], value, *entries[at:]))


def moved(root: T, place: Place, to: int) -> T:
    """The same with the entry of a list or table at a place moved to a position among the others."""
    entries, step = value_at(root, place[:-1]), place[-1]
    if isinstance(entries, dict):
        keys = [key for key in entries if key != step]
        keys.insert(to, str(step))
        return put(root, place[:-1], {key: entries[key] for key in keys})
    position = position_of(entries, step)
    others = [*entries[:position], *entries[position + 1 :]]
    others.insert(to, entries[position])
    return put(root, place[:-1], tuple(others))


def position_of(entries: tuple[Any, ...], step: Step) -> int:
    """Where in a list a step leads. Raises Gone."""
    if isinstance(step, int):
        if not 0 <= step < len(entries):
            raise Gone
        return step
    for position, each in enumerate(entries):
        if own_name(each) == step:
            return position
    raise Gone


def _inside(value: Any, step: Step) -> Any:
    if isinstance(value, Struct) and isinstance(step, str):
        return getattr(value, step)
    if isinstance(value, dict):
        if step not in value:
            raise Gone
        return value[step]
    if isinstance(value, tuple):
        return value[position_of(value, step)]
    raise Gone


def _with(value: Any, step: Step, inner: Any) -> Any:
    if isinstance(value, Struct) and isinstance(step, str):
        return structs.replace(value, **{step: inner})
    if isinstance(value, dict):
        return {**value, step: inner}
    if isinstance(value, tuple):
        position = position_of(value, step)
        return (*value[:position], inner, *value[position + 1 :])
    raise Gone
