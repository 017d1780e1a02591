"""How many minutes of packing and preparing are left, and when to leave the store."""

from __future__ import annotations

from collections.abc import Collection
from math import ceil

from msgspec import Struct

from checklists.daybook.fetching import to_fetch
from checklists.daybook.line_states import is_open, is_settled, left_to_take
from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Task
from checklists.words import clock, plural


class LeaveBy(Struct, frozen=True):
    """The minute of the day by which to set out: with what is left ahead before school, or with the cart."""

    minute: int
    is_ahead: bool = False
    is_locked: bool = False
    """The store is not open by then: the first visit needs nothing from it, or is over before."""

    @property
    def words(self) -> str:
        """ "Leave ahead by 7:46", "Leave the store by 7:52"."""
        if self.is_locked:
            return f"Leave by {clock(self.minute)}, while the store is locked"
        return f"Leave {'ahead' if self.is_ahead else 'the store'} by {clock(self.minute)}"


def packing_minutes_left(day: Day, marks: Marks, minutes_a_line: float, later: Collection[str] = frozenset()) -> float:
    """Minutes that the open lines, what is to be taken out, and the open tasks for today's own visits still take.

    What is in the containers ``later`` is left out: they wait at the store when she leaves.
    """
    lines = sum(is_open(line, marks) for line in day.lines if line.container not in later)
    lines += sum(left_to_take(each, marks) > 0 for each in day.take_out if each.container not in later)
    return lines * minutes_a_line + sum(task.minutes for task in _open_tasks(day, marks) if task.for_date == day.date)


def preparation_minutes_left(day: Day, marks: Marks) -> int:
    """Minutes of preparation for later days that is due and open."""
    return sum(task.minutes for task in _open_tasks(day, marks) if task.for_date != day.date)


def leave_by_now(day: Day, marks: Marks, ahead: int = 0, waits: Collection[str] = ()) -> int | None:
    """Minute of the day by which to leave the store, with what is still to be fetched; None without visits.

    ``ahead`` are the minutes that leaving ahead still takes before: then it is the time to set out with that. What is
    fetched at a later stop, the containers in ``waits``, is no matter of the morning.
    """
    if day.leave_by is None:
        return None
    rooms = {each.place for each in to_fetch(day, marks) if each.container not in waits}
    minute = day.leave_by - ahead - sum(day.fetch_minutes.get(room, 0) for room in rooms)
    return max(minute, day.store_opens) if day.leave_by >= day.store_opens else minute


def minutes_until(day: Day, leave_by: int, minute: int) -> int:
    """Minutes at the store from ``minute`` until she leaves it, negative when late: before it opens there are none."""
    return leave_by - max(minute, day.store_opens) if leave_by >= day.store_opens else leave_by - minute


def say_too_short(day: Day, marks: Marks, leave_by: LeaveBy | None, packing: float) -> str:
    """What is said where a store that is locked till then leaves too little time for packing; empty: it is enough.

    ``packing`` are the minutes that packing what goes first still takes.
    """
    if leave_by is None or not day.store_opens or marks.left is not None or leave_by.minute < day.store_opens:
        return ""
    there = leave_by.minute - day.store_opens
    if packing <= there:
        return ""
    when = f"{plural(there, 'minute')} before you leave" if there else "when you leave"
    return (
        f"The store opens at {clock(day.store_opens)}, {when}: packing takes about {plural(ceil(packing), 'minute')}."
    )


def _open_tasks(day: Day, marks: Marks) -> list[Task]:
    return [task for task in day.tasks if task.due <= day.date and not is_settled(task.key, marks)]
