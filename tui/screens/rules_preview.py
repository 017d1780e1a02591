"""What would a rule of her own change in the coming two weeks?"""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from msgspec import structs
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from checklists.book import NotSaved
from checklists.own_rules.choices import BASES, Choice, rule_from, say_choice
from checklists.own_rules.preview import preview_of, say_preview
from checklists.own_rules.times import When
from checklists.own_rules.trying import rules_with
from checklists.rules.records import Rule
from tui.keys import OWN_RULE, bindings_of
from tui.screens.day_screen import DayScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

LONGEST_NUMBER = 5
LONGEST_REASON = 200
HANG = 4
"""Cells by which a row that goes on is indented."""
FOR_THE_PAGE = "; --private shows the whole"
"""Said on paper only: here nothing private is shown."""


class RulePreviewScreen(DayScreen):
    """One rule as it is chosen so far, and what it would do. Kept with one key, and undone with one key."""

    DEFAULT_CSS = """
    RulePreviewScreen { background: $sheet; color: $ink; }
    RulePreviewScreen VerticalScroll { height: 1fr; padding: 0 1; background: $sheet; scrollbar-size-vertical: 1; }
    RulePreviewScreen Static { height: auto; color: $ink; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(OWN_RULE)]
    KEYS = OWN_RULE
    TITLE_OF_KEYS = "A rule of your own"
    AUTO_FOCUS = ""

    def __init__(self, on: date, choice: Choice, times: tuple[When, ...]) -> None:
        super().__init__(on)
        self.choice = choice
        self.times = times
        self.typed = ""
        self.reason: str | None = None
        """The reason that is being typed; None while none is."""
        self.kept = ""
        self.looked_at: Choice | None = None
        """The choice whose two weeks are shown."""

    def compose(self) -> ComposeResult:
        yield Question()
        with VerticalScroll(can_focus=False):
            yield Static("", markup=False)
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.reread()

    @property
    def rule(self) -> Rule:
        return rule_from(self.choice, self.book.plan, self.book.rules, self.trundle.now().date())

    def reread(self) -> None:
        """The rule as it is chosen now, and what it would change."""
        said = Content.assemble((say_choice(self.choice, self.book.plan, self.book.rules), "bold"))
        why = [Content.assemble(("why: ", "$quiet"), self.choice.reason)] if self.choice.reason else []
        width = max(20, self.app.size.width - 2)
        self.query_one(Question).show(Content("A rule of your own"), *said.wrap(width)[:3], *why)
        if self.looked_at is not self.choice:
            self.query_one(Static).update(Content.assemble(("Looking at the coming two weeks …", "$quiet")))
            self.call_after_refresh(self.show_preview)

    def show_preview(self) -> None:
        """What it would change. It takes a moment, so that the rule itself shows before; once for each choice."""
        if self.looked_at is self.choice:
            return
        self.looked_at = self.choice
        width = max(20, self.app.size.width - 2)
        try:
            rows = say_preview(preview_of(self.book, rules_with(self.book, self.rule), self.date))
        except NotSaved as problem:
            rows = (str(problem),)
        first, *others = [Content(row.replace(FOR_THE_PAGE, "")) for row in rows]
        lines = [first.stylize("bold"), *(part for row in others for part in hung(row, width - 1))]
        self.query_one(Static).update(Content("\n").join(lines))

    def change(self, choice: Choice) -> None:
        self.choice, self.typed = choice, ""
        self.reread()
        self.say("")

    # ---------------------------------------------------------------------------------------------------- changing

    def action_other_time(self) -> None:
        """The next of the times that fit the line."""
        every = [time.sentences for time in self.times]
        now = every.index(self.choice.when) if self.choice.when in every else -1
        self.change(structs.replace(self.choice, when=every[(now + 1) % len(every)]))

    def action_other_basis(self) -> None:
        if self.choice.kind != "add":
            self.say("Only what is added is counted per child, pair, table or class.")
            return
        now = BASES.index(self.choice.per)
        self.change(structs.replace(self.choice, per=BASES[(now + 1) % len(BASES)]))

    def action_critical(self) -> None:
        if self.choice.kind != "add":
            self.say("Only what is added can be critical.")
            return
        self.change(structs.replace(self.choice, critical=not self.choice.critical))

    def action_reason(self) -> None:
        self.reason = self.choice.reason
        self.echo()

    def action_digit(self, digit: str) -> None:
        if self.choice.kind == "never":
            self.say("Nothing is counted of what must not come along.")
            return
        self.typed = (self.typed + digit)[:LONGEST_NUMBER].lstrip("0") or "0"
        self.echo()

    def echo(self) -> None:
        """What is being typed, and which key takes it."""
        if self.reason is not None:
            room = max(8, self.size.width - 24)
            said = Content.assemble("Why: ", (f"{self.reason[-room:]}_", "bold $ask"), "   Enter takes it")
        else:
            what = "to spare at least" if self.choice.kind == "spare" else f"per {self.choice.per}"
            said = Content.assemble((f"{self.typed}_", "bold $ask"), f" {what}   Enter takes it" if self.typed else "")
        self.query_one(MessageLine).put(said, alone=True)

    def on_key(self, event: events.Key) -> None:
        """While a reason is typed, a sign is only a sign. It begins here, so that signs typed ahead belong to it."""
        if self.reason is None and event.key == "w":
            event.stop()
            self.action_reason()
        elif self.reason is not None and event.is_printable and event.character is not None:
            event.stop()
            self.reason = (self.reason + event.character)[:LONGEST_REASON]
            self.echo()

    def action_erase(self) -> None:
        if self.reason is not None:
            self.reason = self.reason[:-1]
            self.echo()
        elif self.typed:
            self.typed = self.typed[:-1]
            self.echo()

    def action_scroll(self, lines: int) -> None:
        self.query_one(VerticalScroll).scroll_relative(y=2 * lines, animate=False)

    # ----------------------------------------------------------------------------------------------------- keeping

    def action_accept(self) -> None:
        """Take what was typed; else keep the rule."""
        if self.reason is not None:
            reason, self.reason = self.reason.strip(), None
            self.change(structs.replace(self.choice, reason=reason))
        elif self.typed:
            if int(self.typed):
                self.change(structs.replace(self.choice, count=int(self.typed)))
            else:
                self.typed = ""
                self.say("0 of it would be no rule. Back, and choose never.")
        else:
            self.keep()

    def keep(self) -> None:
        """The rule goes into her file, and counts from now on."""
        rule, book = self.rule, self.book
        said = say_choice(self.choice, book.plan, book.rules)
        problem = self.trundle.recorder.change_plan(
            lambda: book.keep_rule(rule), lambda: book.take_rule_out(rule.id), f"your own rule: {said}"
        )
        if problem:
            self.say(problem, alarm=True)
            return
        self.kept = f"Kept. {said}. u takes it back."
        self.dismiss()

    def action_back(self) -> None:
        if self.reason is not None or self.typed:
            self.reason, self.typed = None, ""
            self.say("")
        else:
            super().action_back()


def hung(row: Content, width: int) -> list[Content]:
    """A row in lines of so many cells, later ones indented."""
    first, *rest = row.wrap(width)
    return (
        [first, *(Content(" " * HANG) + part for part in Content(" ").join(rest).wrap(width - HANG))]
        if rest
        else [first]
    )
