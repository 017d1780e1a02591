"""The commands of orders: what was ordered, what came, what is due and to be ordered."""

from __future__ import annotations

from checklists.book import Book
from checklists.commandline.counting import words_and_number
from checklists.commandline.finding import find_supply
from checklists.commandline.opening import day_to_look_at, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.packing import tell
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.entries import Delivered, LetGo, Ordered
from checklists.daybook.marks import ORDER
from checklists.daybook.order_list import what_to_order
from checklists.daybook.running_out import as_said, runs_out
from checklists.daybook.stock_now import Stock, say_on_hand, stock_now
from checklists.lines.day import calendar_for
from checklists.looking_ahead import days_from
from checklists.pages.supply_orders import orders_as_json, orders_page, say_packs, stock_fields
from checklists.plan.records import Supply
from checklists.words import say_date

BEYOND_LEAD = 5
"""School days beyond the time an order takes that are looked at: what is to be ordered this week."""


def order(request: Request) -> int:
    """Note that packs of a supply were ordered or, with `--let-go`, that what is due of it will not come."""
    with open_book(request, write=True) as book:
        if request.let_go:
            return _let_go(request, book)
        words, packs = words_and_number(request, "trundle order glue-stick 4")
        supply = find_supply(words, book.plan.supplies)
        day = day_to_look_at(request, book)
        if not packs:
            raise NotUnderstood(f'Say how many packs. Where it will not come: trundle order "{supply.name}" --let-go.')
        if request.expected is not None and request.expected < day:
            raise NotUnderstood(f"--expected: {say_date(request.expected)} is over on {say_date(day)}.")
        book.do(day, Ordered(at=moment_on(request, day), supply=supply.id, packs=packs, expected=request.expected))
        expected = f", expected {say_date(request.expected)}" if request.expected is not None else ""
        return _tell(request, book, "order", supply, f"{supply.name}: {say_packs(packs, supply)} ordered{expected}.")


def _let_go(request: Request, book: Book) -> int:
    supply = find_supply(" ".join(request.words), book.plan.supplies)
    due = stock_of(request, book).due(supply.id)
    if not due:
        raise NotUnderstood(f"No {supply.name} is on order.")
    day = day_to_look_at(request, book)
    book.do(day, LetGo(at=moment_on(request, day), matter=f"{ORDER}{supply.id}", reason="will not come"))
    return _tell(request, book, "order", supply, f"{supply.name}: {say_packs(due, supply)} not waited for any more.")


def take_delivery(request: Request) -> int:
    """Note that packs came: of what was ordered or, with `--instead-of`, of something else in its place."""
    words, packs = words_and_number(request, "trundle delivered glue-stick 4")
    with open_book(request, write=True) as book:
        supply = find_supply(words, book.plan.supplies)
        of = find_supply(request.instead_of, book.plan.supplies) if request.instead_of else None
        if of is not None and of.id == supply.id:
            raise NotUnderstood(f"--instead-of: name what was ordered; {supply.name} is what came.")
        if of is not None and not stock_of(request, book).due(of.id):
            raise NotUnderstood(f"No {of.name} is on order, so nothing came in its place. Leave --instead-of out.")
        day = day_to_look_at(request, book)
        in_place = of.id if of is not None else ""
        book.do(day, Delivered(at=moment_on(request, day), supply=supply.id, packs=packs, of=in_place))
        shelf = f", to shelf {supply.shelf}" if supply.shelf and packs else ""
        came = f"{supply.name}: {say_packs(packs, supply)} came{shelf}."
        return _tell(request, book, "delivered", supply, came, of or supply)


def _tell(request: Request, book: Book, page: str, supply: Supply, did: str, due_of: Supply | None = None) -> int:
    """What was done, what there is now, and what of ``due_of`` is still due and to be claimed."""
    stock = stock_of(request, book)
    said = [did]
    if supply.id in stock.on_hand:
        said.append(f"{supply.name}: on hand {say_on_hand(stock, supply.id)}.")
    due = [each for each in stock.orders if due_of is not None and each.supply == due_of.id]
    if due_of is not None and due:
        claim = min((each.claim_by for each in due if each.claim_by is not None), default=None)
        by = f"; claim by {say_date(claim)}" if claim is not None else ""
        said.append(f"{due_of.name}: {say_packs(stock.due(due_of.id), due_of)} still due{by}.")
    fields = {"supply": supply.id, "due": stock.due(supply.id), **stock_fields(stock, supply.id)}
    return tell(request, book, stock.on, page, (did,), "\n".join(said), stock=fields)


def stock_of(request: Request, book: Book) -> Stock:
    """The stock of the day that is asked about, as it stands now."""
    day = day_to_look_at(request, book)
    return stock_now(book.plan, book.day(day), book.marks(day), book.opening(day))


def show_orders(request: Request) -> int:
    """What is due, and what is to be ordered by when."""
    with open_book(request) as book:
        day = day_to_look_at(request, book)
        stock = stock_of(request, book)
        days = tuple(days_from(book, day, book.settings.lead_school_days + BEYOND_LEAD))
        marks = book.marks(day)
        falls_short = runs_out((as_said(days[0], marks), *days[1:]), stock.on_hand, marks.reports)
        calendar = calendar_for(book.plan, book.opening(day), day, marks.changes)
        to_order = what_to_order(book.plan, stock, calendar, falls_short)
        if request.json:
            say_json(orders_as_json(book.plan, stock, falls_short, to_order, days[-1].date))
        else:
            say(orders_page(book.plan, stock, falls_short, to_order, days[-1].date))
        return 0
