"""What is left for the later visits of a day when something is missing or lent."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct, structs

from checklists.daybook.marks import Marks
from checklists.daybook.remedies import share_of
from checklists.daybook.reports import was_over
from checklists.daybook.there_for import needed_by, there_for
from checklists.lines.records import Day, Line, Visit
from checklists.plan.records import Plan


class Left(Struct, frozen=True):
    """What one visit needs of a supply, and how many there are for it."""

    visit: Visit
    needs: int
    there: int
    share: str = ""
    """What sharing comes to where there are too few: "per pair 14 and 1 spare, 15: enough"."""

    @property
    def short(self) -> int:
        return max(0, self.needs - self.there)

    @property
    def words(self) -> str:
        """ "V4 needs 14, 29 left: enough"; "V7 needs 29, 18 left: short 11; per pair 14 and 1 spare, 15: enough"."""
        share = f"; {self.share}" if self.share else ""
        how = f"short {self.short}{share}" if self.short else "enough"
        return f"{self.visit.name} needs {self.needs}, {self.there} left: {how}"


def left_for_visits(
    plan: Plan, day: Day, marks: Marks, supply: str, moment: datetime, after: str = ""
) -> tuple[Left, ...]:
    """What is left of a supply for each visit that needs it and is not over at a moment of its day.

    ``after`` is the key of a visit: then only of those behind it.
    """
    found: list[Left] = []
    behind = next((visit.number for visit in day.visits if visit.key == after), 0)
    for visit in day.visits:
        if visit.number <= behind or was_over(visit, day, moment):
            continue
        for line in day.lines:
            needs = needed_by(line, visit.key)
            if line.supply != supply or line.catch_up_for or not needs:
                continue
            there = there_for(line, visit, day, marks)
            found.append(Left(visit, needs, there, _share(plan, day, line, visit, there) if there < needs else ""))
    return tuple(found)


def _share(plan: Plan, day: Day, line: Line, visit: Visit, there: int) -> str:
    """What sharing comes to in this visit alone; empty where it is no help."""
    mine = structs.replace(line, uses=tuple(use for use in line.uses if use.visit == visit.key))
    return share_of(plan, day, mine, there).words


def say_left(left: Iterable[Left]) -> str:
    """ "V4 needs 14, 29 left: enough. V7 needs 29, 29 left: enough."."""
    return " ".join(f"{each.words}." for each in left)
