"""What was understood of something brought in: nothing is changed before y, and u takes it back."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.bringing_in.bring_in import bring_in
from checklists.bringing_in.understood import Kind, Understood
from checklists.lines.records import Day
from checklists.pages.bringing_in import TITLES
from checklists.pages.plain import wrap
from checklists.pages.what_follows import what_follows
from checklists.plan.plan_files import PlanFiles
from checklists.words import say_date
from tui.keys import UNDERSTOOD, bindings_of
from tui.screens.rows_screen import RowsScreen
from tui.understood_rows import SIGNS, number_in, understood_rows
from tui.widgets.follows import Follows
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question


class UnderstoodScreen(RowsScreen):
    """Rows not understood first. ``content`` is what was pasted or what stood in the file ``source``."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(UNDERSTOOD)]
    KEYS = UNDERSTOOD
    TITLE_OF_KEYS = "What was understood"
    SIGNS = tuple((sign, does) for does, sign in SIGNS.items())

    def __init__(self, on: date, kind: Kind, content: bytes | str, source: str) -> None:
        super().__init__(on)
        self.kind, self.content, self.source = kind, content, source
        self.take: frozenset[int] = frozenset()
        self.leave: frozenset[int] = frozenset()
        self.is_done = False
        self._read_from: tuple[PlanFiles, frozenset[int], frozenset[int]] | None = None
        self._understood: Understood | None = None

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield Follows()
        yield MessageLine()
        yield KeyBar(UNDERSTOOD)

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    @property
    def understood(self) -> Understood:
        """What was understood, read anew where the plan or a switched row makes a difference."""
        files = self.book.plan_files
        if self._understood is not None and (self.is_done or self._read_from == (files, self.take, self.leave)):
            return self._understood
        self._read_from = (files, self.take, self.leave)
        self._understood = bring_in(
            self.kind,
            self.content,
            files,
            self.trundle.now().date(),
            take=self.take,
            leave=self.leave,
            own_rules=self.book.own_rules,
        )
        return self._understood

    def reread(self) -> None:
        understood = self.understood
        width = self.size.width - 2
        counted = wrap(f"{TITLES[self.kind]}: {understood.counted}.", indent=2, width=max(20, width))
        head = [Content.assemble((line if n else line.lstrip(), "bold")) for n, line in enumerate(counted)]
        what_next, source = Content(self.what_next(understood)), Content(f"from {self.source}")
        together = what_next.cell_length + source.cell_length + 2 <= width
        self.query_one(Question).show(*head, (what_next, source) if together else what_next)
        self.list.show(list(understood_rows(understood, self.size.width)), self.list.cursor, key=self.key_in_hand)

    def what_next(self, understood: Understood) -> str:
        if self.is_done:
            return f"Done: {understood.said}. u takes it back."
        if understood.problems:
            return "It cannot be brought in so. Enter leaves out a row."
        if not understood.changes_anything:
            return "Nothing is to be changed."
        return "Nothing changes before y. Enter: this row, or not."

    # ----------------------------------------------------------------------------------------------------- switching

    def action_accept(self) -> None:
        """Leave the row in hand out, or take it all the same."""
        number = number_in(self.key_in_hand)
        if number is None or self.is_done:
            return
        here = [each for each in self.understood.rows if each.number == number]
        if number in self.leave:
            self.leave -= {number}
        elif number in self.take:
            self.take -= {number}
        elif all(each.does == "not taken" for each in here):
            if self.kind != "days-off":
                self.say("There is nothing in it to take.")
                return
            self.take |= {number}
        else:
            self.leave |= {number}
        self.reread()
        self.go_to_number(number)

    def go_to_number(self, number: int) -> None:
        """The cursor stays with what was switched, wherever it stands now."""
        key = next((row.key for row in self.list.rows if number_in(row.key) == number and row.kind == "reading"), "")
        self.go_to(key)

    def action_digit(self, digit: str) -> None:
        """Digits mean nothing here."""

    # ------------------------------------------------------------------------------------------------------- taking it

    def action_take_all(self) -> None:
        understood = self.understood
        if self.is_done:
            return
        if not understood.can_be_taken:
            self.say(self.what_next(understood), alarm=bool(understood.problems))
            return
        recorder = self.trundle.recorder
        before = recorder.day(self.date)
        problem = recorder.save_again() or recorder.change_files(understood.files, understood.said, self.trundle.now())
        if problem:
            self.say(problem, alarm=True)
            return
        self.is_done = True
        self.reread()
        self.tell_what_follows(before)

    def tell_what_follows(self, before: Day) -> None:
        """What it does to the day's list."""
        recorder = self.trundle.recorder
        follows = what_follows(self.book.plan, before, recorder.day(self.date), recorder.marks(self.date))
        where = f"On the list of {say_date(self.date)}"
        self.query_one(Follows).tell(where, follows or ("Nothing is different.",))
        self.say("")

    def action_undo(self) -> None:
        self.query_one(Follows).tell("", ())
        was_done, self.is_done = self.is_done, False
        if not self.take_back():
            self.is_done = was_done
        self.reread()
