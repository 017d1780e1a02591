"""A change that a line offers, as a record: what it is called, for what it counts, and what is to be said."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from msgspec import Struct

from checklists.daybook.entries import AnyEntry
from checklists.plan.plan_files import PlanFiles
from checklists.rules.records import SwitchedOff

Takes = Literal["nothing", "typed", "choice", "page"]
"""It is taken at once; something is typed; one of a few ways is chosen; or it leads to a page."""
PageKind = Literal["class notes", "class", "lesson", "supply"]


class LineChange(Struct, frozen=True):
    """One step: of the plan files, of a rule, or of the day. ``said`` goes after "Taken back:"."""

    said: str
    files: PlanFiles | None = None
    off: SwitchedOff | None = None
    entries: tuple[AnyEntry, ...] = ()


class Way(Struct, frozen=True):
    """One of a few ways. ``needs_reason``: in a few words why, and ``caution`` is read before."""

    key: str
    label: str
    needs_reason: bool = False
    caution: str = ""


Make = Callable[[PlanFiles, str, str], LineChange]
"""From the plan as it is, what was typed or chosen, and a reason. Raises CannotNote, in words for a teacher."""


class Offer(Struct, frozen=True):
    """One answer to "what is wrong with this line?"."""

    key: str
    label: str
    counts: str
    """For which visits and lessons it counts: "Paper Hills, part 1, in every class"."""
    takes: Takes
    make: Make
    hint: str = ""
    ways: tuple[Way, ...] = ()
    page: PageKind = "supply"
    """Where it leads, and to which id."""
    ident: str = ""


def leads(key: str, label: str, counts: str, page: PageKind, ident: str) -> Offer:
    """An offer that leads to a page; nothing is changed by it."""

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        raise AssertionError("a page is opened, nothing is made")

    return Offer(key, label, counts, "page", make, page=page, ident=ident)
