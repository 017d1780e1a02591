"""A list of open matters with what to do about each: the base of "before you go" and of the end of the day."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.content import Content

from checklists.daybook.entries import AnyEntry
from checklists.daybook.matters import OpenMatter
from checklists.daybook.said import say_entry
from checklists.daybook.typing_in import entries_typed
from checklists.words import clock, minute_of_day, say_date
from tui.open_matters import matters_to_show
from tui.screens.rows_screen import RowsScreen
from tui.sections import PRIVATE
from tui.signs import MATTER_SIGNS
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.matter_list import FIRST_SIGNS, ChoiceBar, fold_key, matter_rows
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question
from tui.wording import leave_text, sentence

LONGEST_TEXT = 200
TYPED_SIGNS = frozenset("0123456789 ,;=/apfhi")
"""What numbers, counts and parts are typed with; a full stop from the number pad stands for a space."""


class MattersScreen(RowsScreen):
    """Matters in a list, the choices of the one in hand below.

    A choice is one digit; where a count or class-list numbers are asked for, digits are typed, and Enter takes them.
    """

    SIGNS = MATTER_SIGNS

    QUESTION: ClassVar[str] = ""
    """What the screen is about, beside the date."""

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.matters: tuple[OpenMatter, ...] = ()
        self.typing: str | None = None
        self.typing_for = ""
        self.folded: frozenset[str] = frozenset()
        """Keys of answered matters that are folded away."""
        self.unfolded: frozenset[str] = frozenset()
        """Sections that she wants to see whole."""

    def find_matters(self) -> tuple[OpenMatter, ...]:
        raise NotImplementedError

    def heading_of(self, matter: OpenMatter) -> str:
        return matter.section

    def text_of(self, matter: OpenMatter) -> str:
        """The row of a matter in the list; its full text stands below."""
        return matter.text

    def statement(self) -> Content:
        raise NotImplementedError

    def time_line(self) -> tuple[Content, Content]:
        """Which day it is and when she leaves or left, in the words of the list."""
        recorder, now = self.trundle.recorder, self.trundle.now()
        is_closed = recorder.book.is_closed(self.date)
        marks = recorder.marks(self.date)
        departure = recorder.departure(self.date, now)
        leave = leave_text(recorder.day(self.date), marks, now, departure, is_closed=is_closed)
        time = clock(minute_of_day(now)) if now.date() == self.date else ""
        day = Content.assemble((say_date(self.date), "bold"), f"  {self.QUESTION}")
        return day, Content.assemble(f"{time}   ", (leave, "bold"))

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield ChoiceBar()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.take_matters()
        self.folded = frozenset(matter.key for matter in self.matters if matter.answer)
        self.show_matters(next((matter.key for matter in self.matters if not matter.answer), ""))

    @property
    def matter(self) -> OpenMatter | None:
        return next((matter for matter in self.matters if matter.key == self.key_in_hand), None)

    def reread(self) -> None:
        """Show what is open now, the cursor where it was."""
        self.take_matters()
        self.show_matters(self.key_in_hand)

    def take_matters(self) -> None:
        self.matters = matters_to_show(self.find_matters(), self.trundle.recorder.day(self.date))

    def show_matters(self, key: str) -> None:
        """Show the rows, the cursor on ``key``. What is answered folds once she is in another section."""
        section = next((self.heading_of(matter) for matter in self.matters if matter.key == key), "")
        answered = {matter.key: self.heading_of(matter) for matter in self.matters if matter.answer}
        self.folded = frozenset(
            each
            for each, heading in answered.items()
            if each != key and heading not in self.unfolded and (each in self.folded or section not in ("", heading))
        )
        rows = matter_rows(self.matters, self.heading_of, self.text_of, self.folded)
        self.list.show(rows, self.list.cursor, key=key)
        self.query_one(Question).show(self.time_line(), self.statement())
        self.show_choices()

    def show_choices(self) -> None:
        self.query_one(ChoiceBar).tell(self.matter, self.typing)

    @on(LineList.Moved)
    def show_choices_of_moved(self) -> None:
        """What is typed belongs to one matter; sections she has left fold."""
        current = self.matter
        if current is None or current.key != self.typing_for:
            self.typing = None
        section = self.heading_of(current) if current is not None else ""
        if current is not None and any(
            matter.answer and matter.key not in self.folded and self.heading_of(matter) not in (section, *self.unfolded)
            for matter in self.matters
        ):
            self.show_matters(current.key)
        self.show_choices()

    @on(LineList.Pointed)
    def unfold_pointed(self) -> None:
        if self.matter is None:
            self.action_unfold()

    def action_unfold(self) -> None:
        """Show what is answered in the section in hand, or fold it again."""
        if self.typing is not None or self.list.row is None:
            return
        current, key = self.matter, self.list.row.key
        headings = {fold_key(self.heading_of(matter)): self.heading_of(matter) for matter in self.matters}
        section = self.heading_of(current) if current is not None else headings.get(key, "")
        self.unfolded = self.unfolded ^ {section}
        of_section = [matter for matter in self.matters if self.heading_of(matter) == section]
        if section in self.unfolded:
            self.folded -= {matter.key for matter in of_section}
        else:
            self.folded |= {matter.key for matter in of_section if matter.answer}
        at = current.key if current is not None else next((m.key for m in of_section if m.answer), key)
        self.show_matters(at)

    # -------------------------------------------------------------------------------------------------- moving

    def go_to_next_open(self) -> None:
        """The cursor on the next matter without an answer: below, else above; else where it is."""
        answered = {matter.key: bool(matter.answer) for matter in self.matters}
        rows, cursor = self.list.rows, self.list.cursor
        for index in [*range(cursor + 1, len(rows)), *range(cursor)]:
            if answered.get(rows[index].key) is False:
                self.list.cursor = index
                return

    def may_leave_row(self) -> bool:
        return self.typing is None

    # -------------------------------------------------------------------------------------------------- saying

    def action_digit(self, digit: str) -> None:
        """Where a count or numbers are asked for, the first sign typed; else the answer with this digit."""
        matter = self.matter
        if matter is None:
            return
        if matter.typed in FIRST_SIGNS:
            self.type_on(digit)
            return
        choices = matter.choices[:9]
        if 1 <= int(digit) <= len(choices):
            self.take_step(matter, choices[int(digit) - 1].entries)
        else:
            self.say(
                f"{digit} is no answer here: 1 to {len(choices)}." if choices[1:] else f"{digit} is no answer here."
            )

    def take_step(self, matter: OpenMatter, entries: tuple[AnyEntry, ...]) -> None:
        """Save what was chosen or typed, show it, go on to the next open matter."""
        problem = self.record(*entries)
        self.typing = None
        index = self.list.cursor
        self.reread()
        if self.list.index_of(matter.key) is None:
            self.list.cursor = self.list.nearest(index)
        current = self.matter
        if current is not None and current.answer:
            self.go_to_next_open()
        self.say(problem or self.said_of(matter, entries[-1]), alarm=bool(problem))

    def said_of(self, matter: OpenMatter, entry: AnyEntry) -> str:
        if matter.text == PRIVATE:
            return "Private matter: noted."
        return sentence(say_entry(entry, self.trundle.recorder.day(self.date)))

    def type_on(self, sign: str) -> None:
        """One more sign of what is typed for the matter in hand."""
        matter = self.matter
        if matter is None or not matter.typed:
            return
        before = self.typing if self.typing is not None and self.typing_for == matter.key else ""
        self.typing, self.typing_for = (before + sign)[:LONGEST_TEXT], matter.key
        self.say("")
        self.show_choices()

    def action_begin_typing(self) -> None:
        self.type_on("")

    def on_key(self, event: events.Key) -> None:
        """While something is typed, a sign is only a sign; ``b`` still goes back, but where words are typed."""
        words = self.matter is not None and self.matter.typed == "case"
        if self.typing is None or not event.is_printable or event.character is None:
            return
        if words:
            self.type_on(event.character)
            event.stop()
            return
        if event.character == "b":
            return
        sign = event.character.replace(".", " ")
        if sign in TYPED_SIGNS:
            self.type_on(sign)
        event.stop()

    def stop_typing(self) -> None:
        self.typing = None
        self.show_choices()

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typing = self.typing[:-1] if self.typing else None
            self.show_choices()

    def action_accept(self) -> None:
        """What was typed; with nothing typed the cursor only goes on: Enter alone never answers."""
        matter = self.matter
        if matter is None:
            self.action_unfold()
        elif self.typing is None or self.typing_for != matter.key:
            self.go_to_next_open()
        elif not self.typing.strip():
            self.stop_typing()
            self.say("Nothing was typed, nothing is noted.")
        else:
            found = entries_typed(matter, self.typing.strip(), self.trundle.now())
            if isinstance(found, str):
                self.stop_typing()
                self.say(found, alarm=True)
            else:
                self.take_step(matter, found)

    def action_why(self) -> None:
        from tui.screens.why import asked_screen

        if self.typing is None and self.matter is not None:
            self.app.push_screen(asked_screen(self.trundle.recorder, self.date, self.matter))

    def action_undo(self) -> None:
        """Take back the newest step; the cursor goes to the question it had answered."""
        self.typing = None
        before = {matter.key: matter.answer for matter in self.matters}
        if not self.take_back():
            return
        after = {matter.key: matter.answer for matter in self.matters}
        changed = [key for key, answer in after.items() if key in before and before[key] != answer]
        changed = changed or [key for key in after if key not in before]
        if changed:
            self.show_matters(changed[0])

    def action_back(self) -> None:
        if self.typing is not None:
            self.stop_typing()
        else:
            super().action_back()
