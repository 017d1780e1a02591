"""What a day means for each class: its place, who is owed what, who is not done, what nobody has told yet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from msgspec import structs

from checklists.class_places import place_after, progress_in, progress_of
from checklists.daybook.children import is_held, without_those_settled
from checklists.daybook.entries import Reported
from checklists.daybook.marks import Marks
from checklists.daybook.owing import has_short_version, still_owed, with_owed
from checklists.daybook.reports import step_planned, steps_taught
from checklists.daybook.state import Owed, Progress, State, Unfinished, Unsure
from checklists.lines.catch_up import part_of
from checklists.lines.records import Day, Step, Visit
from checklists.plan.records import Plan, SchoolClass

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
            visit = _beginning_at(visit, progress if is_placed else None)
        together = {each: now.get(each) or progress_in(plan, opening, each) for each in visit.go_on_too}
        along = {each: place for each, place in together.items() if place is not None and _is_at(place, visit)}
        visit = structs.replace(visit, go_on_too=tuple(along))
        visits.append(visit)
        if report.outcome == "unknown":
            unknown.update((class_.id, *along))
        if progress is not None and is_placed:
            now[class_.id] = _after_visit(plan, class_, day.date, visit, report, progress)
        for each, place in along.items():
            now[each] = _after_visit(plan, plan.class_by_id[each], day.date, visit, report, place)
    return structs.replace(day, visits=tuple(visits)), now


def _beginning_at(visit: Visit, progress: Progress | None) -> Visit:
    """A visit of a class that has come once today, from where it stands now. A part chosen for the visit stays."""
    if progress is None:
        return structs.replace(visit, steps=(), done_ahead=(), next_part=0)
    if visit.next_part and visit.steps[0].lesson == progress.lesson:
        following = progress.part if progress.part != visit.steps[0].part else 0
        return structs.replace(visit, done_ahead=progress.done_ahead, next_part=following)
    step = Step(progress.lesson, progress.part)
    return structs.replace(visit, steps=(step,), done_ahead=progress.done_ahead, next_part=0)


def _is_at(place: Progress, visit: Visit) -> bool:
    """Whether a class taught together with another one is at the very part that is taught."""
    return Step(place.lesson, place.part) in visit.steps[:1]


def _after_visit(
    plan: Plan, class_: SchoolClass, day: date, visit: Visit, report: Reported, progress: Progress
) -> Progress:
    taught = [step.part for step in steps_taught(visit, report) if step.lesson == progress.lesson]
    if report.outcome == "about half" and visit.moves_on and not visit.next_part:
        return structs.replace(progress, again=True)
    return place_after(plan, class_, progress, taught, day)


def unsure_after(day: Day, opening: State, reports: Mapping[str, Reported]) -> dict[str, tuple[Unsure, ...]]:
    unsure = dict(opening.unsure)
    for visit in day.visits:
        if reports[visit.key].outcome == "unknown" and visit.steps and visit.moves_on:
            step = visit.steps[0]
            question = Unsure(day.date, visit.key, step.lesson, step.part, chosen=bool(visit.next_part))
            for class_id in (visit.class_id, *visit.go_on_too):
                unsure[class_id] = (*unsure.get(class_id, ()), question)[-MOST_ASKED:]
    return unsure


def owed_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported]
) -> dict[str, tuple[Owed, ...]]:
    owed = dict(opening.owed)
    for visit in day.visits:
        report = reports[visit.key]
        left = owed.get(visit.class_id, ())
        if marks.handed_out.get(visit.key):
            left = tuple(each for was in left for each in _after_handing_out(plan, visit, was, report))
        if _took_place(visit, report):
            left = tuple(each for each in left if not each.unknown)  # a reserve was along: who missed it has it now
        for each in _newly_owed(plan, day.date, visit, report, left):
            left = with_owed(left, each)
        owed[visit.class_id] = without_those_settled(left, visit.class_id, marks)
        for class_id in visit.go_on_too:
            left = owed.get(class_id, ())
            for each in _owed_together(plan, day.date, visit, report):
                left = with_owed(left, each)
            owed[class_id] = left
    return {class_id: left for class_id, left in owed.items() if left}


def _after_handing_out(plan: Plan, visit: Visit, was: Owed, report: Reported) -> Iterator[Owed]:
    if is_held(plan, visit, was):
        yield was  # it was not along
    else:
        yield from still_owed(was, report)


def _took_place(visit: Visit, report: Reported) -> bool:
    """Whether something was taught with what was packed for the class, be it another lesson, as somebody has told."""
    return bool(visit.steps) and not visit.substitute and report.outcome not in ("unknown", "not taught")


def _newly_owed(plan: Plan, day: date, visit: Visit, report: Reported, left: tuple[Owed, ...]) -> Iterator[Owed]:
    planned = step_planned(visit)
    if planned is None:
        return
    taught = (planned,) if report.outcome == "unknown" else steps_taught(visit, report)
    gone = plan.class_by_id[visit.class_id].left
    absent = tuple(sorted(number for number in report.absent if number not in gone))
    short = tuple(number for number in absent if has_short_version(left, number, planned.lesson))
    in_full = tuple(number for number in absent if number not in short)
    for step in taught:
        part = part_of(plan, step.lesson, step.part)
        if part is None or part.catch_up == "none":
            continue
        if short:
            yield Owed(step.lesson, step.part, day, short, short=True)
        if in_full or report.absent_count:
            yield Owed(step.lesson, step.part, day, in_full, report.absent_count)
        elif not report.absences_known:
            yield Owed(step.lesson, step.part, day, unknown=True)


def _owed_together(plan: Plan, day: date, visit: Visit, report: Reported) -> Iterator[Owed]:
    """What a class taught together with another one is owed: numbers told of the visit are those of the other class.

    Only that nobody was missing holds for both.
    """
    if report.absences_known and not report.absent and not report.absent_count:
        return
    unknown = structs.replace(report, absent=(), absent_count=0, absences_known=False)
    yield from _newly_owed(plan, day, visit, unknown, ())


def unfinished_after(
    plan: Plan, day: Day, opening: State, reports: Mapping[str, Reported]
) -> dict[str, tuple[Unfinished, ...]]:
    """Children not done with a part. The next visit that takes place is where they finish, if they are there.

    Who was there for half of it is not done either; a child that is known by number counts once.
    """
    unfinished = dict(opening.unfinished)
    for visit in day.visits:
        report = reports[visit.key]
        if not _took_place(visit, report):
            continue
        before = unfinished.pop(visit.class_id, ())
        left = tuple(each for was in before for each in _still_unfinished(was, report))
        left = (*left, *_newly_unfinished(plan, day.date, visit, report))
        if left:
            unfinished[visit.class_id] = left
    return unfinished


def _still_unfinished(was: Unfinished, report: Reported) -> Iterator[Unfinished]:
    numbers = tuple(number for number in was.numbers if number in report.absent)
    if numbers:
        yield structs.replace(was, count=len(numbers), numbers=numbers)


def _newly_unfinished(plan: Plan, day: date, visit: Visit, report: Reported) -> Iterator[Unfinished]:
    gone = {*report.absent, *plan.class_by_id[visit.class_id].left}
    listed = {*report.not_done_numbers, *report.half}
    numbers = tuple(sorted(number for number in listed if number not in gone))
    count = max(0, report.not_done - len(report.not_done_numbers)) + len(numbers)
    taught = steps_taught(visit, report)
    if taught and count:  # where the whole class was about half done, all of them go on with it
        lesson = plan.lesson_by_id[taught[-1].lesson]
        yield Unfinished(lesson.id, min(taught[-1].part, len(lesson.parts)), count, day, numbers)
