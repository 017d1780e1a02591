"""What a day means for each class: its place, who is owed what, who is not done, what nobody has told yet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from msgspec import structs

from checklists.daybook.marks import Marks
from checklists.daybook.records import Owed, Progress, Reported, State, Unfinished, Unsure
from checklists.daybook.reports import parts_taught, step_taught
from checklists.lines.catch_up import part_of
from checklists.lines.records import Day, Step, Visit
from checklists.plan.records import Plan, SchoolClass
from checklists.visits import advance, progress_of

MOST_ASKED = 3
"""Visits of a class that are asked about, the newest: nobody answers for weeks, and no more than that is packed for."""


def follow_classes(
    plan: Plan, day: Day, opening: State, reports: Mapping[str, Reported]
) -> tuple[Day, dict[str, Progress]]:
    """The day with the part that each visit really began with, and where each class stands after it.

    A class that comes twice begins the second time where the first visit left it, if somebody has told.
    """
    now: dict[str, Progress] = {}
    unknown: set[str] = set()
    visits: list[Visit] = []
    for visit in day.visits:
        class_, report = plan.class_by_id[visit.class_id], reports[visit.key]
        progress = now.get(class_.id) or progress_of(plan, opening, class_)
        is_placed = progress is not None and progress.lesson in plan.lesson_by_id
        if class_.id in now and class_.id not in unknown and visit.moves_on:
            step = (Step(progress.lesson, progress.part),) if progress is not None and is_placed else ()
            visit = structs.replace(visit, steps=step)
        visits.append(visit)
        if report.outcome == "unknown":
            unknown.add(class_.id)
        if progress is not None and is_placed:
            now[class_.id] = _after_visit(plan, class_, day.date, visit, report, progress)
    return structs.replace(day, visits=tuple(visits)), now


def _after_visit(
    plan: Plan, class_: SchoolClass, day: date, visit: Visit, report: Reported, progress: Progress
) -> Progress:
    parts = parts_taught(visit, report)
    if parts:
        return advance(plan, class_, progress, day, parts)
    if report.outcome == "about half" and visit.moves_on:
        return structs.replace(progress, again=True)
    return progress


def unsure_after(day: Day, opening: State, reports: Mapping[str, Reported]) -> dict[str, tuple[Unsure, ...]]:
    unsure = dict(opening.unsure)
    for visit in day.visits:
        if reports[visit.key].outcome == "unknown" and visit.steps and visit.moves_on:
            question = Unsure(day.date, visit.key, visit.steps[0].lesson, visit.steps[0].part)
            unsure[visit.class_id] = (*unsure.get(visit.class_id, ()), question)[-MOST_ASKED:]
    return unsure


def owed_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported]
) -> dict[str, tuple[Owed, ...]]:
    owed = dict(opening.owed)
    for visit in day.visits:
        report = reports[visit.key]
        left = list(owed.get(visit.class_id, ()))
        if marks.handed_out.get(visit.key):
            left = [each for was in left for each in _still_owed(was, report)]
        if step_taught(visit, report) is not None and report.outcome != "unknown":
            left = [each for each in left if not each.unknown]  # a reserve was along: those who missed it have it now
        for each in _newly_owed(plan, day.date, visit, report):
            left = [*(was for was in left if _part_of(was) != _part_of(each)), *_together(left, each)]
        if left:
            owed[visit.class_id] = tuple(left)
        else:
            owed.pop(visit.class_id, None)
    return owed


def _part_of(owed: Owed) -> tuple[str, int]:
    return owed.lesson, owed.part


def _together(left: list[Owed], fresh: Owed) -> Iterator[Owed]:
    """What is owed of one part, once for each child: a part that is taught again is missed by somebody only once."""
    same = [each for each in left if _part_of(each) == _part_of(fresh)]
    numbers = tuple(sorted({number for each in (*same, fresh) for number in each.numbers}))
    count = max(each.count for each in (*same, fresh))
    yield Owed(
        fresh.lesson,
        fresh.part,
        min(each.since for each in (*same, fresh)),
        numbers,
        count,
        unknown=fresh.unknown and not numbers and not count,
    )


def _still_owed(owed: Owed, report: Reported) -> Iterator[Owed]:
    """What stays owed after the catch-up kit was handed out: to those absent again, of counts the worst case."""
    numbers = tuple(number for number in owed.numbers if number in report.absent)
    others = min(owed.count, len(report.absent) - len(numbers))  # listed today, but only counted when they missed it
    came_or_not = len(owed.numbers) - len(numbers) + owed.count - others
    count = others + min(came_or_not, report.absent_count)
    if numbers or count:
        yield Owed(owed.lesson, owed.part, owed.since, numbers, count)


def _newly_owed(plan: Plan, day: date, visit: Visit, report: Reported) -> Iterator[Owed]:
    step = step_taught(visit, report)
    taught = max(parts_taught(visit, report), 1 if report.outcome == "unknown" else 0)
    if step is None:
        return
    for n in range(taught):
        part = part_of(plan, step.lesson, step.part + n)
        if part is None or part.catch_up == "none":
            continue
        if report.absent or report.absent_count:
            yield Owed(step.lesson, step.part + n, day, tuple(sorted(report.absent)), report.absent_count)
        elif not report.absences_known:
            yield Owed(step.lesson, step.part + n, day, unknown=True)


def unfinished_after(day: Day, opening: State, reports: Mapping[str, Reported]) -> dict[str, tuple[Unfinished, ...]]:
    """Children not done with a part. The next visit that takes place is where they finish."""
    unfinished = dict(opening.unfinished)
    for visit in day.visits:
        report = reports[visit.key]
        if step_taught(visit, report) is None or report.outcome == "unknown":
            continue
        unfinished.pop(visit.class_id, None)
        if report.not_done:
            step = Step(visit.steps[0].lesson, visit.steps[0].part)
            unfinished[visit.class_id] = (Unfinished(step.lesson, step.part, report.not_done, day.date),)
    return unfinished
