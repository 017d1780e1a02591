"""What she says of a visit, put over what was said of it before: the whole report, or why it cannot be.

The same for what is typed behind options, as one line, and at the day's end.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from checklists.daybook.class_list import say_not_on_list
from checklists.daybook.entries import OutcomeKind, Reported
from checklists.daybook.reports import planned_outcome
from checklists.lines.records import Visit
from checklists.plan.records import Lesson, Plan, SchoolClass
from checklists.words import plural


class SaidOfVisit(Struct, frozen=True, kw_only=True):
    """What was said at one time. None: nothing was said of it, and what was said before stands."""

    as_planned: bool = False
    """Taught as planned and nobody missing, but for what else is said."""
    outcome: OutcomeKind | None = None
    not_done: int | None = None
    """How many, those in ``not_done_numbers`` among them."""
    not_done_numbers: tuple[int, ...] | None = None
    reached: int | None = None
    """The last part, where the class went further."""
    taught: int | None = None
    """The part that was taught in place of the planned one."""
    absent: tuple[int, ...] | None = None
    absent_count: int | None = None
    absent_unknown: bool = False
    half: tuple[int, ...] | None = None
    students: int | None = None


class Missing(Struct, frozen=True):
    """Who was not there, as far as anybody could say."""

    numbers: tuple[int, ...] = ()
    count: int = 0
    known: bool = False


def report_with(plan: Plan, visit: Visit, before: Reported | None, said: SaidOfVisit, at: datetime) -> Reported | str:
    """The report of a visit after something was said of it; or, in words, why that cannot be."""
    return report_over(visit, plan.class_by_id[visit.class_id], lesson_of(plan, visit), before, said, at)


def lesson_of(plan: Plan, visit: Visit) -> Lesson | None:
    """The lesson that the visit was planned for."""
    return plan.lesson_by_id.get(visit.steps[0].lesson) if visit.steps else None


def report_over(
    visit: Visit, class_: SchoolClass, lesson: Lesson | None, before: Reported | None, said: SaidOfVisit, at: datetime
) -> Reported | str:
    """The same where class and lesson of the visit are in hand."""
    outcome = said.outcome or _implied(said, visit) or (before.outcome if before is not None else "unknown")
    part = _part_reached(said, before, outcome)
    if outcome == "another part" and visit.steps and part == visit.steps[0].part:
        outcome, part = "done", None  # it is the planned one
    numbers = said.not_done_numbers if said.not_done_numbers is not None else _kept_numbers(said, before)
    not_done = _not_done(said, before, numbers)
    if outcome == "done" and not_done:
        outcome = "done except"
    if outcome not in ("done except", "went further", "another part"):
        not_done, numbers = 0, ()
    missing = _missing(said, before)
    half = said.half if said.half is not None else before.half if before is not None and not said.as_planned else ()
    students = said.students if said.students is not None else before.students if before is not None else None
    report = Reported(
        at=at,
        visit=visit.key,
        outcome=outcome,
        not_done=not_done,
        reached_part=part,
        absent=missing.numbers,
        absent_count=missing.count,
        absences_known=missing.known,
        students=students,
        half=half,
        not_done_numbers=numbers,
    )
    return next(_wrongs(visit, class_, lesson, said, report), report)


def _implied(said: SaidOfVisit, visit: Visit) -> OutcomeKind | None:
    return _implied_by_part(said) or (planned_outcome(visit) if said.as_planned else None)


def _implied_by_part(said: SaidOfVisit) -> OutcomeKind | None:
    if said.taught is not None:
        return "another part"
    if said.reached is not None:
        return "went further"
    if said.not_done_numbers or said.not_done:
        return "done except"
    return "done" if said.not_done == 0 else None


def _part_reached(said: SaidOfVisit, before: Reported | None, outcome: OutcomeKind) -> int | None:
    if outcome not in ("went further", "another part"):
        return None
    now = said.taught if outcome == "another part" else said.reached
    if now is not None:
        return now
    return before.reached_part if before is not None and before.outcome == outcome else None


def _says_outcome(said: SaidOfVisit) -> bool:
    return bool(said.outcome or said.as_planned or _implied_by_part(said))


def _kept_numbers(said: SaidOfVisit, before: Reported | None) -> tuple[int, ...]:
    return () if before is None or said.not_done is not None or _says_outcome(said) else before.not_done_numbers


def _not_done(said: SaidOfVisit, before: Reported | None, numbers: tuple[int, ...]) -> int:
    if said.not_done is not None:
        return said.not_done
    if said.not_done_numbers is not None:
        return len(numbers)
    kept = before is not None and (not _says_outcome(said) or said.outcome == before.outcome == "done except")
    return before.not_done if before is not None and kept else 0


def _missing(said: SaidOfVisit, before: Reported | None) -> Missing:
    if said.absent_unknown:
        return Missing()
    if said.absent is not None:
        return Missing(said.absent, 0, known=True)
    if said.absent_count is not None:
        return Missing((), said.absent_count, known=True)
    if said.as_planned or before is None:
        return Missing(known=said.as_planned)
    return Missing(before.absent, before.absent_count, before.absences_known)


# --------------------------------------------------------------------------------------------- what cannot be


def _wrongs(
    visit: Visit, class_: SchoolClass, lesson: Lesson | None, said: SaidOfVisit, report: Reported
) -> Iterator[str]:
    yield from _wrong_parts(visit, lesson, report)
    yield from _wrong_numbers(class_, said, report)
    if report.outcome == "done except" and not report.not_done:
        yield f"Say how many are not done in {visit.class_id}."
    if report.not_done < len(report.not_done_numbers):
        yield f"{plural(len(report.not_done_numbers), 'number')} cannot be {report.not_done} not done."
    there = visit.students if report.students is None else max(report.students, visit.students)
    absent = max(len(report.absent), report.absent_count)
    if visit.about:
        return
    if max(absent, report.not_done) > there:
        yield f"{visit.class_id} has {there} children; fewer can be absent or not done."
    if said.not_done is not None and report.not_done > there - absent:
        yield f"Only {there - absent} of {visit.class_id} were there, so {report.not_done} cannot be not done."


def _wrong_parts(visit: Visit, lesson: Lesson | None, report: Reported) -> Iterator[str]:
    if report.outcome not in ("went further", "another part"):
        return
    if lesson is None:
        yield f"{visit.class_id} has no lesson on that day, so no part of it was taught."
        return
    step = visit.steps[0]
    has = f"{lesson.title} has {plural(len(lesson.parts), 'part')}"
    part = report.reached_part
    if not visit.moves_on:
        yield (
            f"{visit.name} {visit.class_id} had {lesson.title} in place of its own lesson, so no part of that was"
            f" reached. If it was taught after all, say first trundle change --lesson {visit.name}=own."
        )
    elif part is None:
        yield f"Say which part {visit.class_id} {'reached' if report.outcome == 'went further' else 'had'}."
    elif report.outcome == "another part":
        if not 1 <= part <= len(lesson.parts):
            yield f"{has}, so there is no part {part} of it."
    elif not step.part < part <= len(lesson.parts):
        yield f"{has} and part {step.part} was planned, so {part} is not further."
    elif part in visit.done_ahead:
        yield f"{visit.class_id} had done part {part} of {lesson.title} before. Say how far it went with what was open."


def _wrong_numbers(class_: SchoolClass, said: SaidOfVisit, report: Reported) -> Iterator[str]:
    """Only what was typed now is held against the class list: a child who was absent then may have left since."""
    typed = (*(said.absent or ()), *(said.half or ()), *(said.not_done_numbers or ()))
    wrong = say_not_on_list(class_, typed)
    if wrong:
        yield wrong
    for words, numbers in (("there for half of it", report.half), ("not done", report.not_done_numbers)):
        both = next((number for number in numbers if number in report.absent), None)
        if both is not None:
            yield f"No. {both} cannot be absent and {words}. Say one of them."
