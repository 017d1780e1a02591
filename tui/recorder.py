"""Passes what she does to the book, and keeps hold of what could not be saved until it can."""

from __future__ import annotations

from collections.abc import Callable
from copy import copy, deepcopy
from datetime import date, datetime
from typing import TYPE_CHECKING, NamedTuple

from checklists.book import Book, NotSaved
from checklists.daybook.entries import Stands, TakenOut
from checklists.daybook.marks import FETCH, Marks, add_to
from checklists.lines.records import Day
from checklists.words import minute_of_day

if TYPE_CHECKING:
    from checklists.daybook.entries import AnyEntry
    from checklists.plan.plan_files import PlanFiles
    from checklists.route.departure import Departure
    from checklists.rules.records import RuleFile


class PlanStep(NamedTuple):
    """A change of the plan that can be taken back until the window is closed."""

    said: str
    take_back: Callable[[], None]


def key_of(entry: AnyEntry) -> str:
    """The key of the row that an entry is about; empty where there is none."""
    if isinstance(entry, TakenOut):
        return f"take out/{entry.container}/{entry.supply}"
    if isinstance(entry, Stands):
        return f"{FETCH}{entry.container}"
    return getattr(entry, "line", "") or getattr(entry, "matter", "")


class Recorder:
    """The book as the screens use it. What could not be saved counts on the screen and is marked as unsaved."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.waiting: list[tuple[date, tuple[AnyEntry, ...]]] = []
        self.newest: list[PlanStep | None] = []
        """What was done in this window, in order: changes of the plan, and None for a step of a day."""

    def day(self, on: date) -> Day:
        return self.book.day(on)

    def marks(self, on: date) -> Marks:
        """The newest word on everything, the unsaved included."""
        marks = self.book.marks(on)
        entries = [entry for when, group in self.waiting if when == on for entry in group]
        if entries:
            marks = deepcopy(marks)
            for entry in entries:
                add_to(marks, entry)
        return marks

    def departure(self, on: date, now: datetime) -> Departure:
        """What the route asks of the stop at the store that comes next on a date; on another day of the morning."""
        return self.book.departure(on, minute_of_day(now) if now.date() == on else None)

    def unsaved(self, on: date) -> frozenset[str]:
        """Keys of the lines and matters whose newest word is not on disk."""
        entries = [entry for when, group in self.waiting if when == on for entry in group]
        return frozenset(key_of(entry) for entry in entries)

    def do(self, on: date, *entries: AnyEntry) -> str:
        """Save one step, everything that waits first; what went wrong in words, "" when all is on disk."""
        if not self.book.writable:
            return f"Not saved: {self.book.why_read_only}"
        self.waiting.append((on, entries))
        self.newest.append(None)
        return self.save_again()

    def change_plan(self, change: Callable[[], None], take_back: Callable[[], None], said: str) -> str:
        """Change a plan file as one step that ``undo`` takes back; what went wrong in words, "" when it is on disk."""
        try:
            change()
        except NotSaved as problem:
            return f"Not saved: {problem}"
        self.newest.append(PlanStep(said, take_back))
        return ""

    def change_files(self, files: PlanFiles, said: str, at: datetime, rules: RuleFile | None = None) -> str:
        """Change plan files as one step that ``undo`` takes back; what went wrong in words, "" when it is on disk.

        ``rules`` are her own where something they name was renamed.
        """

        def take_back() -> None:
            self.book.take_files_back()

        return self.change_plan(lambda: self.book.change_files(files, said, at, rules), take_back, said)

    def close(self, on: date, at: datetime) -> tuple[str, ...]:
        """Close a day, as a step that ``undo`` takes back; what it did, in words. Raises NotSaved."""
        done = self.book.close(on, at)
        self.newest.append(None)
        return done

    def save_again(self) -> str:
        """Try to save what waits, in order."""
        for when, entries in copy(self.waiting):
            try:
                self.book.do(when, *entries)
            except NotSaved as problem:
                return f"Not saved: {problem}"
            self.waiting.pop(0)
        return ""

    def undo(self, on: date) -> str | None:
        """Take back the newest step of a day, saved or not; what it was in words, None when nothing is left.

        Raises NotSaved.
        """
        newest = self.newest[-1] if self.newest else None
        if newest is not None:
            newest.take_back()
            self.newest.pop()
            return newest.said
        if newest is None and not self.newest and self.book.plan_was_changed_last(on):
            return self.book.take_files_back()
        said = self.undo_day(on)
        if said is not None:
            self.newest = self.newest[:-1]
        return said

    def undo_day(self, on: date) -> str | None:
        """The same, of what was done about a day only."""
        mine = [index for index, (when, _) in enumerate(self.waiting) if when == on]
        if mine:
            del self.waiting[mine[-1]]
            return "the step that could not be saved"
        return self.book.undo(on)
