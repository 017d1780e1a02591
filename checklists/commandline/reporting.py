"""The command that says what became of a visit."""

from __future__ import annotations

from datetime import datetime

from checklists.book import Book
from checklists.commandline.finding import find_container, find_place, find_supply, find_visit
from checklists.commandline.opening import day_to_close, moment_on, open_book
from checklists.commandline.packing import record
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook import entries as daybook
from checklists.daybook.class_list import say_not_on_list
from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Visit
from checklists.plan.records import Plan, Supply


def report(request: Request) -> int:
    """Say outcome, absences, counts and places of one visit; what was reported before stays where nothing is said."""
    with open_book(request, write=True) as book:
        date_meant = day_to_close(request, book)
        day, marks = book.day(date_meant), book.marks(date_meant)
        visit = find_visit(request.words[0], day)
        entries = entries_of(request, book, day, marks, visit, moment_on(request, date_meant))
        if not entries:
            raise NotUnderstood(
                f"Say what became of {visit.name} {visit.class_id}: trundle report {visit.name} --as-planned,"
                f" or see trundle report --help."
            )
        return record(request, book, date_meant, "report", entries)


def entries_of(
    request: Request, book: Book, day: Day, marks: Marks, visit: Visit, moment: datetime
) -> tuple[daybook.AnyEntry, ...]:
    """What the request says of a visit, as entries of the daybook."""
    entries: list[daybook.AnyEntry] = []
    if _says_outcome(request):
        entries.append(_reported(request, book.plan, marks.reports.get(visit.key), visit, moment))
    for word, out, back in request.counts:
        supply = _find_counted(word, book.plan, day, visit)
        entries.append(daybook.CountedSharps(at=moment, visit=visit.key, supply=supply.id, out=out, back=back))
    if request.handed_out is not None:
        entries.append(daybook.HandedOut(at=moment, visit=visit.key, given=request.handed_out))
    for word, place in request.stands:
        container = find_container(word, day, book.plan)
        where = find_place(place, book.plan)
        entries.append(daybook.Stands(at=moment, container=container, place=where, period=visit.period))
    for word, done in request.put_right:
        entries.append(daybook.PutRight(at=moment, container=find_container(word, day, book.plan), done=done))
    return tuple(entries)


def _find_counted(word: str, plan: Plan, day: Day, visit: Visit) -> Supply:
    """A counted supply that went into the visit's room."""
    along = {line.supply for line in day.lines if line.counted and visit.key in line.visits}
    try:
        return find_supply(word, [each for each in plan.supplies if each.id in along])
    except NotUnderstood:
        other = find_supply(word, [each for each in plan.supplies if each.is_counted])
        raise NotUnderstood(f"No {other.name} went to {visit.name} {visit.class_id}: it is not on its list.") from None


def _says_outcome(request: Request) -> bool:
    said = (request.missed, request.missed_count, request.half, request.not_done, request.reached, request.students)
    return (
        request.as_planned or bool(request.outcome) or request.missed_unknown or any(each is not None for each in said)
    )


def _reported(
    request: Request, plan: Plan, before: daybook.Reported | None, visit: Visit, moment: datetime
) -> daybook.Reported:
    """The whole report: what is said now over what was said before."""
    outcome = request.outcome or _implied(request) or (before.outcome if before else "unknown")
    not_done = request.not_done if request.not_done is not None else before.not_done if before else 0
    if outcome != "done except":
        not_done = 0
    elif not not_done:
        raise NotUnderstood(f"Say how many are not done: trundle report {visit.name} --not-done 3.")
    reached = request.reached if request.reached is not None else before.reached_part if before else None
    if outcome != "went further":
        reached = None
    else:
        _check_part(plan, visit, reached)
    absent, count, known = _absences(request, before)
    half = _half(request, before)
    _check_numbers(plan, visit, request, absent, half)
    most = visit.students if request.students is None else max(request.students, visit.students)
    if not visit.about and max(len(absent), count, not_done) > most:
        raise NotUnderstood(f"{visit.class_id} has {most} children; fewer can be absent or not done.")
    return daybook.Reported(
        at=moment,
        visit=visit.key,
        outcome=outcome,  # type: ignore[arg-type]
        not_done=not_done,
        reached_part=reached,
        absent=absent,
        absent_count=count,
        absences_known=known,
        students=request.students if request.students is not None else before.students if before else None,
        half=half,
    )


def _implied(request: Request) -> str:
    if request.as_planned:
        return "done"
    if request.not_done:
        return "done except"
    if request.not_done == 0:
        return "done"
    return "went further" if request.reached is not None else ""


def _absences(request: Request, before: daybook.Reported | None) -> tuple[tuple[int, ...], int, bool]:
    """(class-list numbers, a count without numbers, whether anybody could say)."""
    if request.missed_unknown:
        return (), 0, False
    if request.missed is not None:
        return request.missed, 0, True
    if request.missed_count is not None:
        return (), request.missed_count, True
    if request.as_planned:
        return (), 0, True
    return (before.absent, before.absent_count, before.absences_known) if before else ((), 0, False)


def _half(request: Request, before: daybook.Reported | None) -> tuple[int, ...]:
    if request.half is not None:
        return request.half
    return before.half if before is not None and not request.as_planned else ()


def _check_numbers(plan: Plan, visit: Visit, request: Request, absent: tuple[int, ...], half: tuple[int, ...]) -> None:
    """Only what was typed now is held against the class list: a child who was absent then may have left since."""
    wrong = say_not_on_list(plan.class_by_id[visit.class_id], (*(request.missed or ()), *(request.half or ())))
    if wrong:
        raise NotUnderstood(wrong)
    both = next((number for number in half if number in absent), None)
    if both is not None:
        raise NotUnderstood(f"No. {both} cannot be absent and there for half of it. Say one of them.")


def _check_part(plan: Plan, visit: Visit, reached: int | None) -> None:
    if not visit.steps:
        raise NotUnderstood(f"{visit.class_id} has no lesson on that day, so it cannot have gone further.")
    step = visit.steps[0]
    lesson = plan.lesson_by_id[step.lesson]
    if reached is None:
        raise NotUnderstood(
            f"Say which part {visit.class_id} reached: trundle report {visit.name} --reached {step.part + 1}."
        )
    if not step.part < reached <= len(lesson.parts):
        raise NotUnderstood(
            f"--reached: {lesson.title} has {len(lesson.parts)} parts and part {step.part} was planned,"
            f" so {reached} is not further."
        )
