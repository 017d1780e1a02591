"""Counts that could not be made yet: they stand on top of the day, and of the next ones, until they are."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.marks import Marks, late_key
from checklists.daybook.reports import was_not_taught, went_out
from checklists.lines.records import Day, Visit
from checklists.words import say_date, say_room


def name_of_visit(visit: Visit) -> str:
    return f"{visit.name} {visit.class_id}"


def counts_pending(day: Day, marks: Marks) -> Iterator[str]:
    """What could not be counted back yet, in words: of today where she has said so, and of earlier days."""
    for visit in day.visits:
        for supply, out in went_out(day, visit.key, marks).items():
            if (visit.key, supply) in marks.count_later and not was_not_taught(visit, marks):
                name = next(line.name for line in day.lines if line.supply == supply)
                yield f"Count: {out} {name}, {name_of_visit(visit)}, {say_room(visit.room)}"
    counted = {late_key(key) for key in marks.late_counts}
    for matter in day.matters:
        if matter.kind == "count pending" and matter.key not in counted:
            yield f"Count: {matter.what.partition(':')[0]}, since {say_date(matter.since)}"
