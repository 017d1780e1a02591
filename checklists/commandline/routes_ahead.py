"""The routes of the coming days (`trundle route --ahead`), and what would help over the year (`--year`)."""

from __future__ import annotations

from datetime import date

from checklists.book import Book
from checklists.commandline.opening import day_to_pack
from checklists.commandline.output import complain, say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.looking_ahead import outlook_from, seen_from
from checklists.pages.routes_ahead import YEAR_TAKES, coming_as_json, coming_page, year_as_json, year_page
from checklists.route.coming import coming_routes, first_to_come
from checklists.route.what_if import year_of_routes
from checklists.words import say_date


def show_routes_ahead(request: Request, book: Book) -> int:
    """The coming cycle; status 1 where a day does not fit."""
    if request.year:
        raise NotUnderstood("Ask for one of both: trundle route --ahead, or trundle route --year.")
    first = first_to_come(book, day_to_pack(request, book), request.now)
    with seen_from(book, first):
        routes = coming_routes(book, first)
    if not routes:
        raise _no_visits(first)
    if request.json:
        say_json(coming_as_json(routes))
    else:
        say(coming_page(book.plan, routes))
    return 0 if all(each.fits for each in routes) else 1


def show_routes_over_the_year(request: Request, book: Book) -> int:
    """What a box's room or two minutes would do; status 1 where a day does not fit as it is."""
    first = first_to_come(book, day_to_pack(request, book), request.now)
    with seen_from(book, first):
        outlook = outlook_from(book, first)
    if not request.json:
        complain(f"{YEAR_TAKES}\n")
    year = year_of_routes(outlook)
    if year is None:
        raise _no_visits(outlook.first)
    if request.json:
        say_json(year_as_json(year))
    else:
        say(year_page(year))
    return 1 if year.tried[0].sums.not_fitting else 0


def _no_visits(first: date) -> NotUnderstood:
    return NotUnderstood(f"There are no visits from {say_date(first)} on, so there are no routes.")
