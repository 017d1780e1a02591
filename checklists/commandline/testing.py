"""The command that announces testing: grades that are not visited in some periods of some days."""

from __future__ import annotations

from checklists.changing_days import before_change, tell_change, visits_lost
from checklists.commandline.changing import tell_page
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.changing_typed import grades_between, periods_between
from checklists.daybook.entries import Testing
from checklists.lines.records import Day
from checklists.pages.as_json import did_as_json
from checklists.plan.records import Plan
from checklists.taught_periods import bells_on
from checklists.words import join_words, say_date


def announce_testing(request: Request) -> int:
    """Put it into the record of the day it is said on, and tell which classes lose a visit."""
    with open_book(request, write=True) as book:
        on = day_to_look_at(request, book)
        before = before_change(book, on)
        entry = _entry(request, book.plan, before.day)
        book.do(on, entry)
        told, after, marks = tell_change(book, (entry,), before), book.day(on), book.marks(on)
        if request.json:
            lost = [
                {
                    "class": each.class_id,
                    "dates": [day.isoformat() for day in each.dates],
                    "next": each.comes_again.isoformat() if each.comes_again is not None else None,
                }
                for each in visits_lost(book, on, entry)
            ]
            say_json({**did_as_json("testing", after, marks, (told.said, *told.then)), "lost": lost})
        else:
            say(tell_page(book, after, told))
        return 0


def _entry(request: Request, plan: Plan, before: Day) -> Testing:
    first, last = request.first_day or before.date, request.last_day or request.first_day or before.date
    if last < first:
        raise NotUnderstood(f"--to: {say_date(last)} is before {say_date(first)}.")
    if last < before.date:
        raise NotUnderstood(f"--to: {say_date(last)} is over. Say the day it was announced on with --date.")
    at = moment_on(request, before.date)
    if request.off:
        if request.grades_tested or request.periods_tested:
            raise NotUnderstood("--off takes back all testing from the one day to the other. Leave out the rest.")
        return Testing(at=at, grades=(), first=first, last=last)
    if not request.grades_tested:
        raise NotUnderstood("Say which grades are tested, like trundle testing --grades 3-5 --to 2026-10-23.")
    there = {each.grade for each in plan.classes}
    grades = tuple(each for word in request.grades_tested for each in grades_between(word) if each in there)
    if not grades:
        raise NotUnderstood(f"--grades: you have no class of {join_words(request.grades_tested)}.")
    names = [period.name for period in bells_on(plan, None).periods]
    periods: list[str] = []
    for word in request.periods_tested:
        between = periods_between(word.casefold(), names)
        if between is None:
            raise NotUnderstood(f"--periods: there is no {word}; the periods are {join_words(names)}.")
        periods += between
    return Testing(
        at=at,
        grades=tuple(dict.fromkeys(grades)),
        first=first,
        last=last,
        periods=tuple(dict.fromkeys(periods)),
        walk_more=request.walk_more,
    )
