"""The command about missing things: what is missing, and what became of it."""

from __future__ import annotations

from checklists.book import Book
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.packing import record
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.cases import cases_now
from checklists.daybook.counting_back import lent_after_all
from checklists.daybook.entries import AnyEntry, ClosedCase, ReportedMissing
from checklists.daybook.lending import borrower_typed
from checklists.daybook.said_of_cases import say_case
from checklists.daybook.state import Case
from checklists.lines.containers import home_of
from checklists.lines.records import Day
from checklists.pages.things import cases_as_json, cases_page
from checklists.words import say_room


def show_or_answer_case(request: Request) -> int:
    """What is missing; with words of one and an answer it is reported, found, lent after all, or given up."""
    answers = _said(request)
    if len(answers) > 1:
        raise NotUnderstood(f"{answers[0]} and {answers[1]} cannot both be said of it. Give one of them.")
    if not answers:
        return _show(request)
    with open_book(request, write=True) as book:
        on = day_to_look_at(request, book)
        day = book.day(on)
        case = _find(request, book, cases_now(book.plan, day, book.marks(on)))
        return record(request, book, on, "case", _entries(request, book, day, case))


def _said(request: Request) -> list[str]:
    said = {
        "--reported": bool(request.reported),
        "--found": request.found is not None,
        "--lent": bool(request.lent_after_all),
        "--gone": request.gone,
    }
    return [name for name, is_said in said.items() if is_said]


def _show(request: Request) -> int:
    with open_book(request) as book:
        on = day_to_look_at(request, book)
        cases = cases_now(book.plan, book.day(on), book.marks(on))
        if request.words:
            cases = tuple(case for case in cases if _fits(request, book, case))
        if request.json:
            say_json(cases_as_json(book.plan, book.day(on), cases))
        else:
            say(cases_page(book.plan, book.day(on), cases))
        return 1 if any(not case.reported_to for case in cases) else 0


def _fits(request: Request, book: Book, case: Case) -> bool:
    text = f"{say_case(book.plan, case)} {case.key}".casefold()
    return all(word in text for word in " ".join(request.words).casefold().split())


def _find(request: Request, book: Book, cases: tuple[Case, ...]) -> Case:
    """The one case that has the words; where none was given, the only one."""
    found = [case for case in cases if _fits(request, book, case)]
    if len(found) == 1:
        return found[0]
    said = " ".join(request.words)
    if not cases:
        raise NotUnderstood("Nothing is missing.")
    rows = "\n".join(f"  {say_case(book.plan, case)}" for case in found or cases)
    if not found:
        raise NotUnderstood(f"No missing thing has the words {said}. Missing is\n{rows}")
    raise NotUnderstood(f"{len(found)} missing things fit. Say more of the one, as its room or day, of\n{rows}")


def _entries(request: Request, book: Book, day: Day, case: Case) -> tuple[AnyEntry, ...]:
    at = moment_on(request, day.date)
    if request.reported:
        return (ReportedMissing(at=at, case=case.key, to_whom=request.reported, when=request.when_told),)
    if request.gone:
        return (ClosedCase(at=at, case=case.key, found=False, where=request.reason),)
    if request.lent_after_all:
        to, place = borrower_typed(book.plan, request.lent_after_all)
        return lent_after_all(case, at, _stands_in(book, day, case), to, place)
    if request.count is not None and not 0 < request.count <= case.count:
        raise NotUnderstood(f"{case.count} of it is missing, so {request.count} cannot be found.")
    count = None if request.count is None or request.count == case.count else request.count
    where = request.found or say_room(case.room)
    closed = ClosedCase(
        at=at, case=case.key, found=True, where=where, by=request.found_by, when=request.when_told, count=count
    )
    return (closed,)


def _stands_in(book: Book, day: Day, case: Case) -> str:
    """What it was in: of today's count the container of its line, else where it lives."""
    if case.date == day.date:
        lines = (line for line in day.lines if line.supply == case.supply and case.room)
        line = next((each for each in lines if any(key.endswith(f" {case.school_class}") for key in each.visits)), None)
        if line is not None:
            return line.container
    return home_of(book.plan, case.supply) or ""
