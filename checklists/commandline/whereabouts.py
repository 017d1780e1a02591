"""The command that tells where things are, and takes where one is now."""

from __future__ import annotations

from checklists.commandline.finding import find_container, find_place
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.packing import record
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.entries import Stands
from checklists.daybook.fetching import warn_of_sharps
from checklists.daybook.whereabouts import matching, whereabouts
from checklists.lines.containers import name_of
from checklists.pages.things import where_as_json, where_page


def show_or_say_where(request: Request) -> int:
    """The last known place of everything, or of what has the words; with `--is` where one thing is now."""
    words = " ".join(request.words)
    if request.stands_at:
        return _say_where(request, words)
    with open_book(request) as book:
        on = day_to_look_at(request, book)
        things = whereabouts(book.plan, book.day(on), book.marks(on), book.opening(on))
        found = matching(things, words)
        if words and not found:
            raise NotUnderstood(f"Nothing begins with {words}. trundle where shows everything with a place.")
        if request.json:
            say_json(where_as_json(book.day(on), found))
        else:
            say(where_page(book.plan, book.day(on), found))
        return 0


def _say_where(request: Request, words: str) -> int:
    if not words:
        raise NotUnderstood('Say what: trundle where "printing kit" --is 11.')
    with open_book(request, write=True) as book:
        on = day_to_look_at(request, book)
        day = book.day(on)
        container = find_container(words, day, book.plan)
        place = find_place(request.stands_at, book.plan)
        held = book.opening(on).contents.get(container, {})
        warning = warn_of_sharps(book.plan, held, name_of(book.plan, container), place)
        stands = Stands(at=moment_on(request, on), container=container, place=place)
        return record(request, book, on, "where", (stands,), besides=warning)
