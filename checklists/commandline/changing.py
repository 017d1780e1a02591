"""The command that says what is different about a day."""

from __future__ import annotations

from checklists.book import Book
from checklists.changing_days import ToldChange, before_change, tell_change
from checklists.commandline.changed_entry import changed_entry
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.entries import Changed
from checklists.lines.records import Day
from checklists.pages.as_json import did_as_json
from checklists.pages.changed_day import change_fields, change_page
from checklists.words import say_date


def change_day(request: Request) -> int:
    """Put what is different into the day's record, and say what follows from it."""
    with open_book(request, write=True) as book:
        date_meant = day_to_look_at(request, book)
        was = before_change(book, date_meant)
        before = was.day
        entry = changed_entry(
            request, book.plan, before, moment_on(request, date_meant), book.marks(date_meant).changes
        )
        _refuse_what_has_no_effect(entry, before)
        book.do(date_meant, entry)
        told = tell_change(book, (entry,), was)
        after, marks = book.day(date_meant), book.marks(date_meant)
        if request.json:
            fields = change_fields(before, after, told.change, marks, told.next_day, told.comes_again)
            fields = {**fields, "route": list(told.route)}
            say_json({**did_as_json("change", after, marks, (told.said, *told.then)), **fields})
        else:
            say(tell_page(book, after, told))
        return 0


def tell_page(book: Book, after: Day, told: ToldChange) -> str:
    """What follows from a change that was said, as plain text."""
    return change_page(book.plan, after, told.change, told.said, told.then, told.comes_again, told.route, told.leave_by)


def _refuse_what_has_no_effect(entry: Changed, before: Day) -> None:
    if (entry.lessons or entry.parts) and entry.substitute is None and any(visit.substitute for visit in before.visits):
        raise NotUnderstood(
            "A substitute teaches the same lesson in every visit that day. Take that back first, with"
            " trundle change --substitute no."
        )
    if before.school_day or entry.no_school is not None:
        return
    raise NotUnderstood(
        f"{say_date(before.date)} is a day without school. If there is school after all, say --school as well."
    )
