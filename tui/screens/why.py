"""Why is this on the list?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from checklists.daybook.before_leaving import fetch_matters
from checklists.daybook.changeover import changeover_of
from checklists.daybook.marks import FETCH, Marks
from checklists.daybook.matters import OpenMatter
from checklists.lines.records import Line, TakeOut
from checklists.pages.changeover import changeover_rows
from checklists.pages.reasons import Thing, without_repeats
from checklists.pages.why import Why, why_of
from checklists.pages.why_asked import thing_asked, why_asked
from checklists.words import say_date
from tui.reasons import told_in_full
from tui.recorder import Recorder
from tui.rule_rows import Around, around_thing
from tui.screens.page import Page

MOST_IN_TITLE = 50
"""Signs of a title that can be read in any window; a longer one stands on the page once more."""


class WhyScreen(Page):
    """All there is to say about one thing, the private reasons too: this page was asked for, and stays on the desk."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("comma", "rules", show=False)]
    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = ((",", "its rules"),)

    def __init__(self, why: Why, on: date, around: Around) -> None:
        self.date, self.around = on, around
        in_full = (Content.assemble((why.title, "bold")), Content("")) if len(why.title) > MOST_IN_TITLE else ()
        super().__init__(f"Why {why.title}", (*in_full, *told_in_full(why)))

    def action_rules(self) -> None:
        """The rules behind it, to look at and to switch off; then back to the list, which may be another one now."""
        from tui.screens.rules import RuleBookScreen

        self.app.push_screen(RuleBookScreen(self.date, self.around), lambda _: self.dismiss(False))


class WhyInContainerScreen(WhyScreen):
    """The same of what is in a container: one more key shows what changes in all of it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("o", "changeover", show=False),
        Binding("slash", "change_line", show=False),
        Binding("grave_accent", "change_line", show=False),
    ]

    def __init__(self, why: Why, recorder: Recorder, on: date, around: Around, container: str) -> None:
        super().__init__(why, on, around)
        self.recorder, self.container = recorder, container
        self.change_line: Callable[[], None] | None = None
        """What is wrong with the line it is about, where it was asked from the list."""

    MORE_KEYS: ClassVar[tuple[tuple[str, str], ...]] = (*WhyScreen.MORE_KEYS, ("o", "take out, put in, leave"))

    def lead_to(self, change_line: Callable[[], None]) -> None:
        """One more key: what is wrong with the line."""
        self.change_line = change_line
        self.more_keys = (*self.MORE_KEYS, ("/", "wrong?"))

    def action_change_line(self) -> None:
        if self.change_line is not None:
            self.dismiss(False)
            self.change_line()

    def action_changeover(self) -> None:
        self.app.push_screen(ChangeoverScreen(self.recorder, self.date, self.container))


class ChangeoverScreen(Page):
    """What to take out of a container, to put in and to leave, and for whom."""

    def __init__(self, recorder: Recorder, on: date, container: str) -> None:
        book, marks = recorder.book, recorder.marks(on)
        changeover = changeover_of(book.plan, book.day(on), marks, book.opening(on), container)
        said: list[Content] = []
        for heading, rows in changeover_rows(changeover, marks, private=True):
            said += [Content.assemble((heading, "bold")), *(Content(row) for row in rows), Content("")]
        super().__init__(f"{changeover.name}, changeover for {say_date(on)}", tuple(said))


def why_screen(recorder: Recorder, on: date, key: str) -> WhyScreen | None:
    """Why the thing with a key is on the day's list; None where there is no such thing."""
    day = recorder.day(on)
    fetched = fetch_matters(day, Marks(), datetime.combine(on, time())) if key.startswith(FETCH) else ()
    for matter in fetched:
        if matter.key == key:
            return asked_screen(recorder, on, matter)
    things: list[Thing] = [*day.lines, *day.tasks, *day.checks, *day.take_out, *day.decisions, *day.matters]
    things += [caution for caution, _ in without_repeats(day.cautions, day.visits)]
    found = next((each for each in (*things, *day.cautions) if each.key == key), None)
    return None if found is None else screen_of(found, recorder, on)


def screen_of(thing: Thing, recorder: Recorder, on: date) -> WhyScreen:
    book = recorder.book
    why = why_of(thing, book.plan, book.rules.rules, recorder.day(on), recorder.marks(on), private=True)
    around = around_thing(why.title, thing, recorder.day(on), private=True)
    if isinstance(thing, Line | TakeOut):
        return WhyInContainerScreen(why, recorder, on, around, thing.container)
    return WhyScreen(why, on, around)


def asked_screen(recorder: Recorder, on: date, matter: OpenMatter) -> WhyScreen:
    """Why something is asked before leaving or at the day's end."""
    book, day, marks = recorder.book, recorder.day(on), recorder.marks(on)
    why = why_asked(matter, book.plan, book.rules.rules, day, marks, private=True)
    thing = thing_asked(matter, day)
    around = around_thing(why.title, thing, day, private=True) if thing is not None else Around()
    if isinstance(thing, Line | TakeOut):
        return WhyInContainerScreen(why, recorder, on, around, thing.container)
    return WhyScreen(why, on, around)
