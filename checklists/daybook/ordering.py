"""What was ordered and has not come: orders, deliveries in full, in part or of the wrong thing, and what they add."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta

from msgspec import structs

from checklists.daybook.entries import Delivered, LetGo, Ordered, StoreLevel
from checklists.daybook.marks import ORDER, Marks
from checklists.daybook.state import Order, State
from checklists.lines.containers import FOLDER
from checklists.plan.records import Plan

LEAVES_THE_STOCK_ALONE = ("fetch", "make more")
"""What she does about a short line where there is more of it elsewhere: that does not make it low."""


def orders_after(plan: Plan, day: date, marks: Marks, opening: State) -> tuple[Order, ...]:
    """What is still due after what was said on ``day``, the oldest order first."""
    orders = opening.orders
    claim_by = day + timedelta(plan.school.habits.claim_days)
    for said in marks.orders:
        match said:
            case Ordered() if said.packs:
                orders = (*orders, Order(said.supply, said.packs, said.packs, day, said.expected))
            case Delivered(of=""):
                orders = _come(orders, said.supply, said.packs, claim_by)
            case Delivered():
                orders = _something_else_came(orders, said, claim_by)
            case LetGo():
                orders = tuple(each for each in orders if each.supply != said.matter.removeprefix(ORDER))
    return orders


def _come(orders: tuple[Order, ...], supply: str, packs: int, claim_by: date) -> tuple[Order, ...]:
    """Packs that came, taken off the oldest order of the supply first; more than were due belong to no order."""
    left: list[Order] = []
    for order in orders:
        if order.supply != supply or not packs:
            left.append(order)
            continue
        came = min(packs, order.due)
        packs -= came
        if came < order.due:
            left.append(structs.replace(order, due=order.due - came, claim_by=order.claim_by or claim_by))
    return tuple(left)


def _something_else_came(orders: tuple[Order, ...], came: Delivered, claim_by: date) -> tuple[Order, ...]:
    """The oldest order of what did not come stays due in full, and is to be claimed."""
    of = next((order for order in orders if order.supply == came.of), None)
    if of is None:
        return orders
    claimed = structs.replace(of, claim_by=of.claim_by or claim_by, came_instead=came.supply)
    return tuple(claimed if order is of else order for order in orders)


def take_in_deliveries(
    plan: Plan, marks: Marks, opening: State, held: Mapping[str, Mapping[str, int]], on_hand: dict[str, int]
) -> None:
    """Put what came onto the stock: that before a later count is in the count.

    Where none was on the shelf, what containers hold and what came is all there is. Where she has never said how many
    there are, nobody knows how many there are now.
    """
    came = [each for each in marks.orders if isinstance(each, Delivered) and each.supply in plan.supply_by_id]
    for supply in dict.fromkeys(each.supply for each in came):
        none_left = supply not in on_hand and opening.levels.get(supply) == "out"
        if supply not in marks.looked_at and (none_left or supply in marks.was_out):
            on_hand[supply] = sum(inside.get(supply, 0) for inside in held.values())
    for each in came:
        counted = marks.looked_at.get(each.supply)
        if each.supply in on_hand and (counted is None or counted < each.at):
            on_hand[each.supply] += each.packs * plan.supply_by_id[each.supply].pack


def levels_after(marks: Marks, opening: State) -> dict[str, StoreLevel]:
    """Her newest glance at each supply, low where a line came up short, and neither low nor out once more has come.

    One that was out is so no longer once some were counted.
    """
    came = _came_at(marks)
    found = {supply for supply, count in marks.counted.items() if count}
    levels = {
        supply: level
        for supply, level in opening.levels.items()
        if supply not in came and (level != "out" or supply not in found)
    }
    for supply, at in _came_up_short(marks).items():
        if levels.get(supply) != "out" and (supply not in came or came[supply] < at):
            levels[supply] = "low"
    return levels | marks.levels


def _came_at(marks: Marks) -> dict[str, datetime]:
    return {each.supply: each.at for each in marks.orders if isinstance(each, Delivered) and each.packs}


def _came_up_short(marks: Marks) -> dict[str, datetime]:
    """Supply -> when a line of it came up short, for want of more of it."""
    short: dict[str, datetime] = {}
    for key, mark in marks.lines.items():
        supply = key.partition("/")[2].partition("/")[0]
        if mark.remedy and mark.remedy not in LEAVES_THE_STOCK_ALONE and not supply.startswith(FOLDER):
            short[supply] = max(mark.at, short.get(supply, mark.at))
    return short
