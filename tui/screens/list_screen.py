"""The list of a day on screen, with the bars around it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content

from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import packing_minutes_left, preparation_minutes_left
from checklists.lines.records import Day, Line
from tui.keys import MORNING
from tui.notices import brief_notices, steady_notices
from tui.rows import Row, line_row, rows_of, settled_keys, todo_row
from tui.screens.rows_screen import RowsScreen
from tui.sections import Order, Section, Todo, sections_of
from tui.summary import Minutes, cells_of, empty_text, head_of, section_title, standing_of
from tui.tally import Tally, tally_of
from tui.widgets.band import Band
from tui.widgets.container_shelf import ContainerShelf
from tui.widgets.head_bar import HeadBar
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.notice import NoticeArea
from tui.widgets.visit_strip import VisitStrip
from tui.widgets.why_panel import WhyPanel
from tui.wording import turned_text

SIDE_NOTICES = 8
"""Rows for what is only to know where there is a side panel."""
SIDE_MOST = 12
"""Rows for all notices there."""


class SectionBar(Band):
    """The section in hand: name, sign, place, mass, and what is open in it."""

    DEFAULT_CSS = "SectionBar { height: 1; padding: 0 1; background: $hand; text-style: bold; }"


class ListScreen(RowsScreen):
    """Shows the day's list and the bars around it; moves nothing, records nothing."""

    DEFAULT_CSS = """
    ListScreen #side { width: 40; display: none; border-left: solid $quiet; background: $sheet; }
    ListScreen.-wide #side { display: block; }
    ListScreen.-wide #body VisitStrip, ListScreen.-wide #body NoticeArea { display: none; }
    ListScreen.-low VisitStrip { display: none; }
    """
    HORIZONTAL_BREAKPOINTS = [(0, "-usual"), (112, "-wide")]  # noqa: RUF012 - as Textual declares it
    VERTICAL_BREAKPOINTS = [(0, "-low"), (22, "-high")]  # noqa: RUF012

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.order: Order = "container"
        self.in_hand = 0
        self.is_unfolded = False
        self.folded: frozenset[str] = frozenset()
        self.shown_unsaved: frozenset[str] = frozenset()
        self.is_begun = False
        self.has_asked_for_question = False
        """Whether she asked to see the question: then it stands above all other notices."""
        self.take_day()

    def take_day(self) -> None:
        """Take over the day as it is now; what is looked up at each step is laid out once."""
        self.day: Day = self.trundle.recorder.day(self.date)
        self.marks: Marks = self.trundle.recorder.marks(self.date)
        self.departure = self.trundle.recorder.departure(self.date, self.trundle.now())
        self.tally: Tally = tally_of(self.day, self.marks, self.departure)
        self.sections: tuple[Section, ...] = sections_of(self.day, self.order, self.departure)
        self.line_by_key = {line.key: line for line in self.day.lines}
        self.todo_by_key = {todo.key: todo for section in self.sections for todo in section.todos}
        self.steady = steady_notices(self.book, self.day)
        self.take_out_by_key = {each.key: each for each in self.day.take_out}
        self.decision_by_key = {each.key: each for each in self.day.decisions}
        self.lines_of_visit = {
            visit.key: tuple(line for line in self.day.lines if visit.key in line.visits) for visit in self.day.visits
        }
        self.in_hand = min(self.in_hand, max(0, len(self.sections) - 1))

    def compose(self) -> ComposeResult:
        yield HeadBar()
        with Horizontal():
            with Vertical(id="body"):
                yield VisitStrip()
                yield NoticeArea()
                yield ContainerShelf()
                yield SectionBar()
                yield LineList()
            with Vertical(id="side"):
                yield VisitStrip(tall=True)
                yield WhyPanel()
                yield NoticeArea(id="all-notices", few=SIDE_NOTICES, most=SIDE_MOST, whole=True)
        yield MessageLine()
        yield KeyBar(MORNING)

    @property
    def section(self) -> Section | None:
        return self.sections[self.in_hand] if self.sections else None

    # ------------------------------------------------------------------------------------------------- showing

    def reread(self) -> None:
        """Show what the book says now, the cursor where it was."""
        if not self.is_begun:
            return
        key = self.key_in_hand
        section = self.section.key if self.section else ""
        self.take_day()
        keys = [each.key for each in self.sections]
        self.in_hand = keys.index(section) if section in keys else self.in_hand
        if self.section is not None:  # what was settled may ask for hands again: it does not stay folded away
            self.folded &= settled_keys(self.section, self.tally)
        self.show_rows(key)
        self.show_bars()

    def show_rows(self, key: str = "") -> None:
        """Show the rows of the section in hand, the cursor on ``key`` if it is there."""
        if self.section is None:
            self.list.show([Row("text", f"empty {index}", text) for index, text in enumerate(empty_text(self.day))])
            return
        folded = frozenset() if self.is_unfolded else self.folded
        self.shown_unsaved = self.unsaved
        rows = rows_of(self.section, self.day, self.marks, self.tally, folded, self.shown_unsaved)
        index = next((index for index, row in enumerate(rows) if row.key == key), None)
        self.list.show(rows, self.list.cursor if index is None else index)

    def show_changed(self, keys: Iterable[str]) -> None:
        """After a step: only the rows it changed, and the counts."""
        day = self.trundle.recorder.day(self.date)
        if day is not self.day:
            self.reread()
            return
        self.marks = self.trundle.recorder.marks(self.date)
        self.tally = tally_of(self.day, self.marks, self.departure)
        unsaved = self.unsaved
        saved_since = self.shown_unsaved - unsaved  # a step that was saved takes along what had waited
        self.shown_unsaved = unsaved
        for key in {*keys, *saved_since}:
            index = self.list.index_of(key)
            if index is not None:
                self.list.change(index, self.row_of(key, unsaved))
        self.show_bars()

    def row_of(self, key: str, unsaved: frozenset[str]) -> Row:
        if key in self.line_by_key:
            return line_row(self.line_by_key[key], self.day, self.marks, self.tally, key in unsaved)
        take_out = self.take_out_by_key.get(key)
        return todo_row(self.todo_by_key[key], key in self.tally.settled, key in unsaved, take_out, self.marks)

    @property
    def unsaved(self) -> frozenset[str]:
        return self.trundle.recorder.unsaved(self.date)

    def show_bars(self) -> None:
        self.show_head()
        by_shelf = self.order == "shelf"
        standing = standing_of(self.sections, self.day, self.marks, self.tally, self.in_hand, fold_ready=by_shelf)
        self.query_one(ContainerShelf).show(standing)
        cells = cells_of(self.day, self.tally, self.lines_of_visit)
        for strip in self.query(VisitStrip):
            strip.show(cells)
        self.show_notices()
        if self.section is None:
            self.query_one(SectionBar).show()
        else:
            name, count = section_title(self.section, self.tally)
            self.query_one(SectionBar).show((Content(name), Content(count)))

    def show_notices(self) -> None:
        notices = brief_notices(self.book, self.day, self.marks, self.steady, self.departure)
        for area in self.query(NoticeArea):
            area.tell(notices, question_first=self.has_asked_for_question)

    def show_head(self) -> None:
        habits = self.book.settings
        first = self.trundle.opening_date
        # By the clock: the list itself stays in its order until it is read again.
        departure = self.trundle.recorder.departure(self.date, self.trundle.now())
        self.query_one(HeadBar).tell(
            head_of(
                self.day,
                self.marks,
                self.tally,
                departure,
                now=self.trundle.now(),
                left=Minutes(
                    packing_minutes_left(self.day, self.marks, habits.minutes_a_line, departure.not_now),
                    preparation_minutes_left(self.day, self.marks),
                ),
                unsaved=len(self.trundle.recorder.waiting),
                is_closed=self.book.is_closed(self.date),
                turned=turned_text(self.trundle.now().date(), self.trundle.day_that_came()),
                other="" if self.date == first else "NEXT DAY" if self.date > first else "EARLIER DAY",
            )
        )

    @property
    def line(self) -> Line | None:
        """The line in hand."""
        row = self.list.row
        return self.line_by_key.get(row.key) if row is not None else None

    @property
    def todo(self) -> Todo | None:
        """What there is to do that is in hand."""
        row = self.list.row
        return self.todo_by_key.get(row.key) if row is not None else None
