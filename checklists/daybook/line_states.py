"""Where each line of a day stands by what was said of it, and what it still asks of hands; which matters are over."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from checklists.daybook import entries as book
from checklists.daybook.loans import Move, moved, moves_of
from checklists.daybook.marks import AT_STORE, Marks, late_key, place_of_line
from checklists.daybook.state import Carried
from checklists.lines.containers import catch_up_kit_of
from checklists.lines.pails import in_pail
from checklists.lines.records import Day, Line, Matter, TakeOut, Visit

LineState = Literal["open", "part packed", "packed", "met", "short", "not needed", "forbidden"]
"""``met``: the container holds enough, the line asks only to be seen. ``forbidden`` blocks until it is taken out."""


def has_now(line: Line, marks: Marks) -> int:
    """How many are in the container now: what she said, else what it held when the day opened; less what was lent."""
    said = _last_said(line, marks)
    return max(0, said + _lent_since(line, marks)) if marks.loans else said


def lendings(line: Line, marks: Marks) -> tuple[Move, ...]:
    """What lending and giving back moved of a line's supply, of what was said since the day opened."""
    mine = [each for each in marks.loans if each.supply == line.supply]
    return moves_of(mine, dict(line.loans)) if mine and not line.pail and not line.catch_up_for else ()


def _lent_since(line: Line, marks: Marks) -> int:
    """How many came back since she last said how many are in the container, less what was lent."""
    return moved(lendings(line, marks), line.container, line.supply, after=told_at(line.key, marks))


def told_at(line: str, marks: Marks) -> datetime | None:
    """When she last said how many are in a container of a line's supply; None where she did not on this day."""
    mark = marks.lines.get(line)
    if mark is not None and mark.count is not None:
        return mark.count_at
    of_kit = [
        each.count_at
        for key, each in marks.lines.items()
        if "/".join(place_of_line(key)) == line and each.count is not None
    ]
    if of_kit:
        return max(of_kit)
    pails = [each.at for key, each in marks.lines.items() if key.startswith(f"{line}/pail ")]
    container, _, supply = line.partition("/")
    return max(pails, default=marks.contents_at.get((container, supply)))


def _last_said(line: Line, marks: Marks) -> int:
    mark = marks.lines.get(line.key)
    if mark is not None and mark.count is not None:
        return mark.count
    held = marks.contents.get((stands_in(line), line.supply)) if marks.contents else None
    if held is None:
        return _in_pails_before(line, marks) if f"{line.key}/pail 1" in marks.lines else line.in_it
    return in_pail(held, line.before_pail, line.need + line.ahead, line.is_last_pail) if line.pail else held


def _in_pails_before(line: Line, marks: Marks) -> int:
    """How many were packed in pails, of a line that was in several and needs them no longer."""
    return sum(pail.count or 0 for key, pail in marks.lines.items() if key.startswith(f"{line.key}/pail "))


def stands_in(line: Line) -> str:
    """Under which container its contents are kept: a catch-up kit has its own."""
    return catch_up_kit_of(line.catch_up_for) if line.catch_up_for else line.container


def state_of(line: Line, marks: Marks) -> LineState:
    """Where a line stands. It is packed only while its need is met, so a need that grows opens it again.

    What is forbidden stays so, whatever was said of it before, until it is off the list and none of it is in there.
    """
    mark = marks.lines.get(line.key)
    is_off = mark is not None and bool(mark.reason)
    if line.forbidden and (not is_off or has_now(line, marks)):
        return "forbidden"
    if is_off:
        return "not needed"
    if mark is None:
        must_be_seen = bool(line.need) and (line.critical or line.counted)
        return "open" if must_be_seen or has_now(line, marks) < line.need else "met"
    if mark.remedy:
        return "short"
    count = has_now(line, marks)
    if count >= line.need:
        return "packed"
    return "part packed" if count > 0 else "open"


def is_critical(line: Line) -> bool:
    """Whether the lesson cannot start or is unsafe while the line is open. What must not come along always is."""
    return line.critical or bool(line.forbidden)


def is_to_fill(line: Line, marks: Marks) -> bool:
    """Whether today has enough of it and only later visits, which the container is filled for, need more."""
    is_less = has_now(line, marks) < line.need + line.ahead
    return is_less and bool(line.ahead) and state_of(line, marks) in ("packed", "met")


def is_open(line: Line, marks: Marks) -> bool:
    """Whether the line still asks for hands before she leaves."""
    return state_of(line, marks) in ("open", "part packed", "forbidden")


def is_settled(key: str, marks: Marks) -> bool:
    """Whether a task, a check or a carried matter was seen to, dropped or put off on purpose."""
    return key in marks.seen_to or key in marks.let_go or key in marks.carried_over


def goes_without_a_look(line: Line, marks: Marks) -> bool:
    """Whether one key for a whole container may tick it: never what is critical, counted, short or part packed."""
    if is_critical(line) or line.counted:
        return False
    return state_of(line, marks) in ("open", "met") or is_to_fill(line, marks)


def packed_in_full(line: Line, marks: Marks, at: datetime) -> book.Packed:
    """The entry that says its need, for later visits too, is in the container, or more where more is in it."""
    return book.Packed(at=at, line=line.key, count=max(line.need + line.ahead, has_now(line, marks)))


def open_lines(day: Day, marks: Marks) -> tuple[Line, ...]:
    """Lines that still ask for hands, critical ones first, else in order of number."""
    return tuple(sorted((line for line in day.lines if is_open(line, marks)), key=lambda line: not is_critical(line)))


def readiness_of(visit: Visit, day: Day, marks: Marks) -> tuple[int, int]:
    """(open lines, critical ones among them) of a visit."""
    lines = [line for line in day.lines if visit.key in line.visits and is_open(line, marks)]
    return len(lines), sum(is_critical(line) for line in lines)


def left_to_take(take_out: TakeOut, marks: Marks) -> int:
    """How many are still to be taken out of the container; none once it was let go."""
    if take_out.key in marks.let_go or take_out.key in marks.seen_to:
        return 0
    what = take_out.container, take_out.supply
    left = max(0, take_out.count - marks.taken_out.get(what, 0))
    return min(left, marks.contents.get(what, left))


def is_over(matter: Matter | Carried, day: Day, marks: Marks) -> bool:
    """Whether a carried matter has come to its end on this day, by being ticked or by what was done."""
    if matter.key in marks.seen_to or matter.key in marks.let_go:
        return True
    match matter.kind:
        case "short":
            same = (line for line in day.lines if (line.container, line.supply) == (matter.container, matter.supply))
            line = next((line for line in same if not line.catch_up_for), None)
            return line is not None and state_of(line, marks) in ("packed", "met")
        case "not put right":
            return bool(marks.put_right.get(matter.container))
        case "left in a room":
            said = marks.places.get(matter.container)
            return said is not None and said.place == AT_STORE
        case "catch-up not handed out":
            return any(marks.handed_out.get(visit.key) for visit in day.visits if visit.class_id == matter.for_class)
        case "preparation":
            task = next((each for each in day.tasks if each.key == matter.key), None)
            return task is None or task.for_date <= day.date
        case "count pending":
            return any(late_key(key) == matter.key for key in marks.late_counts)
    return False
