"""What is half done on the list: a number half typed, a choice that waits for its digit; and what is asked then."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, get_args

from rich.cells import cell_len
from textual import events, on
from textual.content import Content

from checklists.daybook.entries import Reason, Remedy
from checklists.daybook.line_states import has_now
from checklists.lines.records import Decision, Line
from tui.columns import fit
from tui.screens.walking import WalkingScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine, choice_rows

REMEDIES: tuple[Remedy, ...] = get_args(Remedy)
REASONS: tuple[Reason, ...] = get_args(Reason)


class HalfDoneScreen(WalkingScreen):
    """Holds what is half done for the row in hand and asks for the rest; records nothing."""

    typed = ""
    """The half-typed number, of the row ``begun_on``."""
    step: Literal["", "short", "not needed"] = ""
    """The step that waits for its digit, of the same row."""
    begun_on = ""

    def row_key(self) -> str:
        """Key of the row in hand. What was half done on another row is let go of here."""
        row = self.list.row
        key = row.key if row is not None else ""
        if (self.typed or self.step) and key != self.begun_on:
            self.let_go_of_step()
        return key

    def begin(self, *, typed: str = "", step: Literal["", "short", "not needed"] = "") -> None:
        self.begun_on = self.row_key()
        self.typed, self.step = typed, step
        self.ask()

    def let_go_of_step(self) -> None:
        """Nothing is half done any more."""
        if self.typed or self.step:
            self.typed, self.step = "", ""
            self.ask()

    @on(LineList.Moved)
    def let_go_of_other_row(self) -> None:
        """What was half done belongs to the row before; what must be decided shows its choices."""
        self.row_key()
        is_asking = self.query_one(MessageLine).is_alone and not self.typed and not self.step
        if self.decision is not None or is_asking:
            self.ask()
        elif not self.step:  # what was said of the step just made stays
            self.query_one(KeyBar).show_instead(None)

    def on_resize(self, event: events.Resize) -> None:
        if self.typed or self.step:
            self.ask()

    def ask(self) -> None:
        """Say what is half done and which keys finish it; choices that need a second row take that of the keys."""
        message, keys, line = self.query_one(MessageLine), self.query_one(KeyBar), self.line
        rows = [Content("")]
        if self.step == "short" and line is not None:
            rows = self.ways_out(line)
        elif self.step:
            rows = choice_rows(*self.ways_off(line), self.size.width - 2)
        elif self.typed:
            rows = [Content(self.echo(line))]
        elif self.decision is not None:
            rows = self.offered(self.decision)
        message.put(rows[0], alone=bool(self.typed or self.step or self.decision))
        keys.show_instead(Content(" ") + rows[1] if len(rows) > 1 else None)

    @property
    def decision(self) -> Decision | None:
        """What must be decided, where it is in hand."""
        row = self.list.row
        return self.decision_by_key.get(row.key) if row is not None else None

    def offered(self, decision: Decision) -> list[Content]:
        """The ways out of what cannot be taught as it is; in a small window in fewer words."""
        labels, width = [offer.label for offer in decision.offers], self.size.width - 2
        rows = choice_rows("Choose:", labels, width)
        short = max(8, 2 * width // max(1, len(labels)) - 8)
        return (
            rows
            if len(rows) <= 2
            else choice_rows("", [fit(each, min(short, cell_len(each))) for each in labels], width)
        )

    def ways_off(self, line: Line | None) -> tuple[str, Sequence[str]]:
        """What can be said of what does not come along, and the question."""
        if line is None or not line.forbidden:
            return "Off:", REASONS
        from checklists.daybook.before_leaving import choices_for_line  # only here: hardly anything is forbidden

        choices = choices_for_line(line, self.marks, self.trundle.now())
        return "Must not come along:", [choice.label for choice in choices]

    def ways_out(self, line: Line) -> list[Content]:
        """What can be done about a short line and what it comes to; only the remedies where that takes a third row."""
        from checklists.daybook.remedies import remedies_for  # only here: a start does not work out what may be short
        from checklists.daybook.stock_now import stock_now

        there, width = self.count_said(line), self.size.width - 2
        question = f"Short, {there} of {line.need}:"
        book = self.book
        stock = stock_now(book.plan, self.day, self.marks, book.opening(self.day.date))
        ways = remedies_for(book.plan, self.day, line, self.marks, stock, there)
        rows = choice_rows(question, [way.short_label for way in ways], width)
        return rows if len(rows) <= 2 else choice_rows(question, REMEDIES, width)

    def echo(self, line: Line | None) -> str:
        """What is typed, for which line, and which keys finish it; a long name is cut, never the keys."""
        if line is None:
            out = f"Enter: {self.typed} taken out  " if self.begun_on in self.take_out_by_key else ""
            return f"{self.typed}_  {out}j: jump to line {self.typed}"
        keys = f" Enter: {self.typed} of {line.need + line.ahead} in it  s: short  j: line {self.typed}"
        room = self.size.width - 2 - len(f"{self.typed}_ ") - len(keys)
        name = fit(line.name, max(8, min(cell_len(line.name), room)))
        return f"{self.typed}_ {name}{keys}"

    def action_erase(self) -> None:
        self.row_key()
        if self.typed and not self.step:
            self.typed = self.typed[:-1]
            self.ask()

    def action_back(self) -> None:
        self.let_go_of_step()
        self.say("")

    def count_said(self, line: Line) -> int:
        """How many of a line there are: what was typed, else what is in the container."""
        return int(self.typed) if self.typed else has_now(line, self.marks)
