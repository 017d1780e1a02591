"""Where do I go next? The day in its order: stops at the store, the cart from there, visits, minutes to spare."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.lines.records import Day
from checklists.pages.plain import wrap
from checklists.pages.route import say_cost
from checklists.pages.route_next import say_next
from checklists.pages.route_timeline import (
    AFTER_SCHOOL,
    is_stop,
    route_timeline,
    stop_key,
    visit_key,
    whens_of,
)
from checklists.pages.route_wishes import WayOut, ways_out
from checklists.route.begun import route_anew
from checklists.route.day_route import DayRoute
from checklists.words import say_date
from tui.keys import ROUTE, bindings_of
from tui.route_rows import timeline_rows, walk_rows, way_out_key, ways_out_rows, wish_rows, without_second_caution
from tui.rows import Row
from tui.screens.help import ROUTE_WORDS
from tui.screens.route_walks import WalksAsked
from tui.screens.route_wishing import Wishing
from tui.widgets.band import Line
from tui.widgets.line_list import LineList
from tui.widgets.question import Question

LEAD = 5
"""Cells before a row's text, and the bar at its side."""
EVERY = 30
"""Seconds after which it is looked again which visit is next."""


class RouteScreen(Wishing, WalksAsked):
    """The best route of a day, the next visit in hand; where nothing fits, what would make one."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(ROUTE)]
    KEYS = ROUTE
    TITLE_OF_KEYS = "The route"
    WORDS = ROUTE_WORDS

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.ways: tuple[WayOut, ...] = ()
        """Where nothing fits: what would make a plan, in the order of the rows."""

    def on_mount(self) -> None:
        self.reread()
        self.list.cursor = self.list.nearest(self.list.index_of(self.place_of_next()) or 0)
        self.set_interval(EVERY, self.reread)

    def on_resize(self) -> None:
        self.reread()

    # ------------------------------------------------------------------------------------------------------ showing

    def reread(self) -> None:
        day = self.day
        rows = self.rows_of_day(day) if day.visits else [Row("text", "none", "There are no visits on this day.")]
        self.list.show(rows, self.list.cursor, key=self.key_in_hand)
        self.query_one(Question).show(*self.question(day))

    def rows_of_day(self, day: Day) -> list[Row]:
        plan, route, width = self.book.plan, self.route, self.size.width - LEAD
        self.ways = ways_out(plan, day, route) if route.plan is None else ()
        rows = list(ways_out_rows(day, route, self.ways, width)) if route.plan is None else []
        if rows:
            rows.append(Row("heading", "heading visits", "THE VISITS", tone="heading"))
        rows += timeline_rows(route_timeline(plan, day, self.marks, route, self.minute), width)
        rows += walk_rows(plan, self.walks_asked(day, route), width)
        rows += wish_rows(plan, day, self.costs_of_wishes(day, route), self.wishes_left_out(), width)
        return list(without_second_caution(rows))

    def question(self, day: Day) -> tuple[Line, ...]:
        """What it costs, and where to go next."""
        if not day.visits:
            return (Content.assemble((say_date(self.date), "bold")),)
        route = self.route
        cost = say_cost(route.plan) if route.plan is not None else "no way to take everything along"
        is_wide = self.size.width >= 80
        title = Content.assemble((say_date(self.date), "bold"), f"  {cost if is_wide else cost.replace(' in all', '')}")
        minute = self.minute
        following = say_next(self.book.plan, day, self.marks, route, minute) if minute is not None else ""
        span = Content("g: what you say holds for good" if self.for_good and is_wide else "")
        said = wrap(following, indent=0, width=self.size.width - 2) if following else [""]
        return (title, span), *(Content.assemble((row, "bold")) for row in said)

    def place_of_next(self) -> str:
        """The key of the stop or visit that comes next, of another day than today the first; of what would help."""
        if self.ways:
            return way_out_key(0)
        day, route = self.day, self.route
        whens = whens_of(day, route, self.minute) if day.visits else ()
        if "next" not in whens:
            return visit_key(day.visits[whens.index("now")]) if "now" in whens else ""
        n = whens.index("next")
        stops = {stop.before for stop in route.told.stops} if route.told is not None else set()
        return stop_key(n) if n in stops else visit_key(day.visits[n])

    # -------------------------------------------------------------------------------------------------- going about

    def action_section_after(self) -> None:
        """The next stop at the store, or the next part of the page."""
        self.go_to_part(range(self.list.cursor + 1, len(self.list.rows)))

    def action_section_before(self) -> None:
        self.go_to_part(range(self.list.cursor - 1, -1, -1))

    def go_to_part(self, indices: range) -> None:
        for index in indices if self.may_leave_row() else ():
            row = self.list.rows[index]
            if row.kind == "heading" or row.key == AFTER_SCHOOL or (row.kind == "reading" and is_stop(row.key)):
                found = self.list.nearest(index)
                if found != self.list.cursor:
                    self.list.cursor = found
                    return

    def action_days(self) -> None:
        from tui.screens.routes_ahead import RoutesAheadScreen

        self.app.push_screen(RoutesAheadScreen(self.trundle.recorder, self.date, self.trundle.now()))

    def action_digit(self, digit: str) -> None:
        """Minutes of the walk in hand; what would make a plan, where nothing fits; else to a visit by its number."""
        if self.types_minutes(digit):
            return
        if self.ways:
            self.take_way_out(int(digit) - 1)
            return
        visit = next((each for each in self.day.visits if str(each.number) == digit), None)
        if visit is not None:
            self.go_to(visit_key(visit))

    def action_accept(self) -> None:
        key = self.key_in_hand
        if key.startswith("walk/"):
            self.say_walk_in_hand()
        elif key.startswith("wish/"):
            self.take_wish_back(key)
        elif key.startswith("way out/"):
            self.take_way_out(next(n for n in range(len(self.ways)) if way_out_key(n) == key))
        else:
            self.open_wishes(key)

    def take_way_out(self, n: int) -> None:
        """Say what makes a plan, where it is something that is said here."""
        way = self.ways[n] if 0 <= n < len(self.ways) else None
        if way is None:
            return
        if way.pin is None:
            self.say("That is not said here: see to it, and change the plan or the day where it says so.")
        else:
            self.take_wish(way.pin, back=way.back, for_good=False)

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click does what Enter does."""
        if event.again:
            self.action_accept()

    def action_anew(self) -> None:
        """The best route for the rest of the day, where it is only as like the one before as it can be."""
        route: DayRoute = self.route
        entry = route_anew(self.day, self.marks, route, self.trundle.now()) if route.like is not None else None
        if entry is None:
            self.say("It is the best route already.")
            return
        before = route.plan.cost if route.plan is not None else None
        self.tell_what_is_new(self.record(entry), "The best route anew", before)

    def action_undo(self) -> None:
        if self.typed:
            return
        before = self.of_the_route()
        said = self.take_back()
        if said and self.of_the_route() == before:
            self.say(f"Taken back, not of the route but of the day's list: {said}.")

    def of_the_route(self) -> tuple[object, ...]:
        """All that is said of the day or in the plan and has to do with the route."""
        marks = self.trundle.recorder.marks(self.date)
        return (marks.changes, marks.left, marks.route, dict(marks.places), self.book.plan.school)

    def action_back(self) -> None:
        if self.typed:
            self.stop_typing()
        else:
            super().action_back()
