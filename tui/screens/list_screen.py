"""The list of a day on screen: which section is in hand, where the cursor stands, what is folded away."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content

from checklists.daybook.marks import Marks, packing_minutes_left
from checklists.lines.records import Day, Line
from tui.keys import MORNING
from tui.notices import notices_of
from tui.reasons import reasons_of
from tui.rows import FOLD, Row, first_open, line_row, rows_of, settled_keys, todo_row
from tui.screens.day_screen import DayScreen
from tui.sections import Order, Section, sections_of
from tui.summary import cells_of, empty_text, head_of, section_title, standing_of
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

SIDE_NOTICES = 12
"""Rows for notices where there is a side panel."""


class SectionBar(Band):
    """The section in hand: name, sign, place, mass, and what is open in it."""

    DEFAULT_CSS = "SectionBar { height: 1; padding: 0 1; background: $hand; text-style: bold; }"


class ListScreen(DayScreen):
    """Shows the day's list and moves in it; records nothing."""

    DEFAULT_CSS = """
    ListScreen { background: $sheet; color: $ink; }
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
        self.is_begun = False
        self.take_day()

    def take_day(self) -> None:
        """Take over the day as it is now; what is looked up at each step is laid out once."""
        self.day: Day = self.trundle.recorder.day(self.date)
        self.marks: Marks = self.trundle.recorder.marks(self.date)
        self.tally: Tally = tally_of(self.day, self.marks)
        self.sections: tuple[Section, ...] = sections_of(self.day, self.order)
        self.line_by_key = {line.key: line for line in self.day.lines}
        self.todo_by_key = {todo.key: todo for section in self.sections for todo in section.todos}
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
                yield NoticeArea(id="all-notices", few=SIDE_NOTICES, whole=True)
        yield MessageLine()
        yield KeyBar(MORNING)

    def on_mount(self) -> None:
        self.open_first()
        self.is_begun = True
        self.set_interval(20, self.show_head)

    @property
    def list(self) -> LineList:
        return self.query_one(LineList)

    @property
    def section(self) -> Section | None:
        return self.sections[self.in_hand] if self.sections else None

    # ------------------------------------------------------------------------------------------------- showing

    def reread(self) -> None:
        """Show what the book says now, the cursor where it was."""
        if not self.is_begun:
            return
        key = self.list.row.key if self.list.row else ""
        section = self.section.key if self.section else ""
        self.take_day()
        keys = [each.key for each in self.sections]
        self.in_hand = keys.index(section) if section in keys else self.in_hand
        self.show_rows(key)
        self.show_bars()

    def show_rows(self, key: str = "") -> None:
        """Show the rows of the section in hand, the cursor on ``key`` if it is there."""
        if self.section is None:
            self.list.show([Row("text", f"empty {index}", text) for index, text in enumerate(empty_text(self.day))])
            return
        folded = frozenset() if self.is_unfolded else self.folded
        rows = rows_of(self.section, self.day, self.marks, self.tally, folded, self.unsaved)
        index = next((index for index, row in enumerate(rows) if row.key == key), None)
        self.list.show(rows, self.list.cursor if index is None else index)

    def show_changed(self, keys: Iterable[str]) -> None:
        """After a step: only the rows it changed, and the counts."""
        day = self.trundle.recorder.day(self.date)
        if day is not self.day:
            self.reread()
            return
        self.marks = self.trundle.recorder.marks(self.date)
        self.tally = tally_of(self.day, self.marks)
        unsaved = self.unsaved
        for key in keys:
            index = self.list.index_of(key)
            if index is not None:
                self.list.change(index, self.row_of(key, unsaved))
        self.show_bars()

    def row_of(self, key: str, unsaved: frozenset[str]) -> Row:
        if key in self.line_by_key:
            state = self.tally.states[key]
            return line_row(self.line_by_key[key], self.day, self.marks, state, key in unsaved)
        return todo_row(self.todo_by_key[key], key in self.tally.settled, key in unsaved)

    @property
    def unsaved(self) -> frozenset[str]:
        return self.trundle.recorder.unsaved(self.date)

    def show_bars(self) -> None:
        self.show_head()
        standing = standing_of(self.sections, self.day, self.marks, self.tally, self.in_hand)
        self.query_one(ContainerShelf).show(standing)
        cells = cells_of(self.day, self.tally, self.lines_of_visit)
        for strip in self.query(VisitStrip):
            strip.show(cells)
        notices = notices_of(self.trundle.recorder.book, self.day, self.marks)
        self.query_one("#body NoticeArea", NoticeArea).tell(notices)
        self.query_one("#all-notices", NoticeArea).tell(notices)
        if self.section is None:
            self.query_one(SectionBar).show()
        else:
            name, count = section_title(self.section, self.tally)
            self.query_one(SectionBar).show((Content(name), Content(count)))

    def show_head(self) -> None:
        habits = self.trundle.recorder.book.settings
        first = self.trundle.opening_date
        self.query_one(HeadBar).tell(
            head_of(
                self.day,
                self.marks,
                self.tally,
                now=self.trundle.now(),
                packing=packing_minutes_left(self.day, self.marks, habits.minutes_a_line),
                unsaved=len(self.trundle.recorder.waiting),
                other="" if self.date == first else "NEXT DAY" if self.date > first else "EARLIER DAY",
            )
        )

    # -------------------------------------------------------------------------------------------------- moving

    def open_first(self) -> None:
        """The cursor on the first open critical line of the day, else on the first open one."""
        for critical in (True, False):
            for index, section in enumerate(self.sections):
                open_, critical_open = section.count_open(self.tally)
                if critical_open if critical else open_:
                    self.take_in_hand(index)
                    return
        self.take_in_hand(0)

    def take_in_hand(self, index: int, key: str = "") -> None:
        """Take another section in hand: what is settled there folds, the cursor goes to ``key`` or what is open."""
        self.in_hand = index
        self.typed = ""
        self.is_unfolded = False
        self.list.set_reactive(LineList.cursor, 0)
        if self.section is not None:
            self.folded = settled_keys(self.section, self.tally)
            if key in self.folded:
                self.is_unfolded = True
        self.show_rows(key)
        if not key:
            rows = self.list.rows
            first = first_open(rows, self.tally, critical=True)
            first = first_open(rows, self.tally) if first is None else first
            if first is not None:
                self.list.cursor = first
        self.show_bars()

    def show_line(self, key: str) -> bool:
        """The cursor on a line, in the section in hand if it stands there too. False: it is nowhere."""
        holding = [
            index for index, section in enumerate(self.sections) if any(key == each.key for each in section.lines)
        ]
        if self.in_hand in holding and self.list.index_of(key) is not None:
            self.list.cursor = self.list.index_of(key) or 0
        elif holding:
            self.take_in_hand(holding[0], key)
        return bool(holding)

    def go_to_next_open(self) -> bool:
        """The cursor on the next open line: below, above, then in the sections that follow. False: all is done."""
        rows = self.list.rows
        below = first_open(rows[self.list.cursor + 1 :], self.tally)
        if below is not None:
            self.list.cursor += 1 + below
            return True
        above = first_open(rows[: self.list.cursor], self.tally)
        if above is not None:
            self.list.cursor = above
            return True
        count = len(self.sections)
        for index in [(self.in_hand + step) % count for step in range(1, count)]:
            if self.sections[index].count_open(self.tally)[0]:
                self.take_in_hand(index)
                return True
        return False

    def action_line_before(self) -> None:
        self.typed = ""
        self.list.step(-1)

    def action_line_after(self) -> None:
        self.typed = ""
        self.list.step(1)

    def action_section_after(self) -> None:
        if self.sections:
            self.take_in_hand((self.in_hand + 1) % len(self.sections))

    def action_section_before(self) -> None:
        if self.sections:
            self.take_in_hand((self.in_hand - 1) % len(self.sections))

    def action_unfold(self) -> None:
        row = self.list.row
        self.is_unfolded = not self.is_unfolded
        self.show_rows("" if row is None or row.kind == "fold" else row.key)

    @property
    def line(self) -> Line | None:
        """The line in hand."""
        row = self.list.row
        return self.line_by_key.get(row.key) if row is not None else None

    @on(LineList.Moved)
    def show_why(self, event: LineList.Moved) -> None:
        if not self.has_class("-wide"):
            return
        line = self.line_by_key.get(event.row.key)
        panel = self.query_one(WhyPanel)
        if line is None:
            panel.show(event.row.name, ())
        else:
            panel.show(line.name, reasons_of(line, self.day, with_private=False))

    @on(LineList.Pointed)
    def unfold_pointed(self, event: LineList.Pointed) -> None:
        if event.row.key == FOLD:
            self.action_unfold()

    @on(ContainerShelf.Chosen)
    def take_chosen(self, event: ContainerShelf.Chosen) -> None:
        keys = [section.key for section in self.sections]
        if event.key in keys:
            self.take_in_hand(keys.index(event.key))
