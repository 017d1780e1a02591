"""What was understood of a file or a paste: row by row what it does, and the plan as it would be."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from checklists.plan.plan_files import PlanFiles
from checklists.problems import Problem
from checklists.words import join_words, plural

Kind = Literal["classes", "timetable", "supplies", "days-off"]
Does = Literal["adds", "changes", "there already", "not taken", "not understood"]
NOUNS: dict[Kind, tuple[str, str]] = {
    "classes": ("class", "classes"),
    "timetable": ("period", "periods"),
    "supplies": ("supply", "supplies"),
    "days-off": ("day off or break", "days off or breaks"),
}
MOST_NAMED = 6
"""So many rows are named in a sentence."""


class RowRead(Struct, frozen=True):
    """One row, one cell of a timetable, or one event, and what it does."""

    number: int
    """Of the row in the file, counted from 1 as a spreadsheet does; of the event in an iCalendar file."""
    stood: str
    """What stood there, in short."""
    does: Does
    said: str
    """What comes of it; where it was not understood or not taken, why."""
    to_do: str = ""
    """What to write instead."""
    column: int = 0
    """Of a cell in a timetable, counted from 1; 0: the whole row."""
    entry: str = ""
    """The entry of the plan that it is about, as problems name it: "class 3-B"."""

    @property
    def place(self) -> str:
        """ "row 7", "row 7, column 3"."""
        return f"row {self.number}, column {self.column}" if self.column else f"row {self.number}"


class Understood(Struct, frozen=True):
    """Nothing is changed yet: ``files`` is the plan as it would be."""

    kind: Kind
    files: PlanFiles
    rows: tuple[RowRead, ...]
    notes: tuple[str, ...] = ()
    """How it was read: the columns, the encoding, the dates."""
    problems: tuple[Problem, ...] = ()
    """What would be wrong in the plan then; not empty: it cannot be taken."""
    is_calendar: bool = False
    """Its rows are events of an iCalendar file."""

    def those_that(self, *does: Does) -> tuple[RowRead, ...]:
        """The rows that do one of these, in order."""
        return tuple(each for each in self.rows if each.does in does)

    @property
    def is_anything(self) -> bool:
        """Whether anything at all was understood."""
        return any(each.does != "not understood" for each in self.rows)

    @property
    def changes_anything(self) -> bool:
        return bool(self.those_that("adds", "changes"))

    @property
    def can_be_taken(self) -> bool:
        return self.changes_anything and not self.problems

    @property
    def counted(self) -> str:
        """ "12 classes, 1 line not understood: row 7"."""
        if not self.rows:
            return "Nothing was understood"
        understood = self.those_that("adds", "changes", "there already")
        said = [plural(len(understood), *NOUNS[self.kind])]
        left = self.those_that("not taken")
        if left:
            said.append(f"{len(left)} not taken")
        wrong = self.those_that("not understood")
        if wrong:
            numbers = list(dict.fromkeys(each.number for each in wrong))
            noun = "event" if self.is_calendar else "row"
            what = plural(len(numbers), "event" if self.is_calendar else "line")
            said.append(f"{what} not understood: {noun}{'s' if len(numbers) > 1 else ''} {_listed(numbers)}")
        return ", ".join(said)

    @property
    def said(self) -> str:
        """What taking it does, in words for undo: "12 classes brought in"."""
        return f"{plural(len(self.those_that('adds', 'changes')), *NOUNS[self.kind])} brought in"


def _listed(numbers: list[int]) -> str:
    """ "3, 7 and 12"; the first of many, and how many more."""
    if len(numbers) <= MOST_NAMED:
        return join_words(map(str, numbers))
    return f"{', '.join(map(str, numbers[:MOST_NAMED]))} and {len(numbers) - MOST_NAMED} more"


class Rows:
    """Collects what rows do, in order; knows which rows are to be left out or taken all the same."""

    def __init__(self, leave: frozenset[int] = frozenset(), take: frozenset[int] = frozenset()) -> None:
        self.leave, self.take = leave, take
        self.read: list[RowRead] = []

    def add(self, number: int, stood: str, does: Does, said: str, *, column: int = 0, entry: str = "") -> None:
        self.read.append(RowRead(number, stood, does, said, column=column, entry=entry))

    def refuse(self, number: int, stood: str, why: str, to_do: str, *, column: int = 0) -> None:
        """A row that was not understood: why, and what to write."""
        self.read.append(RowRead(number, stood, "not understood", why, to_do, column))

    def is_left(self, number: int, stood: str, *, column: int = 0) -> bool:
        """Whether this row is to be left out; then that is noted."""
        if number in self.leave:
            self.add(number, stood, "not taken", "You left it out.", column=column)
        return number in self.leave


class NotReadable(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """What stands in a cell cannot be taken; the message says why. ``to_do``: what to write."""

    def __init__(self, why: str, to_do: str) -> None:
        super().__init__(why)
        self.to_do = to_do
