"""The commands that say something about lines and supplies: tick, undo, low."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from checklists.book import Book
from checklists.commandline.finding import find_container, find_line, find_listed, find_supply, find_trips
from checklists.commandline.opening import day_to_pack, minute_on, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook import entries as daybook
from checklists.daybook.fetching import say_elsewhere
from checklists.daybook.line_states import goes_without_a_look, left_to_take, packed_in_full
from checklists.daybook.marks import Marks
from checklists.daybook.said import say_entry
from checklists.daybook.taking_out import left_in, not_along, taken_out
from checklists.lines.records import Day, Line, TakeOut
from checklists.route.departure import ToLeave, entries_to_leave
from checklists.words import join_words, plural, say_date


def tick(request: Request) -> int:
    """Say that lines are packed, part packed, short or not needed."""
    with open_book(request, write=True) as book:
        date_meant = day_to_pack(request, book)
        day, marks = book.day(date_meant), book.marks(date_meant)
        moment = moment_on(request, date_meant)
        if request.whole:
            entries = tuple(entry for word in request.words for entry in _whole(word, book, day, marks, moment))
            return record(request, book, date_meant, "tick", entries, besides=_still_to_take(request, book, day, marks))
        trips = find_trips(request.words, book.departure(date_meant, minute_on(request, date_meant)))
        if trips:
            return _tick_trips(request, book, date_meant, trips, moment)
        words = dict.fromkeys(request.words)
        entries = tuple(entry for word in words for entry in _entries(request, word, book, date_meant, moment))
        if request.short is not None:
            return _tell_short(request, book, date_meant, entries)
        return record(request, book, date_meant, "tick", entries, besides=_elsewhere(day, marks, entries))


def _tick_trips(request: Request, book: Book, on: date, trips: tuple[ToLeave, ...], moment: datetime) -> int:
    """What is left ahead stands in its room; said where it went with critical lines open."""
    from checklists.pages.why_leave_ahead import say_open_in_it

    if len(trips) > 1:
        raise NotUnderstood(f"Say which one: {join_words((each.words for each in trips), 'or')}.")
    still = say_open_in_it(book.day(on), book.marks(on), trips[0])
    return record(request, book, on, "tick", entries_to_leave(trips[0], moment), besides=still)


def _elsewhere(day: Day, marks: Marks, entries: tuple[daybook.AnyEntry, ...]) -> str:
    """That a container stands in a room when a line of it is packed for a visit before; it is packed all the same."""
    packed = {each.line for each in entries if isinstance(each, daybook.Packed)}
    said = (say_elsewhere(line, day, marks) for line in day.lines if line.key in packed)
    return "\n".join(dict.fromkeys(each for each in said if each))


def _tell_short(request: Request, book: Book, date_meant: date, entries: tuple[daybook.AnyEntry, ...]) -> int:
    """Note what is short and say what is left of it and, unless that was told, what can be done about it."""
    from checklists.commandline.shortage import say_shortage, shortage_fields

    book.do(date_meant, *entries)
    short = [entry.line for entry in entries if isinstance(entry, daybook.CameUpShort)]
    day = book.day(date_meant)
    lines = [line for line in day.lines if line.key in short]
    said = tuple(say_entry(entry, day, book.plan) for entry in entries)
    words = [*said, *(row for line in lines for row in say_shortage(request, book, date_meant, line))]
    fields = [shortage_fields(book, date_meant, line) for line in lines]
    return tell(request, book, date_meant, "tick", said, "\n".join(words), short=fields)


def _entries(
    request: Request, word: str, book: Book, date_meant: date, moment: datetime
) -> tuple[daybook.AnyEntry, ...]:
    day, marks = book.day(date_meant), book.marks(date_meant)
    found = find_listed(word, day)
    if isinstance(found, TakeOut):
        return (_take_out(request, found, book, date_meant, moment),)
    if request.not_needed:
        return not_along(find_line(word, day), marks, moment, request.not_needed)  # type: ignore[arg-type]
    return (_entry(request, word, day, marks, moment),)


def _take_out(
    request: Request, found: TakeOut, book: Book, date_meant: date, moment: datetime
) -> daybook.TakenOut | daybook.LetGo:
    """It is back on the shelf, or so many of it, or it may stay in there."""
    day, marks = book.day(date_meant), book.marks(date_meant)
    if request.short is not None:
        raise NotUnderstood(f"{found.name} is to be taken out, so it cannot be short. Say how many with --count.")
    if request.not_needed:
        return left_in(found, moment, request.not_needed)
    left = left_to_take(found, marks)
    if not left:
        raise NotUnderstood(f"{found.number}, {found.name}, is out already. trundle undo takes that back.")
    if request.count is not None and not 0 < request.count <= left:
        raise NotUnderstood(f"{found.number}: {left} {found.name} are to be taken out, so {request.count} cannot be.")
    return taken_out(found, day, marks, book.opening(date_meant).contents, moment, request.count)


def _still_to_take(request: Request, book: Book, day: Day, marks: Marks) -> str:
    """What a whole container leaves to be taken out of it: that is never done in passing."""
    wanted = {find_container(word, day, book.plan) for word in request.words}
    out = [each for each in day.take_out if each.container in wanted and left_to_take(each, marks)]
    if not out:
        return ""
    numbers = " ".join(str(each.number) for each in out)
    return f"{plural(len(out), 'thing')} still to take out: trundle tick {numbers}"


def _entry(request: Request, word: str, day: Day, marks: Marks, moment: datetime) -> daybook.AnyEntry:
    if request.count is not None:
        return daybook.Packed(at=moment, line=find_line(word, day).key, count=request.count)
    if request.short is not None:
        remedy = request.remedy or "go without"
        return daybook.CameUpShort(at=moment, line=find_line(word, day).key, count=request.short, remedy=remedy)  # type: ignore[arg-type]
    found = find_listed(word, day)
    if not isinstance(found, Line):
        return daybook.Ticked(at=moment, matter=found.key)
    if found.forbidden:
        use = f" Use {found.instead} instead." if found.instead else ""
        raise NotUnderstood(
            f"Line {found.number}, {found.name}, must not come along.{use}"
            f" Taken out or left out: trundle tick {found.number} --not-needed other."
        )
    return packed_in_full(found, marks, moment)


def _whole(word: str, book: Book, day: Day, marks: Marks, moment: datetime) -> list[daybook.AnyEntry]:
    """The lines of a container that one word may tick."""
    container = find_container(word, day, book.plan)
    lines = [line for line in day.lines if line.container == container]
    return [packed_in_full(line, marks, moment) for line in lines if goes_without_a_look(line, marks)]


def undo(request: Request) -> int:
    """Take back the newest thing said of the day, or a change of the plan that was made today after it."""
    with open_book(request, write=True) as book:
        date_meant = day_to_pack(request, book)
        book.today = request.now.date()
        undone = book.take_files_back() if book.plan_was_changed_last(date_meant) else book.undo(date_meant)
        if undone is None and request.date is None and not request.tomorrow:
            date_meant = request.now.date()  # it has no visits; perhaps because she said so
            undone = book.undo(date_meant)
        if undone is None:
            return tell(request, book, date_meant, "undo", (), f"There is nothing to undo on {say_date(date_meant)}.")
        return tell(request, book, date_meant, "undo", (undone,), f"Taken back: {undone}")


def say_level(request: Request) -> int:
    """Say that a supply is plenty, low or out."""
    with open_book(request, write=True) as book:
        date_meant = day_to_pack(request, book)
        supply = find_supply(" ".join(request.words), book.plan.supplies)
        moment = moment_on(request, date_meant)
        entry = daybook.FoundLevel(at=moment, supply=supply.id, level=request.level)  # type: ignore[arg-type]
        return record(request, book, date_meant, "low", (entry,))


def record(
    request: Request,
    book: Book,
    date_meant: date,
    page: str,
    entries: tuple[daybook.AnyEntry, ...],
    *,
    besides: str = "",
) -> int:
    """Put entries into the book as one group and say what they were, and what is left ``besides``.

    Raises ``NotSaved`` where that fails.
    """
    day = book.day(date_meant)
    more = [besides] if besides else []
    if not entries:
        nothing = "Nothing there that could be ticked all at once."
        return tell(request, book, date_meant, page, (), "\n".join([nothing, *more]))
    book.do(date_meant, *entries)
    said = tuple(say_entry(entry, day, book.plan) for entry in entries)
    return tell(request, book, date_meant, page, said, "\n".join([*said, *more]))


def tell(
    request: Request, book: Book, date_meant: date, page: str, did: tuple[str, ...], words: str, **more: Any
) -> int:
    """Say what was done and how much is open; ``more`` are further fields for scripts."""
    from checklists.pages import as_json

    day, marks = book.day(date_meant), book.marks(date_meant)
    departure = book.departure(date_meant, minute_on(request, date_meant))
    if request.json:
        say_json(as_json.did_as_json(page, day, marks, did, departure, **more))
        return 0
    from checklists.pages.morning import open_in_words

    say(f"{words}\n{say_date(date_meant)}: {open_in_words(day, marks, departure).removesuffix('.')}\n")
    return 0
