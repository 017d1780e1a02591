"""What is where?"""

from __future__ import annotations

from datetime import date, datetime

from textual.content import Content

from checklists.daybook.cases import cases_now
from checklists.daybook.counting_back import case_offers
from checklists.daybook.lending import loan_offers, loans_now
from checklists.daybook.matters import Choice
from checklists.daybook.whereabouts import Whereabouts, matching, place_offers, whereabouts
from checklists.words import say_date
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.saying import SayingScreen
from tui.widgets.message_line import MessageLine


class WhereScreen(ChoosingScreen):
    """Everything with a place, what is not where it lives first; the first letters narrow it. Enter says it anew."""

    TITLE_OF_KEYS = "What is where"
    closes = False

    def __init__(self, on: date) -> None:
        super().__init__(on, "What is where", self.rows_for, self.say_anew, nothing="Nothing with a place begins so.")
        self.told = ""
        """What was said last on this screen."""

    @property
    def things(self) -> tuple[Whereabouts, ...]:
        recorder = self.trundle.recorder
        book = recorder.book
        return whereabouts(book.plan, recorder.day(self.date), recorder.marks(self.date), book.opening(self.date))

    def rows_for(self, typed: str) -> list[Row]:
        rows: list[Row] = []
        for thing in matching(self.things, typed):
            title = "Not where it lives" if thing.is_elsewhere else "At the store"
            if not any(row.name == title for row in rows):
                rows.append(Row("heading", f"heading {title}", title, tone="heading"))
            is_grave = thing.kind == "missing"
            rows.append(
                Row("todo", thing.key, thing.words, tone="critical" if is_grave else "plain", critical=is_grave)
            )
        return rows

    def question(self) -> tuple[Content, ...]:
        title = Content.assemble((say_date(self.date), "bold"), "  What is where?")
        return title, Content("Enter: say where it is now. Esc: back; on the list u takes it back.")

    def echo(self) -> None:
        if self.told and not self.typed:
            self.query_one(MessageLine).put(Content(self.told))
        else:
            super().echo()

    def say_anew(self, key: str) -> None:
        """Where the thing in hand is now; of what is lent or missing, what became of it."""
        thing = next((each for each in self.things if each.key == key), None)
        if thing is None:
            return
        screen = SayingScreen(self.date, self.asked_of(thing), lambda typed, at: self.can_say(thing, typed, at))
        self.app.push_screen(screen, lambda _: self.tell(screen.said))

    @staticmethod
    def asked_of(thing: Whereabouts) -> str:
        if thing.kind == "lent":
            return f"{thing.name} to {thing.where}: what is back? A number, where not all."
        if thing.kind == "missing":
            return f"{thing.name}: what became of it? Type where, or whom."
        return f"{thing.name}: where is it now? {thing.where} so far."

    def can_say(self, thing: Whereabouts, typed: str, at: datetime) -> tuple[Choice, ...] | str:
        recorder = self.trundle.recorder
        plan, day, marks = recorder.book.plan, recorder.day(self.date), recorder.marks(self.date)
        if thing.kind == "lent":
            loan = next((each for each in loans_now(day, marks) if each.key == thing.key), None)
            return loan_offers(loan, typed, at) if loan is not None else ()
        if thing.kind == "missing":
            cases = {f"case/{case.key}": case for case in cases_now(plan, day, marks)}
            return case_offers(plan, day, cases[thing.key], typed, at) if thing.key in cases else ()
        return place_offers(plan, thing.key, typed, at)

    def tell(self, said: str) -> None:
        """Back here: the whole list again, and what was said."""
        self.typed, self.told = "", said
        self.show_offers()
