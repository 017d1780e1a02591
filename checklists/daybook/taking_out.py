"""Taking things out of a container: what no coming visit needs, and what must not come along."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from checklists.daybook.entries import AnyEntry, LetGo, NotNeeded, Reason, TakenOut
from checklists.daybook.line_states import has_now, left_to_take, stands_in
from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Line, TakeOut

Held = Mapping[str, Mapping[str, int]]
"""Container -> supply -> how many were in it when the day opened: the ``contents`` of its opening."""


def say_take_out(take_out: TakeOut, count: int | None = None) -> str:
    """ "take out 38 yarn balls → shelf Y1"."""
    shelf = f" → shelf {take_out.shelf}" if take_out.shelf else ""
    return f"take out {take_out.count if count is None else count} {take_out.name}{shelf}"


def held_now(container: str, supply: str, day: Day, marks: Marks, held: Held) -> int:
    """How many of a supply are in a container now, as far as known."""
    lines = [line for line in day.lines if (line.container, line.supply) == (container, supply)]
    lines = [line for line in lines if not line.catch_up_for]
    if lines:
        return sum(has_now(line, marks) for line in lines)  # several where it is in pails
    return marks.contents.get((container, supply), held.get(container, {}).get(supply, 0))


def taken_out(
    take_out: TakeOut, day: Day, marks: Marks, held: Held, at: datetime, count: int | None = None
) -> TakenOut:
    """The entry that says what is still to be taken out, or ``count`` of it, is back on the shelf."""
    number = left_to_take(take_out, marks) if count is None else count
    inside = held_now(take_out.container, take_out.supply, day, marks, held)
    left = max(0, inside - number)
    return TakenOut(at=at, container=take_out.container, supply=take_out.supply, count=number, left=left)


def left_in(take_out: TakeOut, at: datetime, reason: str) -> LetGo:
    """The entry that says it may stay in there."""
    return LetGo(at=at, matter=take_out.key, reason=reason)


def not_along(line: Line, marks: Marks, at: datetime, reason: Reason = "other") -> tuple[AnyEntry, ...]:
    """A line is off the list; of what must not come along all that is in the container is taken out as well."""
    off = NotNeeded(at=at, line=line.key, reason=reason)
    has = has_now(line, marks)
    if not line.forbidden or not has:
        return (off,)
    return TakenOut(at=at, container=stands_in(line), supply=line.supply, count=has, left=0), off
