"""What follows from a line that came up short: what there is left, and what can be done about it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.book import Book
from checklists.commandline.request import Request
from checklists.daybook.line_states import has_now
from checklists.daybook.remedies import Way, remedies_for
from checklists.daybook.stock_now import Stock, say_on_hand, stock_now
from checklists.lines.records import Line
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.pages.supply_orders import stock_fields


def say_shortage(request: Request, book: Book, date_meant: date, line: Line) -> Iterator[str]:
    """How many are missing and what is left; the ways out unless ``request`` has named one."""
    stock, ways = _ways(book, date_meant, line)
    missing = line.need - has_now(line, book.marks(date_meant))
    if missing > 0:
        yield from wrap(f"{line.name}: {missing} short of {line.need}.")
    if line.supply in stock.on_hand or line.supply in stock.levels:
        level = stock.levels.get(line.supply, "")
        listed = f"; {level}, so it is on the order list" if level in ("low", "out") else ""
        yield from wrap(f"On hand: {say_on_hand(stock, line.supply)}{listed}.")
    if request.remedy or missing <= 0:
        return
    yield "What can be done:"
    for way in ways:
        yield from wrap(way.label, first="  ", indent=6)
    yield f'say it: trundle tick {line.number} --short {request.short} --remedy "{_best(ways).remedy}"'


def _ways(book: Book, date_meant: date, line: Line) -> tuple[Stock, tuple[Way, ...]]:
    day, marks = book.day(date_meant), book.marks(date_meant)
    stock = stock_now(book.plan, day, marks, book.opening(date_meant))
    return stock, remedies_for(book.plan, day, line, marks, stock)


def _best(ways: tuple[Way, ...]) -> Way:
    """The first that is enough, else the first."""
    return next((way for way in ways if way.enough), ways[0])


def shortage_fields(book: Book, date_meant: date, line: Line) -> Fields:
    """``line supply missing stock ways``; a way is ``remedy words enough needs``, null where nobody knows."""
    stock, ways = _ways(book, date_meant, line)
    return {
        "line": line.key,
        "supply": line.supply,
        "missing": max(0, line.need - has_now(line, book.marks(date_meant))),
        "stock": stock_fields(stock, line.supply),
        "ways": [{"remedy": way.remedy, "words": way.words, "enough": way.enough, "needs": way.needs} for way in ways],
    }
