"""The command that says what became of a visit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from checklists.book import Book
from checklists.commandline.finding import find_container, find_place, find_supply, find_visit
from checklists.commandline.opening import day_to_close, moment_on, open_book
from checklists.commandline.packing import tell
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook import entries as daybook
from checklists.daybook.marks import Marks
from checklists.daybook.noting import entries_of_line, visit_meant
from checklists.daybook.said import say_entry
from checklists.daybook.shorthand import Shorthand, read_shorthand
from checklists.daybook.visit_said import SaidOfVisit, report_with
from checklists.lines.records import Day, Visit
from checklists.pages.plain import wrap
from checklists.plan.records import Plan, Supply


def report(request: Request) -> int:
    """Say outcome, absences, counts and places of one visit; what was reported before stays where nothing is said."""
    with open_book(request, write=True) as book:
        date_meant = day_to_close(request, book)
        day, marks = book.day(date_meant), book.marks(date_meant)
        if request.lines:
            return _tell(request, book, date_meant, _of_lines(request, book, date_meant))
        if not request.words:
            raise NotUnderstood('Say which visit: trundle report V3 --as-planned, or trundle report --line "v3 =".')
        visit = find_visit(request.words[0], day)
        entries = entries_of(request, book, day, marks, visit, moment_on(request, date_meant))
        if not entries:
            raise NotUnderstood(
                f"Say what became of {visit.name} {visit.class_id}: trundle report {visit.name} --as-planned,"
                f" or see trundle report --help."
            )
        return _tell(request, book, date_meant, entries)


def _tell(request: Request, book: Book, on: date, entries: tuple[daybook.AnyEntry, ...]) -> int:
    """Note what was said of visits, and say what follows from its counts and places."""
    from checklists.daybook.besides import said_besides

    day = book.day(on)
    book.do(on, *entries)
    said = tuple(say_entry(entry, day, book.plan) for entry in entries)
    besides = said_besides(book.plan, day, book.marks(on), book.opening(on), entries)
    rows = [*said, *(row for each in besides for row in wrap(each)), *_ways(entries, besides)]
    return tell(request, book, on, "report", said, "\n".join(rows), besides=list(besides))


def _ways(entries: tuple[daybook.AnyEntry, ...], besides: tuple[str, ...]) -> Iterator[str]:
    """What to type next about something that is missing, or of which too many came back."""
    for entry in entries:
        if isinstance(entry, daybook.CountedSharps) and entry.back < entry.out:
            yield f'whom did you tell: trundle case {entry.supply} --reported "the office"'
        elif isinstance(entry, daybook.CountedSharps) and any(each.endswith("?") for each in besides):
            yield f'answer: trundle answer "{entry.back} of {entry.out}" found (or "counted wrong")'


def _of_lines(request: Request, book: Book, date_meant: date) -> tuple[daybook.AnyEntry, ...]:
    """What all the lines say, or the first thing that cannot be: then nothing is noted."""
    if request.words or _said(request) != SaidOfVisit():
        raise NotUnderstood("A --line names its visit and says everything of it itself: leave the rest away.")
    day, marks, moment = book.day(date_meant), book.marks(date_meant), moment_on(request, date_meant)
    entries: list[daybook.AnyEntry] = []
    seen: set[str] = set()
    for text in request.lines:
        line = read_shorthand(text)
        visit = visit_meant(line, day, None) if isinstance(line, Shorthand) else line
        if isinstance(line, str) or isinstance(visit, str):
            raise NotUnderstood(f"--line {text}: {visit} Nothing was noted.")
        if visit.key in seen:
            raise NotUnderstood(f"--line {text}: {visit.name} has a line already. Nothing was noted.")
        found = entries_of_line(book.plan, day, marks, visit, line, moment)
        if isinstance(found, str):
            raise NotUnderstood(f"--line {text}: {found} Nothing was noted.")
        seen.add(visit.key)
        entries += found
    return tuple(entries)


def entries_of(
    request: Request, book: Book, day: Day, marks: Marks, visit: Visit, moment: datetime
) -> tuple[daybook.AnyEntry, ...]:
    """What the request says of a visit, as entries of the daybook."""
    entries: list[daybook.AnyEntry] = []
    said = _said(request)
    if said != SaidOfVisit():
        reported = report_with(book.plan, visit, marks.reports.get(visit.key), said, moment)
        if isinstance(reported, str):
            raise NotUnderstood(reported)
        entries.append(reported)
    for word, out, back in request.counts:
        supply = _find_counted(word, book.plan, day, visit)
        if out is None or back is None:
            entries.append(daybook.CountLater(at=moment, visit=visit.key, supply=supply.id))
        else:
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


def _said(request: Request) -> SaidOfVisit:
    """What the options say of the visit itself."""
    return SaidOfVisit(
        as_planned=request.as_planned,
        outcome=request.outcome or None,  # type: ignore[arg-type]
        not_done=request.not_done,
        not_done_numbers=request.not_done_numbers,
        reached=request.reached,
        taught=request.taught,
        absent=request.missed,
        absent_count=request.missed_count,
        absent_unknown=request.missed_unknown,
        half=request.half,
        students=request.students,
    )
