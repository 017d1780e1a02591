"""The command that lends something, and takes it back."""

from __future__ import annotations

from datetime import date

from checklists.book import Book
from checklists.commandline.counting import words_and_number
from checklists.commandline.finding import find_supply
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.packing import tell
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.entries import AnyEntry
from checklists.daybook.lending import borrower_typed, give_back, lend, loans_now
from checklists.daybook.said import say_entry
from checklists.daybook.said_of_cases import say_loan
from checklists.daybook.state import Loan
from checklists.daybook.stock_now import stock_now
from checklists.daybook.what_is_left import left_for_visits
from checklists.pages.lending import lending_page, lent_as_json, lent_fields
from checklists.pages.plain import wrap
from checklists.pages.things import left_fields
from checklists.words import join_words


def lend_or_take_back(request: Request) -> int:
    """Lend so many of a supply; with `--back` so many are back; without words what is lent."""
    if not request.words:
        return _show(request)
    if request.back:
        return _take_back(request)
    words, count = words_and_number(request, 'trundle lend scissors 12 --to "Room 16"')
    if not request.lend_to:
        raise NotUnderstood(f'Say to whom: trundle lend {words} {count} --to "Room 16".')
    with open_book(request, write=True) as book:
        day = day_to_look_at(request, book)
        supply = find_supply(words, book.plan.supplies)
        stock = stock_now(book.plan, book.day(day), book.marks(day), book.opening(day))
        to, place = borrower_typed(book.plan, request.lend_to)
        found = lend(book.plan, stock, supply, count, moment_on(request, day), to, place)
        if isinstance(found, str):
            raise NotUnderstood(found)
        return _tell(request, book, day, found, supply.id)


def _show(request: Request) -> int:
    with open_book(request) as book:
        day = day_to_look_at(request, book)
        loans = loans_now(book.day(day), book.marks(day))
        if request.json:
            say_json(lent_as_json(book.plan, book.day(day), loans))
        else:
            say(lending_page(book.plan, book.day(day), loans))
        return 0


def _take_back(request: Request) -> int:
    with open_book(request, write=True) as book:
        day = day_to_look_at(request, book)
        supply = find_supply(" ".join(request.words), book.plan.supplies)
        loans = [each for each in loans_now(book.day(day), book.marks(day)) if each.supply == supply.id]
        if request.lend_to:
            loans = [each for each in loans if _is_with(each, *borrower_typed(book.plan, request.lend_to))]
        if not loans:
            raise NotUnderstood(f"No {supply.name} is lent{f' to {request.lend_to}' if request.lend_to else ''}.")
        out = sum(each.count for each in loans)
        count = out if request.count is None else request.count
        if not 0 < count <= out:
            said = join_words(say_loan(book.plan, each, day) for each in loans)
            raise NotUnderstood(f"{count} cannot be back: {said}.")
        entries: list[AnyEntry] = []
        for loan in loans:
            part = min(count, loan.count)
            if part:
                entries.append(give_back(loan, moment_on(request, day), part))
            count -= part
        return _tell(request, book, day, tuple(entries), supply.id)


def _is_with(loan: Loan, to: str, place: str) -> bool:
    return (bool(place) and loan.place == place) or (bool(to) and loan.to.casefold() == to.casefold())


def _tell(request: Request, book: Book, on: date, entries: tuple[AnyEntry, ...], supply: str) -> int:
    """What was lent or is back, what is lent now, and what is left for the visits still to come."""
    day = book.day(on)
    book.do(on, *entries)
    marks = book.marks(on)
    said = tuple(say_entry(entry, day, book.plan) for entry in entries)
    loans = [each for each in loans_now(day, marks) if each.supply == supply]
    left = left_for_visits(book.plan, day, marks, supply, moment_on(request, on))
    rows = [*said, *(say_loan(book.plan, each, on) for each in loans)]
    words = [row for each in (*rows, *(f"{each.words}." for each in left)) for row in wrap(each)]
    fields = {"lent": lent_fields(book.plan, loans), "left": [left_fields(each) for each in left]}
    return tell(request, book, on, "lend", said, "\n".join(words), **fields)
