"""What will the next school year be? Its dates to be typed, what it does class by class, and one key that begins it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from checklists.calendar import school_days_left
from checklists.daybook.rollover import STARTS_AFRESH, STAYS
from checklists.pages.new_year import class_rows, say_year, warnings
from checklists.pages.plain import wrap
from checklists.plan.class_notes import classes_of
from checklists.plan.next_year import A_YEAR, CannotBegin, NextYear, a_year_later, next_year
from checklists.plan.records import DayOff
from checklists.words import plural, say_date, say_full_date
from tui.keys import NEW_YEAR, bindings_of
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.band import Band
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine

FIRST, LAST, OFF = "first day", "last day", "days off"
LEAD = 5
"""Cells before a row's text, and the bar at its side."""


class NewYearScreen(RowsScreen):
    """The year proposed is 52 weeks after this one; nothing is written before she says so."""

    DEFAULT_CSS = "NewYearScreen Band { padding: 0 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(NEW_YEAR)]
    KEYS = NEW_YEAR
    TITLE_OF_KEYS = "The next school year"

    def __init__(self, on: date) -> None:
        super().__init__(on)
        school = self.book.plan.school
        self.first, self.last = school.first_day + A_YEAR, school.last_day + A_YEAR
        self.days_off: tuple[DayOff, ...] = ()
        self.typed = ""
        self.begun = False

    def compose(self) -> ComposeResult:
        yield Band(id="title")
        yield LineList()
        yield MessageLine()
        yield KeyBar(NEW_YEAR)

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    def planned(self) -> NextYear:
        """The year as typed. Raises CannotBegin."""
        plan = self.book.plan
        return next_year(plan.school, classes_of(plan), self.first, self.last, self.days_off)

    def reread(self) -> None:
        key = self.key_in_hand or FIRST
        title = "The next school year" if not self.begun else "The school year has begun; u takes it back"
        self.query_one("#title", Band).show(Content.assemble((title, "bold")))
        self.list.show([*self.date_rows(), *self.text_rows()] if not self.begun else self.begun_rows())
        self.go_to(key)

    def date_rows(self) -> Iterator[Row]:
        off = plural(len(self.days_off), "day off or break", "days off or breaks") if self.days_off else "none noted"
        before = len(self.book.plan.school.days_off)
        offer = f"   Enter: {'none' if self.days_off else f'last year, {before}, 52 weeks on'}" if before else ""
        for key, said in ((FIRST, say_full_date(self.first)), (LAST, say_full_date(self.last)), (OFF, off + offer)):
            yield Row("todo", key, f"{key.capitalize():<10} {said}")

    def text_rows(self) -> Iterator[Row]:
        width = self.size.width - LEAD
        try:
            year = self.planned()
        except CannotBegin as wrong:
            yield from _texts("wrong", wrap(str(wrong), indent=2, width=width), critical=True)
            return
        yield from _texts("year", wrap(say_year(year), indent=2, width=width))
        left = school_days_left(self.book.plan.school, self.trundle.now().date())
        for number, each in enumerate(warnings(year, self.book.days_not_closed(), left)):
            yield from _texts(f"look {number}", wrap(each.removesuffix(" Add them with --off."), indent=2, width=width))
        yield Row("heading", "heading classes", "Classes", tone="heading")
        yield from _texts("class", [row.removeprefix("  ") for row in class_rows(year, width)])
        yield from self.list_of("Stays", STAYS)
        yield from self.list_of("Starts afresh", STARTS_AFRESH)

    def list_of(self, heading: str, words: Iterable[str]) -> Iterator[Row]:
        yield Row("heading", f"heading {heading}", heading, tone="heading")
        for number, each in enumerate(words):
            yield from _texts(f"{heading} {number}", wrap(each, width=self.size.width - LEAD, indent=2))

    def begun_rows(self) -> list[Row]:
        school = self.book.plan.school
        return [
            Row(
                "reading",
                FIRST,
                f"First day {say_full_date(school.first_day)}, last day {say_full_date(school.last_day)}.",
            ),
            Row("reading", "kept", f"The plan files of last year are kept in {self.kept}."),
            Row("reading", "daybook", "The days of last year stay in the daybook as they are."),
        ]

    # ---------------------------------------------------------------------------------------------------- typing

    def action_digit(self, digit: str) -> None:
        if self.key_in_hand in (FIRST, LAST) and not self.begun and len(self.typed) < 4:
            self.typed += digit
            self.say(f"{self.key_in_hand.capitalize()}: {self.typed}_  month and day, 0830; Enter takes it")

    def action_erase(self) -> None:
        self.typed = self.typed[:-1]
        self.say(f"{self.typed}_" if self.typed else "")

    def may_leave_row(self) -> bool:
        self.let_go()
        return True

    def let_go(self) -> None:
        if self.typed:
            self.typed = ""
            self.say("")

    def action_accept(self) -> None:
        key = self.key_in_hand
        if self.begun:
            return
        if key == OFF:
            self.days_off = () if self.days_off else a_year_later(self.book.plan.school.days_off)
            self.reread()
            self.say("Hold them against your school's calendar." if self.days_off else "")
        elif key in (FIRST, LAST) and self.typed:
            self.take_date(key)

    def take_date(self, key: str) -> None:
        """The date typed, in the year that it must lie in: a first day after this year's last, a last one after it."""
        typed, self.typed = self.typed, ""
        after = self.book.plan.school.last_day if key == FIRST else self.first
        found = [day for year in (after.year, after.year + 1) if (day := _date_of(year, typed)) and day > after]
        if not found:
            self.say(f"{typed} is no date: two digits for the month, two for the day, 0830.", alarm=True)
            return
        if key == FIRST:
            self.first = found[0]
        else:
            self.last = found[0]
        self.reread()
        self.say(f"{key.capitalize()}: {say_full_date(found[0])}.")

    def action_back(self) -> None:
        if self.typed:
            self.let_go()
        else:
            super().action_back()

    # ------------------------------------------------------------------------------------------------- beginning

    def action_begin_year(self) -> None:
        """Begin it, as a step that undo takes back in this window."""
        if self.begun:
            return
        self.let_go()
        try:
            year = self.planned()
        except CannotBegin as wrong:
            self.say(str(wrong), alarm=True)
            return
        book, recorder = self.book, self.trundle.recorder
        waiting = recorder.save_again()
        problem = waiting or recorder.change_plan(
            lambda: self.keep(book.begin_year(year.school, year.classes)),
            self.take_year_back,
            f"the school year from {say_date(year.school.first_day)}",
        )
        if problem:
            self.say(problem, alarm=True)
            return
        self.begun = True
        self.reread()
        self.say("Begun. u takes it back until something is told in it.")

    def keep(self, kept: str) -> None:
        self.kept = kept

    def take_year_back(self) -> None:
        """Raises NotSaved where something was told in the new year already."""
        self.book.take_year_back()
        self.begun = False

    def action_undo(self) -> None:
        self.let_go()
        self.take_back()


def _texts(key: str, texts: list[str], *, critical: bool = False) -> Iterator[Row]:
    for number, text in enumerate(texts):
        yield Row("reading", f"{key} {number}", text, tone="critical" if critical else "plain")


def _date_of(year: int, typed: str) -> date | None:
    try:
        return date(year, int(typed[:-2]), int(typed[-2:])) if len(typed) > 2 else None
    except ValueError:
        return None
