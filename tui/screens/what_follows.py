"""What follows from what was just said of the day: what falls out, what to take out, to put in, to keep."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from checklists.changing_days import Before, tell_change
from checklists.daybook.entries import AnyEntry
from checklists.pages.changed_day import change_notes, change_sections
from checklists.words import say_date
from tui.recorder import Recorder
from tui.screens.page import Page


class WhatFollowsPage(Page):
    """The page; one key takes the change back, another says one more thing about the day."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *[Binding(key, "undo", show=False) for key in ("u", "z")],
        Binding("t", "another", show=False),
    ]
    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = (("u", "take it back"), ("t", "another change"))

    def __init__(self, told: tuple[Content, ...], take_back: Callable[[], None], another: Callable[[], None]) -> None:
        super().__init__("What follows", told)
        self.take_back, self.another = take_back, another

    def action_undo(self) -> None:
        self.dismiss(False)
        self.take_back()

    def action_another(self) -> None:
        self.dismiss(False)
        self.another()


def follows_of(recorder: Recorder, before: Before, entries: tuple[AnyEntry, ...]) -> tuple[Content, ...]:
    """What follows from ``entries``, which were just said; ``before`` is the day as it was."""
    book, on = recorder.book, before.day.date
    told = tell_change(book, entries, before)
    after = book.day(on)
    rows = [
        Content.assemble((f"{say_date(on)}: {told.said}.", "bold")),
        *(Content(each) for each in told.then),
    ]
    for title, said in change_sections(book.plan, after, told.change, told.comes_again, told.route):
        rows += [Content(""), Content.assemble((title, "bold")), *(Content(f"- {each}") for each in said)]
    if told.change.decisions:
        rows.append(Content("On the list: j goes to what is to be decided."))
    rows += [Content(""), *(Content(each) for each in change_notes(after, told.change, told.leave_by))]
    if told.change.numbers_changed:
        rows.append(Content("Some lines and visits have other numbers now: a printed sheet is out of date."))
    if len(rows) == 2 and not told.then:
        rows.append(Content("Nothing on the list is different."))
    return tuple(rows)
