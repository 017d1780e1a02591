"""What is unresolved at the end of the day?"""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from checklists.book import NotSaved
from checklists.daybook.day_end import MISSED, REACHED, at_day_end
from checklists.daybook.matters import OpenMatter
from checklists.words import plural, say_date
from tui.keys import DAY_END, bindings_of
from tui.screens.matters_screen import MattersScreen


class DayEndScreen(MattersScreen):
    """Every unresolved matter of the day in the order in which it matters. It can be left and taken up at any point."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(DAY_END)]
    KEYS = DAY_END
    TITLE_OF_KEYS = "End of the day"

    def find_matters(self) -> tuple[OpenMatter, ...]:
        recorder = self.trundle.recorder
        day = recorder.day(self.date)
        return at_day_end(recorder.book.plan, day, recorder.marks(self.date), self.trundle.now())

    def statement(self) -> Content:
        """How many matters wait, or that the day can be closed."""
        waiting = [matter for matter in self.matters if not matter.answer]
        date = say_date(self.date)
        if self.trundle.recorder.book.is_closed(self.date):
            return Content.assemble((f"{date} is closed. What you change now is carried on.", "bold $ready"))
        if not waiting:
            return Content.assemble((f"{date}: nothing is unresolved. c closes the day.", "bold $ready"))
        critical = sum(matter.critical for matter in waiting)
        said = f"{date}: {plural(len(waiting), 'thing')} to settle" + (f", {critical} critical" if critical else "")
        return Content.assemble((f"{said}. c closes the day at any time.", "bold"))

    def action_as_planned(self) -> None:
        """The visit in hand went as planned: the first answer of what it reached. Never a count of sharps."""
        current = self.matter
        if current is None or self.typing is not None or current.section not in (REACHED, MISSED):
            return
        of_visit = [m for m in self.matters if m.visit == current.visit and m.section == REACHED and not m.answer]
        asked = of_visit[0] if of_visit else current
        self.take_step(current, asked.choices[0].entries)

    def action_all_back(self) -> None:
        """All of a counted thing came back: its first answer. It says nothing of any other line."""
        current = self.matter
        if current is not None and self.typing is None and current.typed == "count":
            self.take_step(current, current.choices[0].entries)

    def action_close(self) -> None:
        """Close the day. What it did is said in words; what is open is carried over."""
        if self.trundle.recorder.book.is_closed(self.date):
            return
        try:
            done = self.trundle.recorder.book.close(self.date, self.trundle.now())
        except NotSaved as problem:
            self.say(f"Not closed: {problem}", alarm=True)
            return
        self.reread()
        self.say(" ".join(done) or "The day is closed.")
