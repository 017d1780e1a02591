"""What do I want otherwise here? Wishes about a visit or a stop of the route, each with what it changes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import ClassVar, NamedTuple

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.pages.plain import wrap
from checklists.pages.route_layout import at_both_ends
from checklists.pages.route_wishes import HELPER_CAUTION
from checklists.route.pins import HELPER, Pin
from tui.keys import ROUTE_WISHES, bindings_of
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question

LEAD = 5
"""Cells before a row's text, and the bar at its side."""


class Offer(NamedTuple):
    """A wish that can be said here, or taken back where it holds."""

    pin: Pin
    back: bool
    words: str
    then: str
    """What gets worse or better with it."""


Take = Callable[[Offer, bool], None]
"""Told which one was chosen, and whether for good."""


class RouteWishesScreen(RowsScreen):
    """One of them is chosen by its digit or Enter; nothing is asked again, u on the route takes it back."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(ROUTE_WISHES)]
    KEYS = ROUTE_WISHES
    TITLE_OF_KEYS = "Wishes for the route"

    def __init__(self, on: date, about: str, offers: Sequence[Offer], for_good: bool, take: Take) -> None:
        super().__init__(on)
        self.about = about
        self.offers = offers
        self.for_good = for_good
        self.take = take

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    def reread(self) -> None:
        width = self.size.width - LEAD
        rows: list[Row] = []
        for n, offer in enumerate(self.offers, 1):
            first, *more = at_both_ends(f"{n if n < 10 else ' '} {offer.words}", offer.then, width)
            rows.append(Row("reading", f"offer {n}", first))
            rows += [Row("text", f"offer {n} more {at}", each) for at, each in enumerate(more)]
        if any(each.pin.how == HELPER for each in self.offers):
            rows.append(Row("text", "space", ""))
            caution = wrap(HELPER_CAUTION, width=width)
            rows += [Row("text", f"caution {n}", each, tone="quiet") for n, each in enumerate(caution)]
        self.list.show(rows, self.list.cursor, key=self.key_in_hand)
        held, other = ("for good", "this day only") if self.for_good else ("this day only", "for good")
        self.query_one(Question).show(
            Content.assemble((self.about, "bold"), "  What instead?"),
            Content.assemble("It holds ", (held, "bold"), "; g: ", other),
        )

    def action_switch_span(self) -> None:
        """Between today and for good."""
        self.for_good = not self.for_good
        self.reread()

    def action_digit(self, digit: str) -> None:
        if 1 <= int(digit) <= len(self.offers):
            self.choose(int(digit) - 1)

    def action_accept(self) -> None:
        if self.key_in_hand.startswith("offer "):
            self.choose(int(self.key_in_hand.split()[1]) - 1)

    def choose(self, n: int) -> None:
        self.dismiss()
        self.take(self.offers[n], self.for_good)

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click takes it."""
        if event.again:
            self.action_accept()
