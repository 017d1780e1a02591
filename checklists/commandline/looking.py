"""The commands that only look: morning, leaving, why, changeover, check."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from checklists.book import Book, CannotOpen
from checklists.commandline.finding import find_container, find_thing, find_trips
from checklists.commandline.opening import day_to_look_at, day_to_pack, day_with_visits, minute_on, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import Request
from checklists.daybook.line_states import is_critical, open_lines
from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.problems import Problem


def status_of(critical_open: bool, problems: Iterable[Problem]) -> int:
    """2 where a file is wrong, although the last good plan served; else 1 where something critical is open; else 0."""
    if any(each.level == "grave" for each in problems):
        return 2
    return 1 if critical_open else 0


def show_morning(request: Request) -> int:
    """The day's list; without visits the next day that has some."""
    with open_book(request) as book:
        return print_list(request, book, day_to_look_at(request, book))


def print_list(request: Request, book: Book, date_shown: date) -> int:
    """Print the list of a date, as text or JSON, and give the exit status."""
    day, marks = book.day(date_shown), book.marks(date_shown)
    is_stopped = any(each.stops for each in day.decisions)
    critical_open = is_stopped or any(is_critical(line) for line in open_lines(day, marks))
    if request.json:
        _print_as_json(request, book, day, marks)
    else:
        _print_as_text(request, book, day, marks)
    return status_of(critical_open, book.problems)


def _print_as_text(request: Request, book: Book, day: Day, marks: Marks) -> None:
    from checklists.pages.morning import morning_page, quiet_page

    private, problems = request.private, book.problems
    if day.visits:
        at = minute_on(request, day.date)
        departure = book.departure(day.date, at)
        say(
            morning_page(
                book.plan,
                day,
                marks,
                at,
                departure,
                by=request.by,
                private=private,
                problems=problems,
                facts=book.facts_asked(day.date),
            )
        )
    else:
        following = _following(book, day)
        ticked = marks if following is None else book.marks(following.date)
        leave = None if following is None else book.leave_by(following.date)
        say(quiet_page(book.plan, day, following, ticked, leave, problems, private=private))


def _print_as_json(request: Request, book: Book, day: Day, marks: Marks) -> None:
    from checklists.pages.as_json import day_as_json, quiet_as_json

    private, problems = request.private, book.problems
    if day.visits:
        at = minute_on(request, day.date)
        departure = book.departure(day.date, at)
        say_json(
            day_as_json(
                book.plan, day, marks, at, departure, problems, private=private, facts=book.facts_asked(day.date)
            )
        )
    else:
        following = _following(book, day)
        ticked = marks if following is None else book.marks(following.date)
        leave = None if following is None else book.leave_by(following.date)
        say_json(
            quiet_as_json(book.plan, day, book.departure(day.date), following, ticked, leave, problems, private=private)
        )


def _following(book: Book, day: Day) -> Day | None:
    later = day_with_visits(book, day.date)
    return book.day(later) if later > day.date else None


def show_leaving(request: Request) -> int:
    """What is open before leaving; with `--gone` it is noted that she left with it."""
    from checklists.daybook.entries import LeftStore
    from checklists.leaving import open_before_leaving
    from checklists.pages import as_json, leaving
    from checklists.pages.open_matters import without_private

    with open_book(request, write=request.gone) as book:
        date_shown = day_to_look_at(request, book)
        day, marks = book.day(date_shown), book.marks(date_shown)
        if not day.visits:
            return print_list(request, book, date_shown)
        moment = moment_on(request, date_shown)
        at = minute_on(request, date_shown)
        found = open_before_leaving(book, date_shown, marks, moment, is_today=at is not None)
        matters = without_private(found, day, request.private)
        if request.gone:
            still = tuple(line.key for line in open_lines(day, marks))
            book.do(date_shown, LeftStore(at=moment, open_lines=still))
        if request.json:
            say_json(as_json.matters_as_json("leaving", day, matters, book.problems, gone=request.gone))
        else:
            departure = book.departure(date_shown, at)
            say(leaving.leaving_page(book.plan, day, marks, departure, matters, at, book.problems))
        return status_of(any(each.critical and not each.answer for each in matters), book.problems)


def show_why(request: Request) -> int:
    """Why something is on the list."""
    from checklists.pages import as_json, why

    with open_book(request) as book:
        date_shown = day_to_pack(request, book)
        day, marks = book.day(date_shown), book.marks(date_shown)
        departure = book.departure(date_shown, minute_on(request, date_shown))
        trips = find_trips(request.words, departure)
        if trips:
            from checklists.pages.why_leave_ahead import why_leave_ahead

            route = book.route(date_shown)
            told_of = [why_leave_ahead(book.plan, day, marks, route, departure, each) for each in trips]
            if request.json:
                say_json(as_json.why_trips_as_json(day, marks, departure, trips, told_of))
            else:
                say("\n".join(why.why_page(each) for each in told_of))
            return 0
        thing = find_thing(request.words, day, private=request.private)
        told = why.why_of(thing, book.plan, book.rules.rules, day, marks, private=request.private)
        if request.json:
            say_json(as_json.why_as_json(thing, told, day, marks, private=request.private))
        else:
            say(why.why_page(told))
        return 0


def show_changeover(request: Request) -> int:
    """What to take out of a container, put in and leave; without a name of every one that something goes out of."""
    from checklists.daybook.changeover import changeover_of
    from checklists.pages import as_json, changeover

    with open_book(request) as book:
        date_shown = day_to_pack(request, book)
        day, marks, opening = book.day(date_shown), book.marks(date_shown), book.opening(date_shown)
        if request.words:
            wanted = [find_container(" ".join(request.words), day, book.plan)]
        else:
            wanted = list(dict.fromkeys(each.container for each in day.take_out))
        found = [changeover_of(book.plan, day, marks, opening, each) for each in wanted]
        if request.json:
            fields = [changeover.changeover_fields(each, marks, request.private) for each in found]
            say_json(as_json.changeover_as_json(day, fields))
        else:
            say(changeover.changeover_page(day, found, marks, private=request.private))
        return 0


def check_everything(request: Request) -> int:
    """Every problem of plan, rules and daybook at once; 2 where one is grave."""
    from checklists.own_rules.doubts import doubts_about
    from checklists.pages import as_json, problems

    try:
        with open_book(request) as book:
            chain = book.check_chain()
            found = (*book.problems, *chain, *doubts_about(book, request.now.date()))
    except CannotOpen as problem:
        found = problem.problems
    if request.json:
        say_json(as_json.problems_as_json(found))
    else:
        say(problems.problems_page(found))
    return status_of(False, found)
