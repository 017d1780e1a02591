"""What is still open before you go?"""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from checklists.daybook.entries import LeftStore
from checklists.daybook.line_states import open_lines
from checklists.daybook.matters import OpenMatter
from checklists.leaving import open_before_leaving
from checklists.route.departure import OUT
from checklists.words import clock, minute_of_day
from tui.keys import LEAVING, bindings_of
from tui.screens.matters_screen import MattersScreen


class LeavingScreen(MattersScreen):
    """Everything open before leaving the store, critical first. Leaving with open lines is allowed and written down."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(LEAVING)]
    KEYS = LEAVING
    TITLE_OF_KEYS = "Before you go"
    QUESTION = "Before you go"

    def __init__(self, on: date, *, quitting: bool = False) -> None:
        super().__init__(on)
        self.is_quitting = quitting

    def find_matters(self) -> tuple[OpenMatter, ...]:
        marks, now = self.trundle.recorder.marks(self.date), self.trundle.now()
        return open_before_leaving(self.book, self.date, marks, now, short=True, is_today=now.date() == self.date)

    def heading_of(self, matter: OpenMatter) -> str:
        if matter.when == OUT:
            return OUT.capitalize()
        if matter.when:
            return f"For later: {matter.when}"
        return "Critical" if matter.critical else "Also open"

    def statement(self) -> Content:
        """ "4 things are still open, 2 of them critical." With why this page opened, where she wanted to quit."""
        quits = "  q again quits." if self.is_quitting else ""
        return self.open_text() + Content.assemble((quits, "bold"))

    def open_text(self) -> Content:
        every = [matter for matter in self.matters if not matter.answer]
        waiting = [matter for matter in every if not matter.when]
        critical = sum(matter.critical for matter in waiting)
        for_later = sum(matter.when not in ("", OUT) for matter in every)
        later = f" {for_later} for later." if for_later else ""
        if not waiting:
            return Content.assemble(("Nothing is open. The cart is ready.", "bold $ready"), later)
        things = "1 thing is still open" if len(waiting) == 1 else f"{len(waiting)} things are still open"
        if not critical:
            return Content(f"{things}, nothing critical.{later}")
        which = ", and it is critical" if len(waiting) == 1 else f", {critical} of them critical"
        return Content.assemble((f"{things}{which}.", "bold $alarm"), later)

    def action_leave(self) -> None:
        """She goes now; what is open is written down, and nothing holds her."""
        recorder = self.trundle.recorder
        lines = open_lines(recorder.day(self.date), recorder.marks(self.date))
        now = self.trundle.now()
        problem = self.record(LeftStore(at=now, open_lines=tuple(line.key for line in lines)))
        self.reread()
        said = f"You left at {clock(minute_of_day(now))}. b: back to the list, q: quit."
        self.say(problem or said, alarm=bool(problem))
