"""The command that prints the sheet for a substitute, for any day, whether one is expected or not."""

from __future__ import annotations

from checklists.book import Book
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.entries import Changed
from checklists.daybook.marks import merge_changes
from checklists.lines.day import day_on
from checklists.lines.records import Day
from checklists.pages.substitute_sheet import substitute_as_json, substitute_sheet
from checklists.plan.records import Lesson
from checklists.words import say_date


def show_substitute_sheet(request: Request) -> int:
    """The day's visits with the lesson that a substitute teaches in every one of them. Nothing is written down."""
    with open_book(request) as book:
        lesson = _lesson_for_substitutes(book)
        day = _day_with_substitute(request, book)
        if not day.visits:
            why = day.why_no_school or "no visits"
            raise NotUnderstood(f"{say_date(day.date)} has nothing to teach ({why}). Say the day with --date.")
        if request.json:
            say_json(substitute_as_json(book.plan, day, lesson, book.marks(day.date)))
        else:
            say(substitute_sheet(book.plan, day, lesson))
        return 0


def _lesson_for_substitutes(book: Book) -> Lesson:
    lesson = book.plan.lesson_by_id.get(book.settings.filler)
    if lesson is None:
        raise NotUnderstood(
            "There is no lesson for a substitute: name one in school.toml, under habits, as filler. It should be dry"
            " and need nothing sharp."
        )
    return lesson


def _day_with_substitute(request: Request, book: Book) -> Day:
    date_meant = day_to_pack(request, book)
    substitute = Changed(at=moment_on(request, date_meant), substitute=True)
    change = merge_changes(book.marks(date_meant).changes, substitute)
    return day_on(book.plan, book.rules, book.opening(date_meant), date_meant, change)
