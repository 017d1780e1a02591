"""A list of open matters with what to do about each: the base of "before you go" and of the end of the day."""

from __future__ import annotations

from datetime import date

from textual import events, on
from textual.app import ComposeResult
from textual.content import Content

from checklists.daybook.matters import OpenMatter
from checklists.daybook.records import AnyEntry
from checklists.daybook.said import say_entry
from checklists.daybook.typing_in import entries_typed
from tui.screens.day_screen import DayScreen
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.matter_list import ChoiceBar, matter_rows
from tui.widgets.message_line import MessageLine
from tui.wording import sentence

LONGEST_TEXT = 200
TYPED_SIGNS = frozenset("0123456789 ,;=ap")
"""What numbers, counts and parts are typed with; a full stop from the number pad stands for a space."""


class Statement(Band):
    """The one plain sentence on top of the screen."""

    DEFAULT_CSS = "Statement { padding: 1 2; text-style: bold; background: $board; }"


class MattersScreen(DayScreen):
    """Matters in a list, the choices of the one in hand below; a choice is one digit, typing starts with Space."""

    DEFAULT_CSS = "MattersScreen { background: $sheet; color: $ink; }"

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.matters: tuple[OpenMatter, ...] = ()
        self.typing: str | None = None

    def find_matters(self) -> tuple[OpenMatter, ...]:
        raise NotImplementedError

    def heading_of(self, matter: OpenMatter) -> str:
        return matter.section

    def statement(self) -> Content:
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        yield Statement()
        yield LineList()
        yield ChoiceBar()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.matters = self.find_matters()
        first = next((matter.key for matter in self.matters if not matter.answer), "")
        self.show_matters(first)

    @property
    def list(self) -> LineList:
        return self.query_one(LineList)

    @property
    def matter(self) -> OpenMatter | None:
        key = self.list.row.key if self.list.row is not None else ""
        return next((matter for matter in self.matters if matter.key == key), None)

    def reread(self) -> None:
        """Show what is open now, the cursor where it was."""
        self.matters = self.find_matters()
        self.show_matters(self.list.row.key if self.list.row is not None else "")

    def show_matters(self, key: str) -> None:
        rows = matter_rows(self.matters, self.heading_of)
        index = next((index for index, row in enumerate(rows) if row.key == key), self.list.cursor)
        self.list.show(rows, index)
        self.query_one(Statement).show(self.statement())
        self.show_choices()

    def show_choices(self) -> None:
        self.query_one(ChoiceBar).tell(self.matter, self.typing)

    @on(LineList.Moved)
    def show_choices_of_moved(self) -> None:
        self.show_choices()

    # -------------------------------------------------------------------------------------------------- moving

    def go_to_next_open(self) -> None:
        """The cursor on the next matter without an answer: below, else above; else where it is."""
        answered = {matter.key: bool(matter.answer) for matter in self.matters}
        rows, cursor = self.list.rows, self.list.cursor
        for index in [*range(cursor + 1, len(rows)), *range(cursor)]:
            if answered.get(rows[index].key) is False:
                self.list.cursor = index
                return

    def action_line_before(self) -> None:
        if self.typing is None:
            self.list.step(-1)

    def action_line_after(self) -> None:
        if self.typing is None:
            self.list.step(1)

    def action_section_after(self) -> None:
        self.go_to_heading(range(self.list.cursor + 1, len(self.list.rows)))

    def action_section_before(self) -> None:
        above = max(0, self.list.cursor - 1)
        self.go_to_heading(range(above - 1, -1, -1))

    def go_to_heading(self, indices: range) -> None:
        for index in indices if self.typing is None else ():
            if self.list.rows[index].kind == "heading":
                self.list.cursor = self.list.nearest(index)
                return

    # -------------------------------------------------------------------------------------------------- saying

    def action_digit(self, digit: str) -> None:
        matter = self.matter
        if matter is not None and 1 <= int(digit) <= len(matter.choices[:9]):
            choice = matter.choices[int(digit) - 1]
            self.take_step(matter, choice.entries)

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
        said = sentence(say_entry(entries[-1], self.trundle.recorder.day(self.date)))
        self.say(problem or said, alarm=bool(problem))

    def action_begin_typing(self) -> None:
        if self.matter is not None and self.matter.typed:
            self.typing = ""
            self.show_choices()

    def on_key(self, event: events.Key) -> None:
        """While something is typed, a sign is only a sign; ``b`` still goes back."""
        if self.typing is None or not event.is_printable or event.character is None or event.character == "b":
            return
        sign = event.character.replace(".", " ")
        if sign in TYPED_SIGNS:
            self.typing = (self.typing + sign)[:LONGEST_TEXT]
            self.show_choices()
        event.stop()

    def stop_typing(self) -> None:
        self.typing = None
        self.show_choices()

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typing = self.typing[:-1] if self.typing else None
            self.show_choices()

    def action_accept(self) -> None:
        """What was typed; with nothing typed the cursor only goes on."""
        matter = self.matter
        if matter is None:
            return
        if self.typing is None:
            self.go_to_next_open()
            return
        found = entries_typed(matter, self.typing.strip(), self.trundle.now())
        if isinstance(found, str):
            self.say(found, alarm=True)
        else:
            self.take_step(matter, found)

    def action_undo(self) -> None:
        self.typing = None
        self.take_back()

    def action_back(self) -> None:
        if self.typing is not None:
            self.stop_typing()
        else:
            super().action_back()
