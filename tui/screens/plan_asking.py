"""Asks for one value of the plan: typed and checked at every key, chosen by a digit, or chosen from a list."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from textual import events
from textual.content import Content

from checklists.forms.choices import choices_of
from checklists.forms.fields import Choice, Field
from checklists.forms.said import say_value
from checklists.forms.typed import CannotBe, value_typed
from checklists.plan.class_notes import Known, narrowed
from checklists.plan.records import Plan
from checklists.words import clean
from tui.class_rows import rows_of_known
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.rows_screen import RowsScreen
from tui.widgets.key_bar import KeyBar
from tui.widgets.message_line import MessageLine, choice_rows

LONGEST_TYPED = 400
BY_DIGIT = ("yes or no", "choice")
BY_LIST = ("one", "grade")
CHOICES_BY_DIGIT = 3
"""More choices than that are a list: they have words of their own, and the line does not hold them."""
NUMBERS = ("whole", "number", "time", "date", "size", "stock", "numbers", "grades")
"""Ways in which a digit begins what is typed."""
NEW = "new: "
"""Begins the key of the row that makes a new thing of what was typed."""


class Asked(NamedTuple):
    """What is being asked, and who takes the answer: it raises CannotBe where that cannot be so."""

    field: Field
    prompt: str
    take: Callable[[Any], None]
    suggested: Any = None
    """What Enter alone takes; None: something must be said."""
    new: Callable[[str], None] | None = None
    """Makes a new thing of a name typed, where there may be one."""


class PlanAskingScreen(RowsScreen):
    """Rows, and below them one question at a time; decides nothing about the answer."""

    asked: Asked | None = None
    typed = ""
    is_as_it_stood = False
    """Whether what is typed is still what stood there: the first sign replaces it, Backspace goes on from it."""
    refused = ""

    def plan_asked_of(self) -> Plan:
        """The plan whose things can be chosen."""
        return self.book.plan

    def ask(self, asked: Asked, typed: str = "", *, stood: bool = False) -> None:
        """Ask it; ``typed`` is its beginning, or what stands there already."""
        if asked.field.way in BY_LIST or len(asked.field.choices) > CHOICES_BY_DIGIT:
            self.stop_asking()
            self.choose(asked)
            return
        self.forget_refusal()
        self.asked, self.typed, self.is_as_it_stood = asked, typed, stood
        self.echo()

    def forget_refusal(self) -> None:
        if self.refused:
            self.refused = ""
            self.tell_refusal("")

    def stop_asking(self, said: str = "") -> None:
        self.forget_refusal()
        self.asked, self.typed = None, ""
        self.query_one(KeyBar).show_instead(None)
        self.query_one(MessageLine).put(Content(said))

    def choose(self, asked: Asked) -> None:
        """One of the things there are, from a list that the first letters narrow."""
        choices = {str(each.value): each for each in asked.field.choices}
        known = tuple(Known(word, each.words) for word, each in choices.items())
        known = known or choices_of(self.plan_asked_of(), asked.field.names)

        def offers(typed: str) -> list[Row]:
            rows = rows_of_known(narrowed(known, typed), (), "")
            if asked.new is not None and typed.strip() and all(each.name != typed.strip() for each in known):
                rows.append(Row("matter", f"{NEW}{typed.strip()}", f"new: {typed.strip()}"))
            return rows

        def take(word: str) -> None:
            if word.startswith(NEW) and asked.new is not None:
                self.hand_over(asked._replace(take=asked.new), word.removeprefix(NEW))
                return
            self.hand_over(asked, choices[word].value if word in choices else word)

        screen = ChoosingScreen(self.date, asked.prompt, offers, take)
        self.app.push_screen(screen)
        if asked.suggested:
            self.app.call_later(screen.show_offers, str(asked.suggested))

    def hand_over(self, asked: Asked, value: Any) -> None:
        """Give an answer to who asked; a refusal is said and the question stays."""
        try:
            asked.take(value)
        except CannotBe as why:
            self.refuse(why)

    def refuse(self, why: CannotBe) -> None:
        """Say why something cannot be: in full, and beside what is typed."""
        self.refused = str(why)
        self.tell_refusal(self.refused)
        if self.asked is not None:
            self.echo()
        else:
            self.say(self.refused, alarm=True)

    def tell_refusal(self, why: str) -> None:
        """Say in full why an answer cannot be; empty: nothing is refused any more."""

    # ------------------------------------------------------------------------------------------------------ typing

    def echo(self) -> None:
        """The question with what was typed, or its choices by digit; and why it cannot be, while it is typed."""
        asked = self.asked
        if asked is None:
            return
        message, keys = self.query_one(MessageLine), self.query_one(KeyBar)
        if asked.field.way in BY_DIGIT:
            rows = choice_rows(asked.prompt, [each.words for each in asked.field.choices], self.size.width - 2)
            message.put(rows[0], alone=True)
            keys.show_instead(Content(" ") + rows[1] if rows[1:] else None)
            return
        why = self.refused or self.why_not(asked)
        if why:
            said = Content.assemble((f"{self.typed}_", "bold $ask"), "  ", (why, "bold $alarm"))
        else:
            look = "bold $ask reverse" if self.is_as_it_stood else "bold $ask"
            said = Content.assemble((asked.prompt, ""), " ", (f"{self.typed}_", look), self.enter_takes(asked))
        message.put(said, alone=True)
        keys.show_instead(Content(" Enter: take it   Backspace: erase   Esc: leave it as it is"))

    def enter_takes(self, asked: Asked) -> str:
        if self.typed or asked.suggested is None:
            return "  " + asked.field.help if not self.typed and asked.field.help else ""
        said = say_value(self.plan_asked_of(), asked.field, asked.suggested)
        return f"  Enter alone: {'nothing' if asked.suggested == '' else said}"

    def why_not(self, asked: Asked) -> str:
        """Why what is typed so far is nothing that could stand there; empty while it could."""
        if not self.typed.strip():
            return ""
        try:
            value_typed(asked.field, self.typed, self.book.plan.school)
        except CannotBe as why:
            return str(why)
        return ""

    def type_in(self, text: str) -> None:
        """Behind what is typed, or in place of what stood there. No sign of it may steer the terminal."""
        before = "" if self.is_as_it_stood else self.typed
        self.typed, self.is_as_it_stood = clean(before + text)[:LONGEST_TYPED].lstrip(), False
        self.echo()

    def on_key(self, event: events.Key) -> None:
        """While something is typed, a sign is only a sign."""
        if self.asked is None or self.asked.field.way in BY_DIGIT:
            return
        if not event.is_printable or event.character is None:
            return
        event.stop()
        self.forget_refusal()
        self.type_in(event.character)

    def on_paste(self, event: events.Paste) -> None:
        """A pasted line is typed at once; what follows its first line is left out."""
        if self.asked is not None and self.asked.field.way not in BY_DIGIT:
            event.stop()
            lines = event.text.strip().splitlines()
            self.type_in(lines[0] if lines else "")

    def take_choice(self, digit: str) -> bool:
        """A digit for the choices asked; whether it was for them."""
        asked = self.asked
        if asked is None or asked.field.way not in BY_DIGIT:
            return False
        choices: tuple[Choice, ...] = asked.field.choices
        if 1 <= int(digit) <= len(choices):
            self.stop_asking()
            self.hand_over(asked, choices[int(digit) - 1].value)
        return True

    def take_typed(self) -> None:
        """Enter: what was typed, or what is suggested where nothing was."""
        asked = self.asked
        if asked is None or asked.field.way in BY_DIGIT:
            return
        if not self.typed.strip() and asked.suggested is not None:
            self.hand_over_typed(asked, asked.suggested)
            return
        try:
            value = value_typed(asked.field, self.typed, self.book.plan.school)
        except CannotBe as why:
            self.refused = str(why)
            self.echo()
            return
        self.hand_over_typed(asked, value)

    def hand_over_typed(self, asked: Asked, value: Any) -> None:
        """The question is over unless the answer is refused, or another one was asked meanwhile."""
        self.hand_over(asked, value)
        if self.asked is asked and not self.refused:
            self.stop_asking()

    def action_erase(self) -> None:
        if self.asked is not None and self.asked.field.way not in BY_DIGIT:
            self.forget_refusal()
            self.typed, self.is_as_it_stood = self.typed[:-1], False
            self.echo()

    def action_back(self) -> None:
        if self.asked is not None:
            self.stop_asking("Left as it was.")
        else:
            super().action_back()

    def may_leave_row(self) -> bool:
        return self.asked is None

    def on_resize(self, event: events.Resize) -> None:
        self.echo()
