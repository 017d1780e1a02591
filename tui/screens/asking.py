"""What all screens share that ask one question after the other: typing, what is understood at every key, going back."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import Screen

from checklists.first_start.question import LONGEST_TYPED, NotTaken, Option, Question
from checklists.words import clean
from tui.keys import ASKING, Key, bindings_of
from tui.widgets.key_bar import KeyBar
from tui.widgets.question_page import QuestionPage, Shown


class AskingScreen(Screen[None]):
    """One question on screen. Every letter and digit is only typed; Enter hands the text to ``take``."""

    DEFAULT_CSS = "AskingScreen { background: $sheet; color: $ink; layout: vertical; }"
    BINDINGS: ClassVar[list[BindingType]] = [each for each in bindings_of(ASKING) if "digit" not in str(each)]
    KEYS: ClassVar[tuple[Key, ...]] = ASKING
    typed = ""
    alarm = ""

    def compose(self) -> ComposeResult:
        yield QuestionPage()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.show()

    # ------------------------------------------------------------------------------------- what a screen of it says

    def question(self) -> Question[Any]:
        """The question that is open."""
        raise NotImplementedError

    def heading(self) -> str:
        raise NotImplementedError

    def answers(self) -> tuple[tuple[str, str], ...]:
        """Topic and answer of what is answered, the newest last."""
        return ()

    def why(self) -> str:
        """Why a question is asked again; empty: it is not."""
        return ""

    def take(self, typed: str) -> None:
        """Take an answer. Raises NotTaken."""
        raise NotImplementedError

    def action_back(self) -> None:
        raise NotImplementedError

    def action_stop(self) -> None:
        raise NotImplementedError

    # ------------------------------------------------------------------------------------------------------ typing

    def show(self) -> None:
        """Show the question as it stands, with what is understood of the text typed so far."""
        shown = shown_of(
            self.question(),
            self.typed,
            heading=self.heading(),
            answers=self.answers(),
            why=self.why(),
            alarm=self.alarm,
        )
        self.query_one(QuestionPage).show(shown)

    def type_in(self, text: str) -> None:
        self.typed = (self.typed + clean(text))[:LONGEST_TYPED]
        self.alarm = ""
        self.show()

    def on_key(self, event: events.Key) -> None:
        if event.is_printable and event.character is not None:
            event.stop()
            if event.character != " " or self.typed:
                self.type_in(event.character)

    def on_paste(self, event: events.Paste) -> None:
        """A pasted text is as if typed, its lines one after the other."""
        event.stop()
        self.type_in(" ".join(event.text.split()))

    def action_erase(self) -> None:
        self.typed, self.alarm = self.typed[:-1], ""
        self.show()

    def action_accept(self) -> None:
        try:
            self.take(self.typed)
        except NotTaken as problem:
            self.alarm = "" if self.typed.strip() else str(problem)
            self.show()  # why what was typed is not taken stands there already
            self.app.bell()
        else:
            self.typed = ""
            self.show()

    def action_option_after(self) -> None:
        self.step_option(1)

    def action_option_before(self) -> None:
        self.step_option(-1)

    def step_option(self, by: int) -> None:
        """The next option, as if its number were typed."""
        question = self.question()
        keys = [key_to_type(question, each) for each in question.options]
        if keys:
            at = keys.index(self.typed) + by if self.typed in keys else (0 if by > 0 else len(keys) - 1)
            self.typed = keys[at % len(keys)]
            self.show()


def said_by_enter(question: Question[Any]) -> str:
    """What Enter alone takes, in words; empty where the usual answer is none here."""
    try:
        return question.say_default()
    except NotTaken:
        return ""


def shown_of(
    question: Question[Any],
    typed: str,
    *,
    heading: str = "",
    answers: tuple[tuple[str, str], ...] = (),
    why: str = "",
    alarm: str = "",
) -> Shown:
    """A question as its page shows it, with what is understood of the text typed so far, or why it cannot be taken."""
    told, is_wrong, chosen = why, bool(why), ""
    if typed.strip():
        try:
            answer = question.understood(typed)
            told, is_wrong = question.say(answer), False
            chosen = key_of(question, answer) if isinstance(answer, Option) else typed.strip().upper()
        except NotTaken as problem:
            told, is_wrong = str(problem), True
    return Shown(
        heading=clean(heading),
        text=clean(question.text),
        how=clean(question.how),
        answers=tuple((clean(topic), clean(words)) for topic, words in answers),
        options=tuple((key_to_type(question, each), clean(each.label)) for each in question.options),
        chosen=chosen,
        enter=clean(said_by_enter(question)),
        typed=clean(typed),
        told=clean(told),
        is_wrong=is_wrong,
        alarm=clean(alarm),
    )


def key_to_type(question: Question[Any], option: Option) -> str:
    """What chooses an option: its number, or its name where it is nothing but a name."""
    return option.key if option.key == option.label else str(question.options.index(option) + 1)


def key_of(question: Question[Any], option: Option) -> str:
    return key_to_type(question, option) if option in question.options else ""
