"""A class on screen: what is noted of it, moving there, and typing a number for the row in hand."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.daybook.class_place import place_now, say_class_place
from checklists.daybook.state import Progress
from checklists.lines.records import Day, Visit
from checklists.pages.known_class import say_place
from checklists.plan.records import SchoolClass
from checklists.words import say_date
from tui.class_rows import AVOIDED, NEEDED, TOPICS, Today, Topic, class_rows
from tui.keys import CLASS_NOTES, bindings_of
from tui.screens.rows_screen import RowsScreen
from tui.widgets.follows import Follows
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

LETTERS: dict[Topic, str] = {
    topic: key.keys[0] for topic in TOPICS for key in CLASS_NOTES if key.action in (topic, f"begin('{topic}')")
}
NEED_COUNT = "count of "
"""Begins the name of what is typed where the count of a need is asked for."""
PROMPTS: dict[str, str] = {
    "size": "Children in {}: 25, or a24 for about 24",
    "left": "Who left {}? The class-list number; the others keep theirs",
    "adults": "Adults in the room with {}, you among them",
    "place": "Which part of its lesson comes next for {}? Its number",
    "adults today": "Adults in the room with {} on this day only, you among them",
    "size today": "Children of {} who come on this day only",
}
NUMBERS: dict[str, str] = {LETTERS[topic]: topic for topic in TOPICS if topic in PROMPTS}
"""Letter -> the row for which a number is typed."""
LONGEST_TYPED = 12


class ClassScreen(RowsScreen):
    """A class with everything noted of it, a cursor, and a number being typed; notes nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CLASS_NOTES)]
    KEYS = CLASS_NOTES
    TITLE_OF_KEYS = "Notes about a class"

    def __init__(self, on: date, class_id: str) -> None:
        super().__init__(on)
        self.class_id = class_id
        self.typing: str | None = None
        """What is being typed; None while nothing is."""
        self.typing_for = ""
        self.is_gone = False
        """Whether the plan has no such class any more."""

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield Follows()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.reread()

    @property
    def class_(self) -> SchoolClass:
        return self.book.plan.class_by_id[self.class_id]

    @property
    def day(self) -> Day:
        return self.trundle.recorder.day(self.date)

    @property
    def visit(self) -> Visit | None:
        """The class's first visit of the day."""
        return next((visit for visit in self.day.visits if visit.class_id == self.class_id), None)

    def reread(self, key: str = "") -> None:
        """Show what is noted now, the cursor where it was, or on ``key``; back where the plan has no such class now."""
        if self.class_id not in self.book.plan.class_by_id:
            if not self.is_gone:
                self.is_gone = True
                self.dismiss()
            return
        rows = class_rows(
            self.book.plan, self.class_, say_class_place(self.book.plan, self.place), self.today(), LETTERS
        )
        self.list.show(rows, self.list.cursor, key=key or self.key_in_hand)
        place = Content.assemble((self.class_id, "bold"), f"  {say_place(self.class_)}")
        when = f"{self.visit.name} on {say_date(self.date)}" if self.visit is not None else "no visit that day"
        said = "Private: shown on this screen only. No names, only numbers."
        self.query_one(Question).show((place, Content(when)), Content(said))

    @property
    def place(self) -> Progress | None:
        """Which part of which lesson is its next one on the day."""
        marks = self.trundle.recorder.marks(self.date)
        return place_now(self.book.plan, self.book.opening(self.date), marks, self.class_id)

    def today(self) -> Today | None:
        if self.visit is None:
            return None
        said = self.trundle.recorder.marks(self.date).changes
        adults = (said.adults or {}) if said is not None else {}
        return Today(say_date(self.date), adults.get(self.class_id, self.class_.adults), self.visit.students)

    # ---------------------------------------------------------------------------------------------------- choosing

    def may_leave_row(self) -> bool:
        return self.typing is None

    def action_accept(self) -> None:
        """Take what was typed, or say more of the row in hand."""
        if self.typing is not None:
            self.take_typed()
        elif self.key_in_hand.startswith(NEEDED):
            self.begin_typing(NEED_COUNT + self.key_in_hand.removeprefix(NEEDED))
        elif self.key_in_hand.startswith(AVOIDED):
            self.say("x: it need not be avoided any more.")
        elif self.key_in_hand == "join":
            self.action_join()
        elif self.key_in_hand in TOPICS:
            self.action_begin(self.key_in_hand)

    @on(LineList.Pointed)
    def begin_pointed(self, event: LineList.Pointed) -> None:
        if event.again:
            self.action_accept()

    @on(LineList.Moved)
    def let_go_of_other_row(self) -> None:
        """What is typed belongs to one row."""
        if self.typing is not None and self.key_in_hand not in (self.typing_for, self.row_of_typed()):
            self.stop_typing()

    def row_of_typed(self) -> str:
        """The row that what is typed belongs to."""
        need = self.typing_for.removeprefix(NEED_COUNT)
        if need == self.typing_for:
            return self.typing_for
        return f"{NEEDED}{need}" if any(each.need == need for each in self.class_.needs) else "need"

    def action_begin(self, topic: str) -> None:
        """Choose a thing from a list, or type a number."""
        if self.typing is not None or self.list.index_of(topic) is None:
            return
        self.list.cursor = self.list.index_of(topic) or 0
        if topic in PROMPTS:
            self.begin_typing(topic)
        else:
            self.choose(topic)

    def choose(self, topic: str) -> None:
        """Open the list of known things."""
        raise NotImplementedError

    def action_join(self) -> None:
        """A new child."""
        raise NotImplementedError

    def take_typed(self) -> None:
        """What was typed becomes a note."""
        raise NotImplementedError

    # ------------------------------------------------------------------------------------------------------ typing

    def begin_typing(self, what: str) -> None:
        self.typing, self.typing_for = "", what
        self.echo()

    def stop_typing(self) -> None:
        self.typing = None
        self.query_one(MessageLine).put(Content(""))

    def echo(self) -> None:
        """What is asked for, what was typed, and which key takes it."""
        need = self.typing_for.removeprefix(NEED_COUNT)
        if need != self.typing_for:
            asked = f"How many children need it ({need.replace('-', ' ')})? Enter alone: 1; 0: nobody"
        else:
            asked = PROMPTS[self.typing_for].format(self.class_id)
        typed = Content.assemble((f"{self.typing}_", "bold $ask"), f"  {asked}")
        self.query_one(MessageLine).put(typed, alone=True)

    def on_key(self, event: events.Key) -> None:
        """While something is typed, a sign is only a sign; ``b`` still goes back where no word is typed.

        Typing begins here too, so that signs typed ahead belong to it.
        """
        if self.typing is None:
            if event.key in NUMBERS:
                event.stop()
                self.action_begin(NUMBERS[event.key])
            return
        if not event.is_printable or event.character is None:
            return
        if event.character == "b" and not self.typing.startswith("a"):
            return
        event.stop()
        self.typing = (self.typing + event.character)[:LONGEST_TYPED].lstrip()
        self.echo()

    def action_digit(self, digit: str) -> None:
        """A number typed on a row that takes one."""
        key = self.key_in_hand
        if key.startswith(NEEDED):
            self.begin_typing(NEED_COUNT + key.removeprefix(NEEDED))
        elif key in PROMPTS:
            self.begin_typing(key)
        else:
            return
        self.typing = digit
        self.echo()

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typing = self.typing[:-1]
            self.echo()

    def action_back(self) -> None:
        if self.typing is not None:
            self.stop_typing()
        else:
            super().action_back()
