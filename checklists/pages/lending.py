"""What is lent, as plain text and for scripts."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.daybook.said_of_cases import say_loan
from checklists.daybook.state import Loan
from checklists.lines.records import Day
from checklists.pages.fields import Fields
from checklists.pages.plain import two_ends, wrap
from checklists.plan.records import Plan
from checklists.words import say_date


def lending_page(plan: Plan, day: Day, loans: Iterable[Loan]) -> str:
    """Every loan in words, the oldest first."""
    rows = [row for each in loans for row in wrap(say_loan(plan, each, day.date), first="  ", indent=4)]
    return "\n".join([two_ends(plan.school.name, say_date(day.date)), "", *(rows or ["Nothing is lent."])]) + "\n"


def lent_as_json(plan: Plan, day: Day, loans: Iterable[Loan]) -> Fields:
    """The page "lend" where nothing was lent or given back: ``lent``."""
    return {"format": 1, "page": "lend", "date": day.date.isoformat(), "lent": lent_fields(plan, loans)}


def lent_fields(plan: Plan, loans: Iterable[Loan]) -> list[Fields]:
    """``key supply name count to room since time container``; room and container may be empty."""
    return [
        {
            "key": each.key,
            "supply": each.supply,
            "name": plan.name_of_supply(each.supply),
            "count": each.count,
            "to": each.to,
            "room": each.place,
            "since": each.since.isoformat(),
            "time": each.time,
            "container": each.container,
        }
        for each in loans
    ]
