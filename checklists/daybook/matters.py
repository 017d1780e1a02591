"""What is open, as questions with their answers ready. ``before_leaving`` and ``day_end`` ask them.

A screen or a page shows a matter's text and choices; what she chooses are entries, which go to the daybook as they are.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

from msgspec import Struct

from checklists.daybook.entries import AnyEntry, Reported
from checklists.daybook.state import Case, Loan
from checklists.lines.records import Visit
from checklists.plan.records import Lesson, SchoolClass

Typed = Literal["", "count", "missed", "not done", "case", "given back"]
SHARPS = "Sharps and own tools"
PLACES = "Where things are"
REACHED = "What each class reached"
MISSED = "Who missed it"
KITS = "Kits"
LOW = "Running low"
PREPARE = "To prepare"
SECTIONS = (SHARPS, PLACES, REACHED, MISSED, KITS, LOW, PREPARE)
"""The day's end, in this order."""


class Choice(Struct, frozen=True):
    """An answer: what it is called, and what it puts into the daybook."""

    label: str
    entries: tuple[AnyEntry, ...]


class OpenMatter(Struct, frozen=True):
    """One thing that is not settled, or was: then ``answer`` says how."""

    key: str
    section: str
    text: str
    critical: bool
    choices: tuple[Choice, ...]
    typed: Typed = ""
    """What a typed text means here; empty where there is nothing to type."""
    hint: str = ""
    """What to type, in words."""
    answer: str = ""
    visit: str = ""
    number: int = 0
    """Of a line, a task or a check; 0 for others."""
    when: str = ""
    """Before leaving: the later stop that its container leaves the store at, "after V4, lunch"; "": it goes now."""
    report: Reported | None = None
    """What was reported so far of the visit that a typed text adds to."""
    out: int = 0
    """How many went out, where a count is typed."""
    students: int = 0
    """Of the visit, where class-list numbers are typed."""
    school_class: SchoolClass | None = None
    """The class whose numbers are typed."""
    planned: Visit | None = None
    """The visit whose outcome is typed, and ``lesson`` that it was planned for."""
    lesson: Lesson | None = None
    on: date | None = None
    """An earlier date that the matter is about; None for the day that is asked about."""
    supply: str = ""
    missing: Case | None = None
    """The missing thing that a typed text says more of."""
    container: str = ""
    """What a line is to be in, or a missing thing was in before."""
    loan: Loan | None = None
    """The loan of which some may be back."""
