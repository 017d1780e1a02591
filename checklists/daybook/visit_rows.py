"""What is known of each visit of a day by now, in the order of the cart sheet: a row a visit."""

from __future__ import annotations

from msgspec import Struct

from checklists.daybook.day_end import say_absent, say_outcome
from checklists.daybook.marks import Marks
from checklists.daybook.noting import counted_of
from checklists.lines.records import Day, Line, Visit
from checklists.plan.records import Plan


class CountBack(Struct, frozen=True):
    """A counted thing of a visit: how many went out, and how many came back where somebody has counted."""

    number: int
    """Of its line."""
    name: str
    out: int
    back: int | None
    later: bool = False
    """She has said that it is counted later."""


class VisitRow(Struct, frozen=True):
    """A visit with what was said of it."""

    visit: Visit
    title: str
    """The lesson and part it was planned for; empty where there is none."""
    counts: tuple[CountBack, ...]
    outcome: str
    """In words; empty: nobody has told."""
    absent: str
    low: tuple[str, ...]
    """Names of its supplies that are low or out."""
    stayed: tuple[str, ...]
    """Names of containers that stand in its room now."""

    @property
    def is_told(self) -> bool:
        return bool(self.outcome)

    @property
    def waiting(self) -> tuple[CountBack, ...]:
        """What is not counted back; of a visit that was not taught nobody asks."""
        return () if self.outcome == "not taught" else tuple(each for each in self.counts if each.back is None)

    @property
    def is_settled(self) -> bool:
        """Whether nothing of it waits: what is to be counted later does not, for now."""
        return self.is_told and all(each.later for each in self.waiting)


def visit_rows(plan: Plan, day: Day, marks: Marks) -> tuple[VisitRow, ...]:
    """The rows of a day."""
    return tuple(_row(plan, day, marks, visit) for visit in day.visits)


def _row(plan: Plan, day: Day, marks: Marks, visit: Visit) -> VisitRow:
    report = marks.reports.get(visit.key)
    mine = [line for line in day.lines if visit.key in line.visits]
    low = {line.supply: line.name for line in mine if marks.levels.get(line.supply) in ("low", "out")}
    stayed = [
        each.name
        for each in day.containers
        if visit.key in each.visits and each.id in marks.places and marks.places[each.id].place == visit.room
    ]
    return VisitRow(
        visit=visit,
        title=_title(plan, visit),
        counts=tuple(_count(marks, visit, line, out) for line, out in counted_of(day, marks, visit)),
        outcome=say_outcome(report) if report is not None else "",
        absent=say_absent(report) if report is not None else "",
        low=tuple(low.values()),
        stayed=tuple(stayed),
    )


def _title(plan: Plan, visit: Visit) -> str:
    if not visit.steps:
        return "no lesson"
    lesson = plan.lesson_by_id[visit.steps[0].lesson]
    if not visit.moves_on:
        return lesson.title
    return f"{lesson.title}, part {visit.steps[0].part} of {len(lesson.parts)}"


def _count(marks: Marks, visit: Visit, line: Line, out: int) -> CountBack:
    said = marks.sharps.get((visit.key, line.supply))
    later = (visit.key, line.supply) in marks.count_later
    return CountBack(line.number, line.name, out, said.back if said is not None else None, later)
