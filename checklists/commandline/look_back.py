"""The command that says how it stands."""

from __future__ import annotations

from checklists.commandline.opening import day_to_look_at, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import Request
from checklists.looking_back import how_it_stands
from checklists.pages.look_back import look_back_as_json, look_back_page


def show_how_it_stands(request: Request) -> int:
    """Where every class is against the plan, who is owed what, what is missing, lent, hanging, short."""
    with open_book(request) as book:
        look = how_it_stands(book, day_to_look_at(request, book))
        if request.json:
            say_json(look_back_as_json(book.plan, look))
        else:
            say(look_back_page(book.plan, look))
        return 0
