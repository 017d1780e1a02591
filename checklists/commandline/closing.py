"""The command that closes a day."""

from __future__ import annotations

from checklists.commandline.looking import status_of
from checklists.commandline.opening import day_to_close, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import Request
from checklists.daybook.day_end import at_day_end
from checklists.pages import as_json, day_end
from checklists.pages.open_matters import without_private


def close(request: Request) -> int:
    """Close the day and say all it did; with `--look` only show what is unresolved."""
    with open_book(request, write=not request.look) as book:
        date_meant = day_to_close(request, book)
        day, marks = book.day(date_meant), book.marks(date_meant)
        moment = moment_on(request, date_meant)
        matters = without_private(at_day_end(book.plan, day, marks, moment), day, request.private)
        if request.look:
            closed = book.is_closed(date_meant)
            if request.json:
                say_json(as_json.matters_as_json("day end", day, matters, book.problems, closed=closed))
            else:
                say(day_end.day_end_page(book.plan, day, matters, closed, book.problems))
            return status_of(any(each.critical and not each.answer for each in matters), book.problems)
        did = book.close(date_meant, moment)
        if request.json:
            unresolved = [each.text for each in matters if not each.answer]
            say_json(as_json.did_as_json("close", day, book.marks(date_meant), did, unresolved=unresolved))
        else:
            later = book.day(day.next_school_day) if day.next_school_day is not None else None
            say(day_end.closed_page(day, matters, did, later))
        return status_of(False, book.problems)
