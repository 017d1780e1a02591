"""What is due and what is to be ordered, as plain text and as fields for scripts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from checklists.daybook.order_list import ToOrder
from checklists.daybook.running_out import RunsOut
from checklists.daybook.state import Order
from checklists.daybook.stock_now import Stock, say_on_hand
from checklists.pages.fields import Fields
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.plan.records import Plan, Supply
from checklists.words import plural, say_date

FallsShort = Mapping[str, RunsOut]


def orders_page(plan: Plan, stock: Stock, falls_short: FallsShort, to_order: Iterable[ToOrder], until: date) -> str:
    """``until`` is the last school day that was looked at for what runs out."""
    parts = [two_ends(plan.school.name, f"Orders, {say_date(stock.on)}")]
    rows = [row for order in stock.orders for row in _due_rows(plan, order, stock, falls_short)]
    parts += ["", ruled("STILL DUE"), *rows] if rows else ["", "Nothing is on order."]
    rows = [row for each in to_order for row in _to_order_rows(each, stock)]
    if rows:
        parts += ["", ruled("TO ORDER"), *rows]
        lead = plural(plan.school.habits.lead_school_days, "school day")
        parts += ["", *wrap(f"An order takes {lead} to come, as reckoned; looked ahead to {say_date(until)}.")]
        first = next(iter(to_order)).supply
        parts += [*wrap(f'ordered: trundle order "{first.name}" 2'), *wrap(f'came: trundle delivered "{first.name}" 2')]
    else:
        parts += ["", f"Nothing is to be ordered for the days to {say_date(until)}."]
    return "\n".join(parts) + "\n"


def _due_rows(plan: Plan, order: Order, stock: Stock, falls_short: FallsShort) -> list[str]:
    supply = plan.supply_by_id.get(order.supply)
    name = plan.name_of_supply(order.supply)
    of = f"{order.due} of " if order.due < order.packs else ""
    packs = f"{of}{say_packs(order.packs, supply)}"
    said = [f"ordered {say_date(order.since)}", _say_expected(order, stock.on), _say_claim(plan, order)]
    said.append(_say_stock(order.supply, stock, falls_short))
    words = f"{name}: {packs}, {', '.join(each for each in said if each)}"
    return wrap(words, first="  ", indent=6)


def say_packs(packs: int, supply: Supply | None) -> str:
    """ "4 packs of 50"; only the number of what is not sold in packs."""
    pack = supply.pack if supply is not None else 1
    return f"{plural(packs, 'pack')} of {pack}" if pack > 1 else str(packs)


def _say_expected(order: Order, on: date) -> str:
    if order.expected is None:
        return ""
    return f"expected {say_date(order.expected)}" + (": late" if is_late(order, on) else "")


def is_late(order: Order, on: date) -> bool:
    """Whether it should have come."""
    return order.expected is not None and order.expected < on


def _say_claim(plan: Plan, order: Order) -> str:
    came = f"{plan.name_of_supply(order.came_instead)} came instead" if order.came_instead else ""
    claim = f"claim by {say_date(order.claim_by)}" if order.claim_by is not None else ""
    return ", ".join(each for each in (came, claim) if each)


def _say_stock(supply: str, stock: Stock, falls_short: FallsShort) -> str:
    out = falls_short.get(supply)
    runs_out = f", runs out on {say_date(out.on)}" if out is not None else ""
    return f"on hand {say_on_hand(stock, supply)}{runs_out}" if supply in stock.on_hand else ""


def _to_order_rows(each: ToOrder, stock: Stock) -> list[str]:
    by = f", order by {say_date(each.order_by)}" if each.order_by is not None and not each.too_late else ""
    late = ", order at once: it comes after that" if each.too_late else ""
    there = f"; on hand {say_on_hand(stock, each.supply.id)}" if each.supply.id in stock.on_hand else ""
    packs = say_packs(each.packs, each.supply)
    return wrap(f"{each.supply.name}: {packs}, {each.why}{by}{late}{there}", first="  ", indent=6)


def orders_as_json(
    plan: Plan, stock: Stock, falls_short: FallsShort, to_order: Iterable[ToOrder], until: date
) -> Fields:
    """The page "orders".

    ``due``: a list of ``supply name packs due pack since expected late claim_by came_instead on_hand about counted
    runs_out``; ``to_order``: a list of ``supply name packs pack why level shelf on_hand about counted runs_out order_by
    too_late``; ``lead_school_days``; ``looked_ahead_to``: the last day that was looked at for what runs out.
    """
    return {
        "format": 1,
        "page": "orders",
        "date": stock.on.isoformat(),
        "lead_school_days": plan.school.habits.lead_school_days,
        "looked_ahead_to": until.isoformat(),
        "due": [
            {
                **_begin(plan, order.supply),
                "packs": order.packs,
                "due": order.due,
                "since": order.since.isoformat(),
                "expected": _iso(order.expected),
                "late": is_late(order, stock.on),
                "claim_by": _iso(order.claim_by),
                "came_instead": order.came_instead,
                **stock_fields(stock, order.supply),
                "runs_out": _iso(falls_short[order.supply].on) if order.supply in falls_short else None,
            }
            for order in stock.orders
        ],
        "to_order": [
            {
                **_begin(plan, each.supply.id),
                "packs": each.packs,
                "why": each.why,
                "shelf": each.supply.shelf,
                **stock_fields(stock, each.supply.id),
                "runs_out": _iso(each.runs_out),
                "order_by": _iso(each.order_by),
                "too_late": each.too_late,
            }
            for each in to_order
        ],
    }


def stock_fields(stock: Stock, supply: str) -> Fields:
    """``on_hand about counted level``: ``on_hand`` null where nobody counted; ``level`` low, out, plenty or empty."""
    counted = stock.counted.get(supply)
    return {
        "on_hand": stock.on_hand.get(supply),
        "about": counted != stock.on,
        "counted": _iso(counted),
        "level": stock.levels.get(supply, ""),
    }


def _begin(plan: Plan, supply: str) -> Fields:
    known = plan.supply_by_id.get(supply)
    return {
        "supply": supply,
        "name": plan.name_of_supply(supply),
        "pack": known.pack if known is not None else 1,
    }


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day is not None else None
