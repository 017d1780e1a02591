"""Which numbers do the rules use, and which of them are hers?"""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.pages.what_follows import follows_in_short
from checklists.rules.records import Setting
from checklists.rules.setting_typed import CannotSet, number_typed, said_number, said_range, written_number
from checklists.rules.settings import is_grade
from checklists.words import plural
from tui.keys import SETTINGS, bindings_of
from tui.screens.choosing import ChoosingScreen
from tui.screens.rows_screen import RowsScreen
from tui.setting_rows import is_hers, setting_rows
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question
from tui.widgets.rule_card import RuleCard
from tui.wording import sentence

LONGEST_TYPED = 10
SIGNS = frozenset("0123456789.,-")


class SettingsScreen(RowsScreen):
    """Every number of the rules: the value in use, beside hers the built-in one. What is typed replaces it."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SETTINGS)]
    KEYS = SETTINGS
    TITLE_OF_KEYS = "Numbers of the rules"

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.typed = ""
        self.typed_for = ""

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield RuleCard()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.reread()

    @property
    def setting(self) -> Setting | None:
        return next((each for each in self.book.rules.settings if each.name == self.key_in_hand), None)

    def reread(self) -> None:
        settings = self.book.rules.settings
        self.list.show(setting_rows(settings), self.list.cursor)
        hers = sum(is_hers(each) for each in settings)
        title = Content.assemble(
            ("Numbers the rules use", "bold"), f"  {plural(len(settings), 'number')}, {hers} yours"
        )
        self.query_one(Question).show(
            title, Content("Type another number and Enter. Advice, not law: see the sources.")
        )

    @on(LineList.Moved)
    def show_in_hand(self) -> None:
        """What is typed belongs to one number; the one in hand is told in full."""
        setting = self.setting
        if setting is None:
            return
        if setting.name != self.typed_for:
            self.let_go()
        said = [
            ("means", setting.meaning),
            ("in use", said_number(setting, setting.value) + (", yours" if is_hers(setting) else "")),
            ("built in", said_number(setting, setting.builtin)),
            ("can be", said_range(setting)),
            ("source", setting.source),
        ]
        self.query_one(RuleCard).tell(setting.name.replace("_", " "), said)

    # ------------------------------------------------------------------------------------------------------ moving

    def may_leave_row(self) -> bool:
        self.let_go()
        return True

    def action_find(self) -> None:
        self.let_go()
        settings = self.book.rules.settings
        self.app.push_screen(
            ChoosingScreen(self.date, "Which number?", lambda typed: setting_rows(settings, typed), self.go_to)
        )

    # ------------------------------------------------------------------------------------------------------ typing

    def type_on(self, signs: str) -> None:
        setting = self.setting
        if setting is not None:
            self.typed, self.typed_for = (self.typed + signs)[:LONGEST_TYPED], setting.name
            self.echo(setting)

    def echo(self, setting: Setting) -> None:
        said = Content.assemble(
            f"{said_number(setting, setting.value)} becomes ",
            (f"{self.typed}_", "bold $ask"),
            f"   Enter takes it ({said_range(setting)})",
        )
        self.query_one(MessageLine).put(said, alone=True)

    def action_digit(self, digit: str) -> None:
        self.type_on(digit)

    def on_key(self, event: events.Key) -> None:
        """A minus or a point, where a number is begun."""
        if event.character is not None and event.character in SIGNS and not event.character.isdigit():
            event.stop()
            self.type_on("." if event.character == "," else event.character)

    def action_point(self) -> None:
        """A point comes by ``on_key``."""

    def action_grade(self, grade: str) -> None:
        """Kindergarten and pre-kindergarten have letters, and no number."""
        setting = self.setting
        if setting is not None and is_grade(setting):
            self.typed = ""
            self.type_on(grade)

    def action_erase(self) -> None:
        setting = self.setting
        if self.typed and setting is not None:
            self.typed = self.typed[:-1]
            self.echo(setting)

    def let_go(self) -> None:
        if self.typed:
            self.typed = ""
            self.query_one(MessageLine).put(Content(""))

    def action_accept(self) -> None:
        """The number that was typed."""
        setting = self.setting
        if setting is None or not self.typed:
            return
        typed = self.typed
        self.let_go()
        try:
            number = number_typed(typed, setting)
        except CannotSet as problem:
            self.say(str(problem), alarm=True)
            return
        self.change(setting, number)

    def action_built_in(self) -> None:
        """Back to the number that comes with the program."""
        setting = self.setting
        if setting is None or self.typed:
            return
        if is_hers(setting):
            self.change(setting, setting.builtin)
        else:
            self.say(f"{said_number(setting, setting.value)} is the built-in number.")

    def change(self, setting: Setting, number: float) -> None:
        """Another number, as a step; what follows today is told."""
        recorder, book = self.trundle.recorder, self.book
        before = recorder.day(self.date)
        after, old = written_number(setting, number), written_number(setting, setting.value)
        said = f"{setting.name.replace('_', ' ')}: {said_number(setting, number)}"
        problem = recorder.change_plan(
            lambda: book.set_setting(setting.name, after), lambda: book.set_setting(setting.name, old), said
        )
        self.reread()
        if problem:
            self.say(problem, alarm=True)
        else:
            follows = follows_in_short(book.plan, before, recorder.day(self.date), recorder.marks(self.date))
            self.say(f"{sentence(said)} {follows}")

    def action_undo(self) -> None:
        self.let_go()
        self.take_back()

    def action_back(self) -> None:
        if self.typed:
            self.let_go()
        else:
            super().action_back()
