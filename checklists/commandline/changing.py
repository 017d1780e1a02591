"""The command that says what is different about a day."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.book import Book
from checklists.commandline.changed_entry import changed_entry
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.day_change import DayChange, compare_days
from checklists.daybook.day_end import say_outcome
from checklists.daybook.entries import Changed
from checklists.daybook.said import say_change
from checklists.lines.day import calendar_for
from checklists.lines.records import Day
from checklists.pages.as_json import did_as_json
from checklists.pages.changed_day import change_fields, change_page
from checklists.plan.records import Plan
from checklists.visits import next_visit_of
from checklists.words import plural, say_date


def change_day(request: Request) -> int:
    """Put what is different into the day's record, and say what follows from it."""
    with open_book(request, write=True) as book:
        date_meant = day_to_look_at(request, book)
        before = book.day(date_meant)
        entry = changed_entry(request, book.plan, before, moment_on(request, date_meant))
        _refuse_what_has_no_effect(entry, before)
        book.do(date_meant, entry)
        after, marks = book.day(date_meant), book.marks(date_meant)
        change = compare_days(book.plan, before, after, marks)
        calendar = calendar_for(book.plan, book.opening(date_meant), date_meant, marks.changes)
        gone = {visit.class_id for visit in change.visits_out}
        comes_again = {each: next_visit_of(book.plan, calendar, each, date_meant) for each in gone}
        said = say_change(entry)
        next_day = book.day(after.next_school_day).day_name if after.next_school_day is not None else ""
        what_then = tuple(_what_then(book, entry, before, after, change, next_day))
        if request.json:
            fields = change_fields(before, after, change, marks, next_day, comes_again)
            say_json({**did_as_json("change", after, marks, (said, *what_then)), **fields})
        else:
            say(change_page(book.plan, after, change, marks, said, what_then, comes_again))
        return 0


def _refuse_what_has_no_effect(entry: Changed, before: Day) -> None:
    if entry.lessons and entry.substitute is None and any(visit.substitute for visit in before.visits):
        raise NotUnderstood(
            "A substitute teaches the same lesson in every visit that day. Take that back first, with"
            " trundle change --substitute no."
        )
    if before.school_day or entry.no_school is not None:
        return
    raise NotUnderstood(
        f"{say_date(before.date)} is a day without school. If there is school after all, say --school as well."
    )


def _what_then(book: Book, entry: Changed, before: Day, after: Day, change: DayChange, next_day: str) -> Iterator[str]:
    if entry.no_school is not None or entry.day is not None:
        yield from _calendar_then(book, before, after, next_day)
    if entry.substitute is not None:
        yield _say_substitute(book.plan, entry.substitute)
    reports = book.marks(after.date).reports
    told = [visit for visit in change.visits_out if visit.key in reports]
    for visit in told:
        yield (
            f"{visit.name} {visit.class_id} was reported already ({say_outcome(reports[visit.key])}):"
            f" that does not count while the visit is not on the day."
        )


def _calendar_then(book: Book, before: Day, after: Day, next_day: str) -> Iterator[str]:
    rotation = book.plan.school.rotation
    cycle = rotation.kind == "cycle"
    if before.school_day and not after.school_day:
        of_day = f" of day {before.day_name}" if cycle else ""
        lost = plural(len(before.visits), "visit")
        yield f"{lost}{of_day} {'is' if len(before.visits) == 1 else 'are'} lost; no class moves on."
        yield "What is packed stays in its container."
    elif after.day_name != before.day_name:
        yield f"It is day {after.day_name} now."
    if after.next_school_day is None:
        yield "It is the last school day of the year."
    elif not cycle:
        yield f"The next school day is {say_date(after.next_school_day)}."
    else:
        unless = " unless another one is announced" if rotation.lost_day == "announced" else ""
        yield f"The next school day, {say_date(after.next_school_day)}, is day {next_day}{unless}."


def _say_substitute(plan: Plan, substitute: bool) -> str:
    if not substitute:
        return "You teach yourself; every class has its own part."
    filler = plan.lesson_by_id.get(plan.school.habits.filler)
    if filler is None:
        return (
            "There is no lesson for a substitute, so nothing is packed: name one in school.toml,"
            " under habits, as filler."
        )
    return f"A substitute teaches {filler.title} in every visit; no class moves on."
