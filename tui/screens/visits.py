"""What came back?"""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.daybook.besides import said_besides
from checklists.daybook.entries import AnyEntry
from checklists.daybook.noting import entries_of_line, say_noted, visit_meant
from checklists.daybook.shorthand import FORMS, LONGEST, Shorthand, read_shorthand
from checklists.daybook.visit_rows import VisitRow, visit_rows
from checklists.lines.records import Visit
from checklists.words import clean, join_words, plural, say_date, say_room
from tui.keys import VISITS, bindings_of
from tui.screens.help import hang
from tui.screens.page import Page
from tui.screens.rows_screen import RowsScreen
from tui.visit_rows import rows_of_visits, say_counts, say_waiting
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

BEGINS = frozenset("0123456789=acdiklnoptv")
"""With these a line is begun without Space: digits, and the letters that are no key of the screen."""
WORDS = "a4,11 absent  3f not done  = all back  13 back  n not taught  Space h half"


class InHand(Band):
    """The visit in hand or named in the line, what is typed, and how it is understood."""

    DEFAULT_CSS = "InHand { height: 6; padding: 0 1; background: $hand; }"


class VisitsScreen(RowsScreen):
    """A row a visit in the order of the cart sheet, and one line typed for the row in hand, or for the visit it names.

    How the line is understood is said in words while it is typed; nothing is noted before Enter, and then just that.
    """

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(VISITS)]
    KEYS = VISITS
    TITLE_OF_KEYS = "What came back"

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.typing: str | None = None
        self.known: tuple[VisitRow, ...] = ()

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield InHand()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.reread()
        first = next((each.visit.key for each in self.known if not each.is_settled), "")
        self.show_rows(first)

    def reread(self) -> None:
        recorder = self.trundle.recorder
        self.known = visit_rows(self.book.plan, recorder.day(self.date), recorder.marks(self.date))
        self.show_rows(self.key_in_hand)

    def show_rows(self, key: str) -> None:
        self.list.show(rows_of_visits(self.known, self.app.size.width - 1), self.list.cursor, key=key)
        told = sum(each.is_told for each in self.known)
        waiting = sum(len(each.waiting) for each in self.known)
        said = f"{told} of {plural(len(self.known), 'visit')} told"
        counts = f", {plural(waiting, 'count')} open" if waiting else ""
        day = Content.assemble((say_date(self.date), "bold"), "  What came back?")
        self.query_one(Question).show((day, Content(f"{said}{counts}" if self.known else "no visits on this day")))
        self.show_in_hand()

    def on_resize(self) -> None:
        if self.known:
            self.show_rows(self.key_in_hand)

    @on(LineList.Moved)
    def show_in_hand(self) -> None:
        """What is known of the visit, or what is typed and how it is understood."""
        row = self.row_meant
        if row is None:
            self.query_one(InHand).show()
            return
        visit = row.visit
        width = max(20, self.app.size.width - 2)
        children = f"{'about ' if visit.about else ''}{plural(visit.students, 'child')}"
        in_hand = f"{visit.name} {visit.class_id}, {say_room(visit.room)}, {children}: {row.title}"
        lines = [Content.assemble((clean(in_hand), "bold"))]
        if self.typing is None:
            known = [each for text in self.say_known(row) for each in Content(clean(text)).wrap(width)]
            lines += [*known[:4], Content(WORDS)]
        else:
            lines.append(Content.assemble(("Typed: ", "$ask"), (f"{clean(self.typing)}_", "bold")))
            said, is_wrong = self.understood()
            lines += Content.assemble((clean(said), "bold $alarm" if is_wrong else "")).wrap(width)[:3]
            if row.waiting:
                lines.append(Content(clean(f"To count, in this order: {say_waiting(row)}")))
        self.query_one(InHand).show(*lines)

    def say_known(self, row: VisitRow) -> tuple[str, ...]:
        """What was told of a visit, and what waits."""
        told = ", ".join(each for each in (row.outcome, row.absent) if each)
        kept = [f"low: {join_words(row.low)}"] if row.low else []
        kept += [f"stayed there: {join_words(row.stayed)}"] if row.stayed else []
        said = "; ".join([f"Told: {told}" if told else "Enter: as planned, nobody missing", *kept])
        counts = f"= or how many are back: {say_waiting(row)}" if row.waiting else f"Counted: {say_counts(row)}"
        return (said, counts) if row.counts else (said,)

    # --------------------------------------------------------------------------------------------------- which visit

    @property
    def row_in_hand(self) -> VisitRow | None:
        return next((each for each in self.known if each.visit.key == self.key_in_hand), None)

    @property
    def row_meant(self) -> VisitRow | None:
        """The visit that the line names, else the one in hand."""
        line = read_shorthand(self.typing) if self.typing else ""
        visit = self.visit_of(line) if isinstance(line, Shorthand) else None
        named = next((each for each in self.known if isinstance(visit, Visit) and each.visit.key == visit.key), None)
        return named or self.row_in_hand

    def visit_of(self, line: Shorthand) -> Visit | str:
        in_hand = self.row_in_hand
        return visit_meant(line, self.trundle.recorder.day(self.date), in_hand.visit if in_hand is not None else None)

    def found(self) -> tuple[AnyEntry, ...] | str:
        """The entries of what is typed, or what is wrong with it. The one reading for what is shown and noted."""
        line = read_shorthand(self.typing or "")
        visit = self.visit_of(line) if isinstance(line, Shorthand) else line
        if isinstance(line, str) or isinstance(visit, str):
            return str(visit)
        recorder, now = self.trundle.recorder, self.trundle.now()
        return entries_of_line(self.book.plan, recorder.day(self.date), recorder.marks(self.date), visit, line, now)

    def understood(self) -> tuple[str, bool]:
        """How the line is understood, in words, and whether it is not."""
        if not (self.typing or "").strip():
            return "Nothing is noted before Enter; Esc leaves it alone.", False
        found = self.found()
        if isinstance(found, str):
            return found, True
        return f"Enter notes: {say_noted(found, self.trundle.recorder.day(self.date), self.book.plan)}", False

    # ----------------------------------------------------------------------------------------------------- typing

    def on_key(self, event: events.Key) -> None:
        """While a line is typed every sign is a sign of it; else some signs begin one."""
        sign = event.character
        if not event.is_printable or sign is None:
            return
        if self.typing is not None or sign.casefold() in BEGINS:
            self.typing = ((self.typing or "") + sign)[:LONGEST]
            self.say("")
            self.show_in_hand()
            event.stop()

    def action_begin_typing(self) -> None:
        self.typing = ""
        self.say("")
        self.show_in_hand()

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typing = self.typing[:-1] if self.typing else None
            self.show_in_hand()

    def may_leave_row(self) -> bool:
        return self.typing is None

    def action_accept(self) -> None:
        """Note what was typed; with nothing typed, as planned. Never a count that nobody has given."""
        row = self.row_in_hand
        if row is None:
            return
        if self.typing is None and row.is_told:
            self.go_on(row.visit.key)
            waiting = join_words(f"{each.out} {each.name}" for each in row.waiting)
            if waiting:
                self.say(f"{row.visit.name} {row.visit.class_id}: {waiting} not counted back yet.", alarm=True)
            return
        if self.typing is not None and not self.typing.strip():
            self.typing = None
            self.show_in_hand()
            self.say("Nothing was typed, nothing is noted.")
            return
        found = self.found()
        if isinstance(found, str):
            self.say("Nothing is noted yet: correct the line, or Esc leaves it alone.", alarm=True)
            return
        meant = self.row_meant
        problem = self.record(*found)
        self.typing = None
        self.reread()
        self.after_noting(meant.visit.key if meant is not None else row.visit.key, found, problem)

    def after_noting(self, key: str, noted: tuple[AnyEntry, ...], problem: str) -> None:
        """Stay where a count waits, else go on; say what was noted, and before it what that brings with it."""
        self.go_to(key)
        recorder, plan = self.trundle.recorder, self.book.plan
        day, marks = recorder.day(self.date), recorder.marks(self.date)
        besides = said_besides(plan, day, marks, self.book.opening(self.date), noted, brief=True)
        row = next(each for each in self.known if each.visit.key == key)
        waiting = [each for each in row.waiting if not each.later]
        if waiting:
            counts = f"Now {plural(len(waiting), 'count')} of {row.visit.name}: = for all, or how many are back."
            besides = (*besides, counts)
        else:
            self.go_on(key)
        said = " ".join([*besides, f"{say_noted(noted, day, plan)}."])
        self.say(problem or said, alarm=bool(problem or besides))

    def go_on(self, key: str) -> None:
        """To the next visit of which something is still to be told: below, else above; else the cursor stays."""
        keys = [each.visit.key for each in self.known]
        at = keys.index(key)
        for each in (*self.known[at + 1 :], *self.known[:at]):
            if not each.is_settled:
                self.go_to(each.visit.key)
                return

    def action_undo(self) -> None:
        """Take back the newest step; the cursor goes to the visit it was about."""
        before = {each.visit.key: each for each in self.known}
        if self.take_back():
            changed = [each for each in self.known if before.get(each.visit.key, each) != each]
            told = [each for each in changed if said_of(before[each.visit.key]) != said_of(each)]
            self.go_to(next((each.visit.key for each in (*told, *changed)), self.key_in_hand))

    def action_back(self) -> None:
        if self.typing is not None:
            self.typing = None
            self.show_in_hand()
        else:
            super().action_back()

    def action_help(self) -> None:
        """What can be typed, then the keys."""
        told = [*FORMS, *((key.all_shown, key.meaning) for key in self.KEYS if key.meaning)]
        hung = [line for shown, meaning in told for line in hang(shown, meaning)]
        intro = "Letter before number: who, by class-list number. Number before letter: how many. Spaces between."
        words = [Content.assemble((f"{shown:<16}", "bold"), part) for shown, part in hung]
        self.app.push_screen(Page("What can be typed of a visit", (Content(intro), Content(""), *words)))


def said_of(row: VisitRow) -> tuple[object, ...]:
    """What was told of this one visit: what is low may be needed by others as well."""
    return row.outcome, row.absent, row.counts
