"""What is wrong with this line? A short list; a digit chooses, and what is changed counts from today on."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.line_changes.records import LineChange, Offer, Way
from checklists.plan.class_notes import CannotNote
from tui.keys import LINE_CHANGE, bindings_of
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.rows_screen import RowsScreen
from tui.screens.typing import TypingScreen
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

MOST_DIGITS = 9


class LineChangeScreen(RowsScreen):
    """The offers of one line. ``take`` gets the change that was made of one; ``go`` the page one leads to."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(LINE_CHANGE)]
    KEYS = LINE_CHANGE
    TITLE_OF_KEYS = "What is wrong with this line?"

    def __init__(
        self,
        on: date,
        name: str,
        offers: tuple[Offer, ...],
        take: Callable[[LineChange], None],
        go: Callable[[Offer], None],
    ) -> None:
        super().__init__(on)
        self.asked_of = name
        self.offers = {offer.key: offer for offer in offers}
        self.take = take
        self.go = go

    def on_mount(self) -> None:
        self.reread()

    def reread(self) -> None:
        self.query_one(Question).show(Content.assemble((f"{self.asked_of}: what is wrong with it?", "bold")))
        rows = [
            Row("matter", key, offer.label, number=str(n) if n <= MOST_DIGITS else "")
            for n, (key, offer) in enumerate(self.offers.items(), 1)
        ]
        self.list.show(rows, key=self.key_in_hand)
        self.say_what_for()

    @on(LineList.Moved)
    def say_what_for(self) -> None:
        """For what the one in hand counts."""
        offer = self.offers.get(self.key_in_hand)
        if offer is not None:
            when = "Opens" if offer.takes == "page" else "From this day on"
            self.query_one(MessageLine).put(Content.assemble((f"{when}: {offer.counts}.", "$quiet")))

    def action_digit(self, digit: str) -> None:
        keys = list(self.offers)
        if 0 < int(digit) <= min(MOST_DIGITS, len(keys)):
            self.go_to(keys[int(digit) - 1])
            self.action_accept()

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click takes it."""
        if event.again:
            self.action_accept()

    def action_accept(self) -> None:
        offer = self.offers.get(self.key_in_hand)
        if offer is None:
            return
        if offer.takes == "page":
            self.dismiss()
            self.go(offer)
        elif offer.takes == "choice":
            self.choose(offer)
        elif offer.takes == "typed":
            self.type_in(offer.label.partition(":")[0], offer.hint, partial(self.made, offer))
        else:
            self.finish(offer, "")

    def choose(self, offer: Offer) -> None:
        """One of its ways, narrowed by first letters; where it needs a reason, that is typed then."""
        ways = {way.key: way for way in offer.ways}

        def offers(typed: str) -> list[Row]:
            return [Row("matter", key, way.label) for key, way in ways.items() if has_words(way.label, typed)]

        def take(key: str) -> None:
            self.take_way(offer, ways[key])

        self.app.push_screen(ChoosingScreen(self.date, f"{offer.label}. What instead?", offers, take))

    def take_way(self, offer: Offer, way: Way) -> None:
        if way.needs_reason:
            asked = f"{offer.label}, {way.label}: why?"
            self.type_in(asked, way.caution, lambda reason: self.made(offer, way.key, reason))
        else:
            self.finish(offer, way.key)

    def made(self, offer: Offer, typed: str, reason: str = "") -> LineChange:
        """The change; raises CannotNote where it cannot be so."""
        return offer.make(self.book.plan_files, typed, reason)

    def type_in(self, asked: str, hint: str, make: Callable[[str], LineChange]) -> None:
        """Type what it takes: it is held against what can be at every key."""

        def take(typed: str) -> None:
            change = make(typed)
            self.dismiss()
            self.take(change)

        self.app.push_screen(TypingScreen(self.date, asked, hint, make, take))

    def finish(self, offer: Offer, typed: str) -> None:
        try:
            change = self.made(offer, typed)
        except CannotNote as problem:
            self.say(str(problem), alarm=True)
            return
        self.dismiss()
        self.take(change)


def has_words(label: str, typed: str) -> bool:
    """Whether every word typed begins a word of the label."""
    words = label.casefold().replace("-", " ").split()
    return all(any(word.startswith(each) for word in words) for each in typed.casefold().replace("-", " ").split())
