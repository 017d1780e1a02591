"""Where will it get late, and what would help? The coming days, then a slot or two minutes more over the year."""

from __future__ import annotations

from datetime import date, datetime

from textual.content import Content
from textual.widgets import Static
from textual.worker import get_current_worker

from checklists.looking_ahead import outlook_from, seen_from
from checklists.pages.routes_ahead import (
    YEAR_TAKES,
    coming_sections,
    say_days,
    say_days_of,
    say_how_many,
    say_well,
    year_rows,
    year_table,
)
from checklists.route.coming import coming_routes, first_to_come
from checklists.route.what_if import YearOfRoutes, year_of_routes
from checklists.words import say_date
from tui.recorder import Recorder
from tui.screens.page import Page


class RoutesAheadScreen(Page):
    """The coming days at once, from the next one where today is over; below them the year, as soon as it is known."""

    def __init__(self, recorder: Recorder, on: date, now: datetime) -> None:
        first = first_to_come(recorder.book, on, now)
        with seen_from(recorder.book, first):
            self.outlook = outlook_from(recorder.book, first)
            self.coming = coming_paragraphs(recorder, first)
        super().__init__("Routes of the coming days", (*self.coming, *_year_heading(YEAR_TAKES)))

    def on_mount(self) -> None:
        self.run_worker(self._go_through_the_year, thread=True)

    def _go_through_the_year(self) -> None:
        """In a thread of its own, from what was true when the page was opened; stops when the page is closed."""
        worker = get_current_worker()
        year = year_of_routes(self.outlook, lambda: not worker.is_cancelled)
        if not worker.is_cancelled:
            self.app.call_from_thread(self._show_year, year)

    def _show_year(self, year: YearOfRoutes | None) -> None:
        if self.is_attached:
            paragraphs = (*self.coming, *year_paragraphs(year))
            self.query_one("VerticalScroll > Static", Static).update(Content("\n").join(paragraphs))


def coming_paragraphs(recorder: Recorder, first: date) -> tuple[Content, ...]:
    """Each day with something to see to under its date, then how many are well."""
    routes = coming_routes(recorder.book, first)
    if not routes:
        return (Content("There are no visits in the coming days."),)
    rows = [Content.assemble((f"{say_days_of(routes)}: {say_how_many(routes)}.", "bold"))]
    for title, said in coming_sections(recorder.book.plan, routes):
        rows += [Content(""), Content.assemble((title, "bold")), *(Content(each) for each in said)]
    return (*rows, Content(""), *(Content(each) for each in say_well(routes)))


def year_paragraphs(year: YearOfRoutes | None) -> tuple[Content, ...]:
    """What a slot or two minutes would do, as a table and in words."""
    if year is None:
        return _year_heading("There are no visits left in this school year.")
    heading = f"{say_date(year.first)} to {say_date(year.last)}, {say_days(year)}:"
    return (*_year_heading(heading), Content(""), *(Content(row) for row in (*year_table(year), *year_rows(year))))


def _year_heading(said: str) -> tuple[Content, ...]:
    return (Content(""), Content.assemble(("THE REST OF THE YEAR: WHAT WOULD HELP", "bold")), Content(said))
