"""Where do I go next? The day in its order: stops at the store, the cart from there, visits, minutes to spare."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from checklists.lines.records import Day
from checklists.pages.route import say_cost, say_too_much, say_whether_any
from checklists.pages.route_timeline import (
    AFTER_SCHOOL,
    is_stop,
    route_timeline,
    say_next,
    stop_key,
    visit_key,
    whens_of,
)
from checklists.pages.route_wishes import say_ways_out
from checklists.route.day_route import DayRoute
from checklists.words import say_date
from tui.keys import ROUTE, bindings_of
from tui.route_rows import timeline_rows
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.question import Question

LEAD = 5
"""Cells before a row's text, and the bar at its side."""
EVERY = 30
"""Seconds after which it is looked again which visit is next."""


class RouteScreen(RowsScreen):
    """The best route of a day, the next visit in hand; where nothing fits, what would make one."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(ROUTE)]
    KEYS = ROUTE
    TITLE_OF_KEYS = "The route"

    def on_mount(self) -> None:
        self.reread()
        self.list.cursor = self.list.nearest(self.list.index_of(self.place_of_next()) or 0)
        self.set_interval(EVERY, self.reread)

    def on_resize(self) -> None:
        self.reread()

    @property
    def day(self) -> Day:
        return self.trundle.recorder.day(self.date)

    @property
    def route(self) -> DayRoute:
        return self.book.route(self.date)

    @property
    def minute(self) -> int | None:
        """That of the clock where the day is today."""
        now = self.trundle.now()
        return now.hour * 60 + now.minute if now.date() == self.date else None

    def reread(self) -> None:
        day = self.day
        rows = self.rows_of_day(day) if day.visits else [Row("text", "none", "There are no visits on this day.")]
        self.list.show(rows, self.list.cursor, key=self.key_in_hand)
        self.query_one(Question).show(*self.question(day))

    def rows_of_day(self, day: Day) -> list[Row]:
        plan, route, width = self.book.plan, self.route, self.size.width - LEAD
        rows: list[Row] = []
        if route.plan is None:
            rows += self.ways_out(day, route)
        timeline = route_timeline(plan, day, self.trundle.recorder.marks(self.date), route, self.minute)
        return [*rows, *timeline_rows(timeline, width)]

    def ways_out(self, day: Day, route: DayRoute) -> list[Row]:
        """What is too much, and what would make a plan."""
        ways = list(say_ways_out(self.book.plan, day, route))
        said = [*say_too_much(day, route.problem), say_whether_any(ways)]
        rows = [Row("text", f"too much {n}", each) for n, each in enumerate(said)]
        return rows + [Row("reading", f"way out {n}", f"- {each}") for n, each in enumerate(ways)]

    def question(self, day: Day) -> tuple[Content, ...]:
        """What it costs, and where to go next."""
        route = self.route
        cost = say_cost(route.plan) if route.plan is not None else "no way to take everything along"
        title = Content.assemble((say_date(self.date), "bold"), f"  {cost}" if day.visits else "")
        minute = self.minute
        following = ""
        if minute is not None and day.visits:
            following = say_next(self.book.plan, day, self.trundle.recorder.marks(self.date), route, minute)
        return title, Content.assemble((following, "bold"))

    def place_of_next(self) -> str:
        """The key of the stop or visit that comes next, of another day than today the first."""
        day, route = self.day, self.route
        whens = whens_of(day, route, self.minute) if day.visits else ()
        if "next" not in whens:
            return visit_key(day.visits[whens.index("now")]) if "now" in whens else ""
        n = whens.index("next")
        stops = {stop.before for stop in route.told.stops} if route.told is not None else set()
        return stop_key(n) if n in stops else visit_key(day.visits[n])

    # ------------------------------------------------------------------------------------------------- going about

    def action_section_after(self) -> None:
        """The next stop at the store, or the next part of the page."""
        self.go_to_part(range(self.list.cursor + 1, len(self.list.rows)))

    def action_section_before(self) -> None:
        self.go_to_part(range(self.list.cursor - 1, -1, -1))

    def go_to_part(self, indices: range) -> None:
        for index in indices if self.may_leave_row() else ():
            row = self.list.rows[index]
            if row.kind == "heading" or row.key == AFTER_SCHOOL or (row.kind == "reading" and is_stop(row.key)):
                self.list.cursor = self.list.nearest(index)
                return

    def action_digit(self, digit: str) -> None:
        """To a visit by its number."""
        visit = next((each for each in self.day.visits if str(each.number) == digit), None)
        if visit is not None:
            self.go_to(visit_key(visit))
