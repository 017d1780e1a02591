"""How many of a counted thing there are for a visit, after what was lent and what went missing before it."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from checklists.daybook.line_states import has_now, lendings, told_at
from checklists.daybook.loans import moved
from checklists.daybook.marks import Marks, case_key
from checklists.lines.quantities import round_up
from checklists.lines.records import Day, Line, Visit


def there_for(line: Line, visit: Visit, day: Day, marks: Marks) -> int:
    """How many of a line's supply there are for one of its visits: what was lent or went missing before it is not.

    Where nobody has said how many are in the container, it is taken to hold what the visit needs.
    """
    needs = needed_by(line, visit.key)
    mark = marks.lines.get(line.key)
    lent_now, lent_then = _lent(line, marks), _lent(line, marks, until=_end_of(visit, day))
    has = has_now(line, marks) - lent_now
    if mark is None or not mark.remedy:
        has = max(has, needs)
    return max(0, has + lent_then - _missing_before(line, visit, day, marks))


def needed_by(line: Line, visit: str) -> int:
    """How many of a line go into a visit's room, with spare."""
    return round_up(sum(use.amount for use in line.uses if use.visit == visit))


def _lent(line: Line, marks: Marks, *, until: datetime | None = None) -> int:
    """What came back less what was lent, up to a moment, since she last said how many there are. Mostly below 0."""
    if not marks.loans:
        return 0
    return moved(lendings(line, marks), line.container, line.supply, after=told_at(line.key, marks), until=until)


def _end_of(visit: Visit, day: Day) -> datetime:
    return datetime.combine(day.date, time()) + timedelta(minutes=visit.end)


def _missing_before(line: Line, visit: Visit, day: Day, marks: Marks) -> int:
    """How many did not come back out of this container from the visits before, and were not found since."""
    missing = 0
    for earlier in day.visits:
        count = marks.sharps.get((earlier.key, line.supply)) if earlier.number < visit.number else None
        closed = marks.closed_cases.get(case_key(day.date, earlier.key, line.supply))
        if count is not None and earlier.key in line.visits and not (closed is not None and closed.found):
            missing += max(0, count.out - count.back)
    return missing
