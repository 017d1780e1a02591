"""What is unresolved at the end of the day?"""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from checklists.book import NotSaved
from checklists.daybook.besides import said_besides
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import AnyEntry
from checklists.daybook.matters import MISSED, REACHED, SHARPS, OpenMatter
from checklists.words import join_words, plural, say_date, say_room
from tui.keys import DAY_END, bindings_of
from tui.screens.matters_screen import MattersScreen


class DayEndScreen(MattersScreen):
    """Every unresolved matter of the day in the order in which it matters. It can be left and taken up at any point."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(DAY_END)]
    KEYS = DAY_END
    TITLE_OF_KEYS = "End of the day"
    QUESTION = "End of the day"
    has_been_told = False
    """Whether she was told what critical is open, since her last step."""

    def find_matters(self) -> tuple[OpenMatter, ...]:
        recorder = self.trundle.recorder
        day = recorder.day(self.date)
        return at_day_end(recorder.book.plan, day, recorder.marks(self.date), self.trundle.now())

    def text_of(self, matter: OpenMatter) -> str:
        """A count says first what it counts; the question stands in the heading."""
        day = self.trundle.recorder.day(self.date)
        line = next((line for line in day.lines if line.supply == matter.supply), None)
        visit = next((visit for visit in day.visits if visit.key == matter.visit), None)
        if matter.typed != "count" or line is None or visit is None:
            return matter.text
        return f"{matter.out} {line.name}, {visit.name} {visit.class_id} {say_room(visit.room)}"

    def heading_of(self, matter: OpenMatter) -> str:
        if matter.section != SHARPS:
            return matter.section
        return f"{SHARPS}: how many came back?" if matter.typed == "count" else f"{SHARPS}: missing or too many"

    def statement(self) -> Content:
        """How many matters wait, or that the day can be closed."""
        waiting = [matter for matter in self.matters if not matter.answer]
        if self.book.is_closed(self.date):
            return Content.assemble(
                (f"{say_date(self.date)} is closed. What you change now is carried on.", "bold $ready")
            )
        if not waiting:
            return Content.assemble(("Nothing is unresolved. c closes the day.", "bold $ready"))
        critical = sum(matter.critical for matter in waiting)
        said = f"{plural(len(waiting), 'thing')} to settle" + (f", {critical} critical" if critical else "")
        return Content.assemble((f"{said}. c closes the day at any time.", "bold"))

    def action_as_planned(self) -> None:
        """The visit in hand went as planned: the first answer of what it reached. Never a count of sharps."""
        current = self.matter
        if current is None or self.typing is not None:
            return
        if current.section not in (REACHED, MISSED):
            counts = "type how many came back, or = for all" if current.typed == "count" else "choose by digit"
            self.say(f"a is only for what a class reached. Here: {counts}.")
        elif current.answer:
            self.say(f"Said already: {current.answer}. Say something else to change it.")
        else:
            of_visit = [m for m in self.matters if m.visit == current.visit and m.section == REACHED and not m.answer]
            self.take_step(current, (of_visit[0] if of_visit else current).choices[0].entries)

    def action_visits(self) -> None:
        """What came back, a line a visit."""
        from tui.screens.visits import VisitsScreen

        if self.typing is None:
            self.app.push_screen(VisitsScreen(self.date))

    def action_all_back(self) -> None:
        """All of a counted thing came back: its first answer. It says nothing of any other line."""
        self.take_first("count", "= is only for counts: all came back.")

    def action_nobody(self) -> None:
        """Nobody missed it: the first answer of that question."""
        self.take_first("missed", "n is only for who missed it: nobody.")

    def action_count_later(self) -> None:
        """It could not be counted yet: it stays on top until it is."""
        current = self.matter
        later = [each for each in current.choices if each.label == "later"] if current is not None else []
        if current is None or self.typing is not None:
            return
        if later:
            self.take_step(current, later[0].entries)
        else:
            self.say("l is only for today's counts: to be counted later.")

    def said_of(self, matter: OpenMatter, entry: AnyEntry) -> str:
        """What was noted, and what follows from it for the visits still to come, or where a sharp stays in a room."""
        recorder = self.trundle.recorder
        day, marks, opening = recorder.day(self.date), recorder.marks(self.date), self.book.opening(self.date)
        besides = said_besides(self.book.plan, day, marks, opening, (entry,), brief=True)
        return " ".join((super().said_of(matter, entry), *besides))

    def take_first(self, typed: str, otherwise: str) -> None:
        current = self.matter
        if current is None or self.typing is not None:
            return
        if current.typed == typed:
            self.take_step(current, current.choices[0].entries)
        else:
            self.say(otherwise)

    def take_step(self, matter: OpenMatter, entries: tuple[AnyEntry, ...]) -> None:
        self.has_been_told = False
        super().take_step(matter, entries)

    def action_undo(self) -> None:
        self.has_been_told = False
        super().action_undo()

    def action_close(self) -> None:
        """Close the day, and show what that did. What is critical and open is said once before."""
        book = self.book
        if self.typing is not None or book.is_closed(self.date):
            return
        counts = critical_text(self.matters)
        if counts and not self.has_been_told:
            self.has_been_told = True
            self.say(f"{counts}; c again closes all the same.", alarm=True)
            return
        try:
            done = self.trundle.recorder.close(self.date, self.trundle.now())
        except NotSaved as problem:
            self.say(f"Not closed: {problem}", alarm=True)
            return
        self.reread()
        self.say("The day is closed. u opens it again.")
        from tui.screens.closed import ClosedScreen

        self.app.push_screen(ClosedScreen(self.date, done), self.open_again)

    def open_again(self, wanted: bool | None) -> None:
        if wanted:
            self.action_undo()


def critical_text(matters: tuple[OpenMatter, ...]) -> str:
    """ "16 counts and 1 missing thing open"; "" where nothing critical is."""
    waiting = [matter for matter in matters if matter.critical and not matter.answer]
    counts = sum(matter.typed == "count" for matter in waiting)
    others = len(waiting) - counts
    said = [plural(counts, "count")] if counts else []
    said += [plural(others, "missing thing")] if others else []
    return f"{join_words(said)} open" if said else ""
