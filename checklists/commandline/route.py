"""The command that tells the route of a day: where she stops at the store, what rides, what is left ahead."""

from __future__ import annotations

from checklists.commandline.opening import day_to_pack, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.pages.route import no_route_page, route_as_json, route_page
from checklists.route.day_route import route_problem
from checklists.route.smallest_changes import smallest_changes
from checklists.route.solve import solve
from checklists.route.told import told
from checklists.taught_periods import bells_on
from checklists.words import say_date


def show_route(request: Request) -> int:
    """The best plan; where there is none, what would make one, and status 1. Nothing is written down."""
    with open_book(request) as book:
        on = day_to_pack(request, book)
        day = book.day(on)
        if not day.visits:
            raise NotUnderstood(f"There are no visits on {say_date(on)}, so there is no route.")
        problem = route_problem(book.plan, bells_on(book.plan, book.marks(on).changes), day)
        found = solve(problem)
        changes = () if found is not None else smallest_changes(problem)
        in_order = told(problem, found) if found is not None else None
        if request.json:
            say_json(route_as_json(day, problem, found, in_order, changes))
        elif found is not None and in_order is not None:
            say(route_page(book.plan, day, problem, found, in_order))
        else:
            say(no_route_page(book.plan, day, problem, changes))
        return 0 if found is not None else 1
