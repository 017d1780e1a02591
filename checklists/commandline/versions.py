"""The command about second versions of a day: shown side by side, merged on request."""

from __future__ import annotations

from datetime import date

from checklists.book import Book
from checklists.commandline.opening import open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.two_versions import Comparison
from checklists.files.second_versions import Version
from checklists.pages.versions import Compared, merged_as_json, versions_as_json, versions_page
from checklists.words import join_words, say_date


def show_or_merge_versions(request: Request) -> int:
    """Show every second version, or those of one day; with `--merge` make one of a day's."""
    with open_book(request, write=request.merge) as book:
        if request.merge:
            return _merge(request, book)
        days = book.days_in_two_versions if request.date is None else (request.date,)
        found: list[Compared] = [(each, compared(book, each)) for day in days for each in book.versions.of(day)]
        if request.json:
            say_json(versions_as_json(found))
        else:
            say(versions_page(found))
        return 0


def compared(book: Book, version: Version) -> Comparison | None:
    return book.versions.compared(version) if version.record is not None else None


def _merge(request: Request, book: Book) -> int:
    merged = book.merge_versions(_day_to_merge(request, book))
    if request.json:
        say_json(merged_as_json(merged))
    else:
        say("\n".join(merged.said) + "\n")
    return 0


def _day_to_merge(request: Request, book: Book) -> date:
    days = book.days_in_two_versions
    if not days:
        raise NotUnderstood("There is one version of every day: nothing to merge.")
    if request.date is None and len(days) > 1:
        which = join_words(say_date(day) for day in days)
        raise NotUnderstood(f"There are two versions of {which}. Say which: trundle versions --merge --date {days[0]}.")
    day = request.date or days[0]
    if day not in days:
        raise NotUnderstood(f"There is no second version of {say_date(day)}.")
    return day
