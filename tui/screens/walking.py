"""Moving in the list of a day: which section is in hand, where the cursor stands, what is folded away."""

from __future__ import annotations

from textual import on
from textual.content import Content

from checklists.lines.records import Line
from checklists.route.departure import OUT
from checklists.words import join_words
from tui.columns import WIDE
from tui.reasons import reasons_of
from tui.rows import FOLD, first_open, settled_keys
from tui.screens.list_screen import ListScreen
from tui.sections import TO_DO, names_of_visits, shelf_text
from tui.widgets.container_shelf import ContainerShelf
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.why_panel import WhyPanel

MOST_LATER = 2
"""Later visits named at the end of the message line; all of them are told on the why page."""


class WalkingScreen(ListScreen):
    """The day's list with a cursor that goes where hands are needed; records nothing."""

    def on_mount(self) -> None:
        self.open_first()
        self.is_begun = True
        self.set_interval(20, self.show_head)
        self.call_after_refresh(self.ask_for_date)  # the first row has said what it has to say by then

    def ask_for_date(self) -> None:
        """Once, where nothing was done for so long that the date may be wrong. A first list is greeted."""
        doubt = self.book.doubt_of_date()
        if self.trundle.greeting:
            self.say(self.trundle.greeting)
            self.trundle.greeting = ""
        elif doubt is not None and not doubt.is_wrong and not self.day.decisions:
            self.query_one(MessageLine).put(Content(doubt.text), alone=True)

    def open_first(self) -> None:
        """The cursor on the first open critical line of the day, else on the first open one."""
        for critical in (True, False):
            for index, section in enumerate(self.sections):
                count = section.count_open(self.tally)
                if section.when == OUT:
                    continue
                if count.critical if critical else count.open:
                    self.take_in_hand(index)
                    return
        self.take_in_hand(0)

    def take_in_hand(self, index: int, key: str = "") -> None:
        """Take another section in hand: what is settled there folds, the cursor goes to ``key`` or what is open."""
        self.in_hand = index
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
        """The cursor on a line or a thing to do, in the section in hand if it stands there. False: it is nowhere."""
        holding = [index for index, section in enumerate(self.sections) if key in section.keys]
        if self.in_hand in holding and self.list.index_of(key) is not None:
            self.list.cursor = self.list.index_of(key) or 0
        elif holding:
            self.take_in_hand(holding[0], key)
        return bool(holding)

    def go_to_first_open(self) -> bool:
        """The cursor on the first open row of the section in hand. False: nothing is open in it."""
        first = first_open(self.list.rows, self.tally)
        if first is not None:
            self.list.cursor = first
        return first is not None

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
        following = [(self.in_hand + step) % count for step in range(1, count)]
        for index in sorted(following, key=self.comes_later):
            waiting = self.sections[index].count_open(self.tally)
            if waiting.open or waiting.later:
                self.take_in_hand(index)
                return True
        return False

    def comes_later(self, index: int) -> int:
        """What goes now comes first, then what waits and what else there is to do, then what is out by now."""
        section = self.sections[index]
        return 2 if section.when == OUT else int(bool(section.when) or section.key == TO_DO)

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

    @on(LineList.Moved)
    def show_why(self, event: LineList.Moved) -> None:
        line = self.line_by_key.get(event.row.key)
        self.query_one(MessageLine).place(self.where_text(line))
        if not self.has_class("-wide"):
            return
        panel = self.query_one(WhyPanel)
        if line is None:
            panel.show(event.row.name, ())
        else:
            panel.show(line.name, reasons_of(line, self.day, with_private=False))

    def where_text(self, line: Line | None) -> str:
        """What to use in place of what must not come along; else how it is laid out and for which later visits.

        Where a column is missing, its shelf and visits too.
        """
        if line is None:
            return ""
        if self.has_class("-wide"):
            return ""  # the panel beside the list says all of it
        if line.forbidden:
            return f"use {line.instead}" if line.instead else ""
        said = [line.sets, f"also {join_words(line.later[:MOST_LATER])}" if line.later else ""]
        if self.size.width < WIDE and line.shelf:
            said += [shelf_text(line, self.day), names_of_visits(line, self.day)]
        return "  ".join(each for each in said if each)

    @on(LineList.Pointed)
    def unfold_pointed(self, event: LineList.Pointed) -> None:
        if event.row.key == FOLD:
            self.action_unfold()

    @on(ContainerShelf.Chosen)
    def take_chosen(self, event: ContainerShelf.Chosen) -> None:
        keys = [section.key for section in self.sections]
        if event.key in keys:
            self.take_in_hand(keys.index(event.key))
