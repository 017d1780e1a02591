"""Answering the question on top of the list with one key: what became of a visit, what is so of a room or a class."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from textual import events

from checklists.daybook.entries import Reported
from checklists.lines.records import Day, Line
from checklists.words import clean, say_date
from tui.screens.packing import PackingScreen
from tui.widgets.message_line import MessageLine
from tui.widgets.notice import NoticeArea
from tui.wording import sentence

if TYPE_CHECKING:
    from checklists.asking import Answer, Asked
    from checklists.line_changes.records import LineChange, Offer
    from checklists.plan.plan_files import PlanFiles
    from tui.widgets.follows import Follows


class AnsweringScreen(PackingScreen):
    """Packing, with questions on top; and changes of the plan from here, with what follows from them below the list."""

    follows: Follows | None = None
    """What follows from a change that was just made."""

    def action_answer_done(self) -> None:
        self.answer("done")

    def action_answer_missed(self) -> None:
        self.answer("not taught")

    def answer(self, outcome: Literal["done", "not taught"]) -> None:
        """Answer the question on top, where it is about a visit in the daybook of its day; show it first if need be."""
        self.row_key()
        facts = self.book.facts_asked(self.date)
        if not (self.day.questions or facts) or self.step:
            return
        typed = self.typed
        self.let_go_of_step()
        if not self.is_question_in_sight():
            return
        if not self.day.questions:
            self.answer_fact(facts[0], outcome == "done", typed)
            return
        question = self.day.questions[0]
        problem = self.record(Reported(at=self.trundle.now(), visit=question.visit, outcome=outcome), on=question.date)
        self.reread()
        self.say(problem or f"{question.text} {outcome}.", alarm=bool(problem))

    def action_answer_later(self) -> None:
        """What is so in a room, or how many a class is, is not said now: it is not asked again that day."""
        self.row_key()
        facts = self.book.facts_asked(self.date)
        if not facts or self.day.questions or self.step:
            return
        self.let_go_of_step()
        if not self.is_question_in_sight():
            return
        from checklists.asking import put_off

        problem = self.record(put_off(facts[0], self.trundle.now()))
        self.show_bars()
        self.say(problem or "Not asked again today. Until it is said, it is packed for either.", alarm=bool(problem))

    def is_question_in_sight(self) -> bool:
        """Whether the question on top can be read; the first time it cannot, it is shown."""
        if self.sees_question or self.has_asked_for_question:
            return True
        self.has_asked_for_question = True
        self.show_notices()
        self.say("This is asked above: the same key again answers it.")
        return False

    @property
    def sees_question(self) -> bool:
        """Whether the question on top can be read."""
        area = "#all-notices" if self.has_class("-wide") else "#body NoticeArea"
        return self.query_one(area, NoticeArea).shows_question

    # ------------------------------------------------------------------------------------------------------- facts

    def number_asked(self) -> Asked | None:
        """The question on top, where a number answers it."""
        facts = () if self.day.questions else self.book.facts_asked(self.date)
        return facts[0] if facts and facts[0].takes != "yes or no" else None

    def echo(self, line: Line | None) -> str:
        """While a number is asked above, that the one typed can be for it, too."""
        said = super().echo(line)
        if self.typed and self.number_asked() is not None:
            return f"{self.typed}_ y: for the question{said.removeprefix(f'{self.typed}_')}"
        return said

    def answer_fact(self, asked: Asked, yes: bool, typed: str = "") -> None:
        """With one key, with the number typed before it, or with one that is typed now."""
        if asked.takes == "yes or no":
            self.take_answer(asked, yes)
        elif yes and typed:
            self.take_number(asked, typed)
        elif asked.takes == "number" and not yes:
            self.take_answer(asked, 0)
        elif asked.takes == "right or number" and yes:
            self.take_answer(asked, True)
        else:
            from checklists.asking import read_answer
            from tui.screens.typing import TypingScreen

            def take(typed: str) -> None:
                self.take_answer(asked, read_answer(asked, typed))

            hint = "A number; a24 is about 24." if asked.class_id else "A number; 0 for none."
            self.app.push_screen(
                TypingScreen(self.date, asked.text, hint, lambda typed: read_answer(asked, typed), take)
            )

    def take_number(self, asked: Asked, typed: str) -> None:
        """A number typed before the key that answers."""
        from checklists.asking import read_answer
        from checklists.plan.class_notes import CannotNote

        try:
            answer = read_answer(asked, typed)
        except CannotNote as problem:
            self.say(str(problem), alarm=True)
            return
        self.take_answer(asked, answer)

    def take_answer(self, asked: Asked, answer: Answer) -> None:
        """Write an answer into the plan."""
        from checklists.asking import answered
        from checklists.plan.class_notes import CannotNote

        try:
            files, said = answered(self.book.plan_files, asked, answer)
        except CannotNote as problem:
            self.say(str(problem), alarm=True)
            return
        self.change_files(files, said)

    # ------------------------------------------------------------------------------------- changes of the plan

    def action_change_line(self) -> None:
        """What is wrong with the line in hand."""
        self.let_go_of_step()
        line = self.line
        if line is None:
            self.say("Only of a line: go to one first.")
            return
        from checklists.line_changes.offers import offers_for
        from tui.screens.line_change import LineChangeScreen

        offers = offers_for(self.book.plan, self.book.rules, self.day, line, self.trundle.now())
        self.app.push_screen(LineChangeScreen(self.date, line.name, offers, self.take_line_change, self.open_offer))

    def take_line_change(self, change: LineChange) -> None:
        """Write what was said of a line: into the plan, its rules or the day; the cursor stays on the line."""
        before, off = self.day, change.off
        if change.files is not None:
            self.change_files(change.files, change.said)
        elif off is not None:
            problem = self.trundle.recorder.change_plan(
                lambda: self.book.switch_off(off), lambda: self.book.switch_on(off), change.said
            )
            self.tell_plan_change(problem, change.said, before)
        else:
            self.tell_plan_change(self.record(*change.entries), change.said, before)

    def open_offer(self, offer: Offer) -> None:
        """Where everything of a class, a lesson or a supply is."""
        from tui.screens.line_pages import page_of

        self.app.push_screen(page_of(self.date, offer))

    def change_files(self, files: PlanFiles, said: str) -> None:
        """Write plan files as one step, and tell what follows on the list; the cursor stays."""
        before = self.day
        problem = self.trundle.recorder.change_files(files, said, self.trundle.now())
        self.tell_plan_change(problem, said, before)

    def tell_plan_change(self, problem: str, said: str, before: Day) -> None:
        """That something was changed, or why not, with what follows from it in a few lines below the list."""
        from checklists.pages.what_follows import what_follows

        self.reread()
        if problem:
            self.say(problem, alarm=True)
            return
        follows = what_follows(self.book.plan, before, self.day, self.marks)
        title = clean(f"{sentence(said)} u takes it back. On {say_date(self.date)}:")
        self.show_follows(title, follows or ("nothing is different.",))
        self.say("")

    def show_follows(self, title: str, sentences: tuple[str, ...]) -> None:
        """Below the list until the next key. The rows for it are made the first time."""
        if self.follows is None:
            from tui.widgets.follows import Follows  # only here: a start does not change the plan

            self.follows = Follows()
            self.mount(self.follows, before=self.query_one(MessageLine))
        self.follows.tell(title, sentences)

    def on_key(self, event: events.Key) -> None:
        """The next key puts away what followed from a change."""
        if self.follows is not None and self.follows.sentences:
            self.follows.tell("", ())
