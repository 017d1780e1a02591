"""The command about walks: which ones the route asks for, how long one is, and that it is so long from now on."""

from __future__ import annotations

from checklists.book import Book
from checklists.changing_days import say_walks
from checklists.commandline.finding import find_place
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.commandline.values import read_number
from checklists.lines.records import Day
from checklists.pages.plain import wrap
from checklists.pages.walks import WalkKnown, say_way_between, walk_as_json, walk_known, walks_page
from checklists.pages.what_follows import what_follows
from checklists.plan.class_notes import CannotNote
from checklists.plan.walk_notes import say_walk
from checklists.route.day_route import problem_as_planned
from checklists.route.unknown_walks import walks_to_ask
from checklists.walking import keep_walk
from checklists.walks import walks_of


def show_or_say_walk(request: Request) -> int:
    """With two places how long it is between them, with minutes behind them it is so from now on."""
    *places, last = request.words or ("",)
    if len(request.words) == 1:
        raise NotUnderstood("Say from where to where, and how many minutes: trundle walk 9 12 2.")
    with open_book(request, write=len(request.words) == 3) as book:
        day = book.day(day_to_pack(request, book))
        if not request.words:
            return _show_asked(request, book, day)
        if len(request.words) == 2:
            places.append(last)
        start, end = (find_place(each, book.plan) for each in places)
        if start == end:
            raise NotUnderstood("From a place to itself there is no way to walk. Say two places: trundle walk 9 12 2.")
        if len(request.words) == 2:
            return _show_one(request, book, day, start, end)
        return _change(request, book, day, start, end, _minutes(last))


def _how_back(start: str, end: str, was: WalkKnown) -> str:
    """ "trundle walk 9 12 5 says what was said before"."""
    places = " ".join(f'"{each}"' if " " in each else each for each in (start, end))
    of_whom = "was said" if not was.assumed else "was assumed"
    return f"trundle walk {places} {was.minutes} says what {of_whom} before."


def _minutes(word: str) -> int:
    try:
        return read_number(word)
    except ValueError as problem:
        raise NotUnderstood(f"{word} {problem}, as the last word: trundle walk 9 12 2.") from None


def _show_asked(request: Request, book: Book, day: Day) -> int:
    plan = book.plan
    problem = problem_as_planned(plan, day, book.marks(day.date).changes)
    asked = walks_to_ask(walks_of(plan, day), problem) if day.visits else ()
    if request.json:
        say_json(walk_as_json(day, [walk_known(plan, each.start, each.end) for each in asked], None, ()))
    else:
        say(walks_page(day, plan, asked))
    return 0


def _show_one(request: Request, book: Book, day: Day, start: str, end: str) -> int:
    known = walk_known(book.plan, start, end)
    if request.json:
        say_json(walk_as_json(day, [known], None, ()))
    else:
        way = say_way_between(start, end)
        say("\n".join(wrap(f"{way[:1].upper()}{way[1:]}: {known.told}.")) + "\n")
    return 0


def _change(request: Request, book: Book, before: Day, start: str, end: str, minutes: int) -> int:
    was, marks = walk_known(book.plan, start, end), book.marks(before.date)
    leave_before, route = book.leave_by(before.date), book.route(before.date)
    try:
        school = say_walk(book.plan, start, end, minutes)
    except CannotNote as problem:
        raise NotUnderstood(str(problem)) from None
    if school != book.plan.school:
        keep_walk(book, before.date, school, moment_on(request, before.date))
    now, after = walk_known(book.plan, start, end), book.day(before.date)
    follows = [*say_walks(before, route, after, book.route(before.date))]
    follows += what_follows(book.plan, before, after, marks)
    leave_by = book.leave_by(before.date)
    if leave_by is not None and leave_by != leave_before:
        follows.append(f"{leave_by.words}.")
    if request.json:
        say_json(walk_as_json(after, [now], was, follows))
        return 0
    way = say_way_between(start, end)
    rows = wrap(f"{way[:1].upper()}{way[1:]}: {minutes} min from now on, either way. Before: {was.told}.")
    rows += [row for each in follows for row in wrap(each, first="  ", indent=4)]
    rows += wrap(f"It is in the plan now, where trundle undo takes nothing back: {_how_back(start, end, was)}")
    say("\n".join(rows) + "\n")
    return 0
