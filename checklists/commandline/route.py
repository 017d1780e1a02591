"""The command that tells the route of a day: where she stops at the store, what rides, what is left ahead."""

from __future__ import annotations

from checklists.commandline.opening import day_to_pack, minute_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.pages.route_json import route_as_json
from checklists.pages.route_page import route_page
from checklists.route.day_route import costs_of_pins
from checklists.route.pins import left_out
from checklists.route.unknown_walks import walks_to_ask
from checklists.walks import walks_of
from checklists.words import say_date


def show_route(request: Request) -> int:
    """The best plan; where there is none, what would make one, and status 1. Nothing is written down.

    With ``--ahead`` those of the coming days, with ``--year`` what would help over the year.
    """
    with open_book(request) as book:
        if request.ahead or request.year:
            from checklists.commandline import routes_ahead  # only here: most often one day's route is asked for

            return (routes_ahead.show_routes_ahead if request.ahead else routes_ahead.show_routes_over_the_year)(
                request, book
            )
        on = day_to_pack(request, book)
        day = book.day(on)
        if not day.visits:
            raise NotUnderstood(f"There are no visits on {say_date(on)}, so there is no route.")
        route, plan, marks = book.route(on), book.plan, book.marks(on)
        if request.json:
            say_json(route_as_json(plan, day, marks, route))
        else:
            costs, out = costs_of_pins(route, day), left_out(plan, marks.changes)
            walks = walks_to_ask(walks_of(plan, day), route.problem)
            say(route_page(plan, day, marks, route, minute_on(request, on), costs, out, walks))
        return 0 if route.plan is not None else 1
