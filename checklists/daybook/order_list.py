"""The order list: what is low, out or short, or runs out before an order could come, and is not on order."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from checklists.calendar import Calendar
from checklists.daybook.entries import StoreLevel
from checklists.daybook.running_out import RunsOut
from checklists.daybook.state import Carried
from checklists.daybook.stock_now import Stock
from checklists.plan.records import Plan, Supply
from checklists.words import say_date

MADE = ("sheet", "sample")
"""Kinds that she makes herself; they are on the list only where she says that they are low or out."""


class ToOrder(Struct, frozen=True):
    """A supply to order, in whole packs."""

    supply: Supply
    packs: int
    why: str
    level: StoreLevel | None
    runs_out: date | None
    order_by: date | None
    """The last school day on which an order comes before it runs out; None where it does not, as far as seen."""
    too_late: bool
    """An order of today comes after it has run out."""


def what_to_order(
    plan: Plan,
    stock: Stock,
    calendar: Calendar,
    falls_short: Mapping[str, RunsOut],
) -> tuple[ToOrder, ...]:
    """Supplies to order, those that run out first on top.

    ``falls_short`` is of ``runs_out``. What is due already is counted as if it were here.
    """
    missing = {each.supply: each for each in stock.short}
    found: list[ToOrder] = []
    for supply in plan.supplies:
        level = stock.levels.get(supply.id)
        out = falls_short.get(supply.id) if supply.kind not in MADE else None
        reasons = [
            _say_level(level, missing.get(supply.id)),
            f"runs out on {say_date(out.on)}" if out is not None else "",
        ]
        packs = _packs(supply, out, stock.due(supply.id))
        if any(reasons) and packs:
            by = calendar.add_school_days(out.on, -plan.school.habits.lead_school_days) if out is not None else None
            late = out is not None and (by is None or by < stock.on)
            why = ", ".join(reason for reason in reasons if reason)
            found.append(ToOrder(supply, packs, why, level, out.on if out is not None else None, by, late))
    return tuple(sorted(found, key=lambda each: (each.runs_out or date.max, each.supply.name.casefold())))


def _say_level(level: StoreLevel | None, short: Carried | None) -> str:
    if level not in ("low", "out"):
        return ""
    return f"{level}, {short.count} short since {say_date(short.since)}" if short is not None else level


def _packs(supply: Supply, out: RunsOut | None, due: int) -> int:
    """Whole packs that are missing beyond what is due: at least one where nothing is due."""
    wanted = -(-out.missing // supply.pack) if out is not None else 1
    return max(0, wanted - due)
