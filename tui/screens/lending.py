"""What is lent, and to whom?"""

from __future__ import annotations

from datetime import date, datetime

from textual.content import Content

from checklists.daybook.lending import lend_offers, lendable, loan_offers, loans_now
from checklists.daybook.matters import Choice
from checklists.daybook.said_of_cases import say_loan
from checklists.daybook.stock_now import stock_now
from checklists.words import say_date
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.saying import SayingScreen
from tui.widgets.message_line import MessageLine


class LendWhatScreen(ChoosingScreen):
    """What is lent already stands on top, to be taken back; below it every supply, by its first letters."""

    TITLE_OF_KEYS = "Lending"
    closes = False

    def __init__(self, on: date) -> None:
        super().__init__(on, "Lend what?", self.rows_for, self.take_thing, nothing="No supply begins so.")
        self.told = ""

    def rows_for(self, typed: str) -> list[Row]:
        recorder = self.trundle.recorder
        plan, sign = recorder.book.plan, typed.strip().casefold()
        day = recorder.day(self.date)
        loans = loans_now(day, recorder.marks(self.date))
        rows = [Row("todo", loan.key, say_loan(plan, loan, day.date)) for loan in loans if not sign]
        listed = {line.supply for line in day.lines}
        found = [each for each in lendable(plan) if any(word.startswith(sign) for word in _words(each.name, sign))]
        found.sort(key=lambda each: (not each.name.casefold().startswith(sign), each.id not in listed))
        return rows + [Row("todo", f"supply {each.id}", each.name) for each in found]

    def question(self) -> tuple[Content, ...]:
        title = Content.assemble((say_date(self.date), "bold"), "  Lend what? What is on today's list stands first.")
        return title, Content("Enter on something lent: it is back. Esc: back; on the list u takes it back.")

    def echo(self) -> None:
        if self.told and not self.typed:
            self.query_one(MessageLine).put(Content(self.told))
        else:
            super().echo()

    def take_thing(self, key: str) -> None:
        plan = self.book.plan
        supply = plan.supply_by_id.get(key.removeprefix("supply "))
        title = "What is back? A number, where not all."
        if supply is not None:
            title = f"{supply.name}: how many, and to whom? 12 16 is 12 to Room 16"
        screen = SayingScreen(self.date, title, lambda typed, at: self.can_say(key, typed, at))
        self.app.push_screen(screen, lambda _: self.tell(screen.said))

    def can_say(self, key: str, typed: str, at: datetime) -> tuple[Choice, ...] | str:
        recorder = self.trundle.recorder
        plan, day, marks = recorder.book.plan, recorder.day(self.date), recorder.marks(self.date)
        loan = next((each for each in loans_now(day, marks) if each.key == key), None)
        if loan is not None:
            return loan_offers(loan, typed, at)
        supply = plan.supply_by_id[key.removeprefix("supply ")]
        return lend_offers(plan, stock_now(plan, day, marks, self.book.opening(self.date)), supply, typed, at)

    def tell(self, said: str) -> None:
        self.typed, self.told = "", said
        self.show_offers()


def _words(name: str, sign: str) -> list[str]:
    """The name from each of its words on, so that its beginning may be any of them."""
    words = name.casefold().split()
    return [" ".join(words[index:]) for index in range(len(words) if sign else 1)]
