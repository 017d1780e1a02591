"""The rules on screen: moving among them, the one in hand in words, a line being typed, a digit awaited."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import ClassVar, NamedTuple

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.own_rules.telling import tell_rule
from checklists.rules.for_any_visit import for_any_visit
from checklists.rules.records import Rule, SwitchedOff
from checklists.rules.switching import say_scope
from checklists.words import plural, say_date
from tui.keys import RULES, bindings_of
from tui.rule_rows import BEHIND, OFF, Around, found_rows, off_of, rule_of, rule_rows
from tui.screens.choosing import ChoosingScreen
from tui.screens.rows_screen import RowsScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine, choice_rows
from tui.widgets.question import Question
from tui.widgets.rule_card import RuleCard

LONGEST_TYPED = 200


class Asked(NamedTuple):
    """Choices by digit that wait for one: what is asked, what they are called, and what each does."""

    question: str
    labels: tuple[str, ...]
    does: tuple[Callable[[], None], ...]


class Typing(NamedTuple):
    """A line that is being typed: what is asked, and what takes it."""

    question: str
    take: Callable[[str], None]


class RulesScreen(RowsScreen):
    """Every rule in one list; switches nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(RULES)]
    KEYS = RULES
    TITLE_OF_KEYS = "Rules"

    def __init__(self, on: date, around: Around | None = None) -> None:
        super().__init__(on)
        self.around = around or Around()
        self.asked: Asked | None = None
        self.typing: Typing | None = None
        self.typed = ""

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield RuleCard()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.show_rules(f"{BEHIND}{self.around.rules[0]}" if self.around.rules else "")

    @property
    def rule(self) -> Rule | None:
        return rule_of(self.key_in_hand, self.book.rules)

    @property
    def off(self) -> SwitchedOff | None:
        """The switching off in hand."""
        return off_of(self.key_in_hand, self.book.rules)

    def reread(self) -> None:
        self.show_rules(self.key_in_hand)

    def show_rules(self, key: str) -> None:
        """Show every rule as it is now, the cursor on ``key``, or where it was."""
        book = self.book
        rows = rule_rows(book.rules, book.own_rules, book.plan, self.date, self.around)
        self.list.show(rows, self.list.cursor, key=key)
        off = sum(row.key.startswith(OFF) for row in rows)
        said = f"{plural(len(book.rules.rules), 'rule')}, {len(book.own_rules.rules)} of them yours; {off} switched off"
        title = Content.assemble((say_date(self.date), "bold"), "  Rules: what do they do?")
        self.query_one(Question).show(title, Content(said))

    @on(LineList.Moved)
    def show_rule_in_hand(self) -> None:
        """What was asked or typed belongs to one rule; the one in hand now is told."""
        rule, off = self.rule, self.off
        if rule is None:
            self.query_one(RuleCard).tell("", ())
            return
        self.query_one(RuleCard).tell(rule.title + ("   safety rule" if rule.safety else ""), self.said_of(rule, off))

    def said_of(self, rule: Rule, off: SwitchedOff | None) -> Sequence[tuple[str, str]]:
        """Everything there is to say of a rule, the most useful first."""
        book, words = self.book, self.book.rules.vocabulary
        said: list[tuple[str, str]] = []
        if off is not None:
            since = f", since {say_date(off.since)}" if off.since is not None else ""
            why = f". Why: {off.reason}" if off.reason else ""
            said.append(("switched off", f"{say_scope(off, book.plan)}{since}{why}"))
        own = any(each.id == rule.id for each in book.own_rules.rules)
        told = tell_rule(rule, book.plan, book.rules, own=own)
        does = "; ".join(for_any_visit(each, words) for each in told.does)
        said += [
            ("when", told.asks.removeprefix("when ")),
            ("does", does),
            ("because", for_any_visit(rule.because, words)),
            ("source", rule.source),
        ]
        return said

    # ------------------------------------------------------------------------------------------------------ moving

    def may_leave_row(self) -> bool:
        self.let_go()
        return True

    def action_find(self) -> None:
        """A rule by the first letters of a word in its title."""
        if self.typing is None and self.asked is None:
            rules = self.book.rules.rules
            self.app.push_screen(
                ChoosingScreen(self.date, "Which rule?", lambda typed: found_rows(rules, typed), self.go_to)
            )

    # ---------------------------------------------------------------------------------------------- asking, typing

    def ask(self, question: str, choices: Sequence[tuple[str, Callable[[], None]]]) -> None:
        """Await a digit."""
        labels = tuple(label for label, _ in choices)
        self.asked = Asked(question, labels, tuple(does for _, does in choices))
        self.typing = None
        rows = choice_rows(question, labels, self.size.width - 2)
        self.query_one(MessageLine).put(rows[0], alone=True)
        more = Content("  ").join(rows[1:])
        self.query_one(KeyBar).show_instead(Content(" ") + more if rows[1:] else None)

    def begin_typing(self, question: str, take: Callable[[str], None]) -> None:
        self.asked, self.typing, self.typed = None, Typing(question, take), ""
        self.query_one(KeyBar).show_instead(None)
        self.echo()

    def echo(self) -> None:
        """The question and what is typed; where both are too long the end of what is typed shows."""
        if self.typing is not None:
            room = max(8, self.size.width - len(self.typing.question) - 6)
            typed = self.typed if len(self.typed) <= room else f"…{self.typed[-room:]}"
            said = Content.assemble(f"{self.typing.question} ", (f"{typed}_", "bold $ask"))
            self.query_one(MessageLine).put(said, alone=True)

    def let_go(self) -> None:
        """Nothing is asked or typed any more."""
        if self.asked is not None or self.typing is not None:
            self.asked, self.typing = None, None
            self.query_one(KeyBar).show_instead(None)
            self.query_one(MessageLine).put(Content(""))

    def on_key(self, event: events.Key) -> None:
        """While a line is typed, a sign is only a sign."""
        if self.typing is not None and event.is_printable and event.character is not None:
            event.stop()
            self.typed = (self.typed + event.character)[:LONGEST_TYPED]
            self.echo()

    def on_resize(self, event: events.Resize) -> None:
        self.echo()

    def action_digit(self, digit: str) -> None:
        if self.asked is not None and 1 <= int(digit) <= len(self.asked.does):
            does = self.asked.does[int(digit) - 1]
            self.let_go()
            does()

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typed = self.typed[:-1]
            self.echo()

    def action_accept(self) -> None:
        """Take what was typed; else the rule in hand in full."""
        if self.typing is not None:
            take, typed = self.typing.take, self.typed.strip()
            self.let_go()
            take(typed)
        elif self.asked is None and self.rule is not None:
            from tui.screens.page import Page

            said = [Content.assemble((f"{name}: ", "bold"), text) for name, text in self.said_of(self.rule, self.off)]
            self.app.push_screen(Page(self.rule.title, tuple(said)))

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        if event.again:
            self.action_accept()

    def action_back(self) -> None:
        if self.asked is not None or self.typing is not None:
            self.let_go()
        else:
            super().action_back()
