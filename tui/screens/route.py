"""Where do I go next? The day's stops at the store, what rides, minutes to spare or late, what stands where."""

from __future__ import annotations

from datetime import date

from textual.content import Content

from checklists.pages.route import no_route_rows, route_sections, say_cost
from checklists.words import say_date
from tui.recorder import Recorder
from tui.screens.page import Page


class RouteScreen(Page):
    """The best route of a day, or what would make one."""

    def __init__(self, recorder: Recorder, on: date) -> None:
        super().__init__(f"Route for {say_date(on)}", route_paragraphs(recorder, on))


def route_paragraphs(recorder: Recorder, on: date) -> tuple[Content, ...]:
    """The route in words, each stop a heading."""
    book, day = recorder.book, recorder.day(on)
    if not day.visits:
        return (Content("There are no visits on this day."),)
    route = book.route(on)
    if route.plan is None or route.told is None:
        return tuple(Content(row) for row in no_route_rows(book.plan, day, route.problem, route.changes))
    rows = [Content.assemble((f"{say_cost(route.plan)}.", "bold"))]
    for title, said in route_sections(book.plan, day, route.problem, route.told):
        rows += [Content(""), Content.assemble((title, "bold")), *(Content(each) for each in said)]
    return tuple(rows)
