"""The stock as it stands at this moment of a day: what she has, is out of, and waits for, as far as it is told."""

from __future__ import annotations

from datetime import date, datetime, time

from msgspec import Struct

from checklists.daybook.carry_over import carried_after
from checklists.daybook.entries import Reported, StoreLevel
from checklists.daybook.loans import lent_by_supply, loans_after
from checklists.daybook.marks import Marks
from checklists.daybook.ordering import levels_after, orders_after
from checklists.daybook.reports import with_todays_visits
from checklists.daybook.state import Carried, Order, State
from checklists.daybook.stock import contents_after, counted_after
from checklists.lines.records import Day
from checklists.lines.tied_up import tied_up
from checklists.plan.records import Plan
from checklists.words import say_date


class Stock(Struct, frozen=True):
    """What there is of each supply. A supply that is not in ``on_hand`` was never counted."""

    on: date
    on_hand: dict[str, int]
    """All she has of it, wherever it is."""
    contents: dict[str, dict[str, int]]
    """Container -> supply -> how many are in it."""
    counted: dict[str, date]
    levels: dict[str, StoreLevel]
    orders: tuple[Order, ...]
    short: tuple[Carried, ...]
    """What came up short and was not got since."""
    in_work: dict[str, int] = {}
    """Tools that stay in unfinished work."""
    lent: dict[str, int] = {}
    """Supply -> how many of it somebody has borrowed."""

    def on_shelf(self, supply: str) -> int | None:
        """How many are outside containers and unfinished work and not lent; None where nobody knows."""
        known = self.on_hand.get(supply)
        if known is None:
            return 0 if self.levels.get(supply) == "out" else None
        held = sum(inside.get(supply, 0) for inside in self.contents.values())
        return max(0, known - held - self.in_work.get(supply, 0) - self.lent.get(supply, 0))

    def due(self, supply: str) -> int:
        """Packs of it that are still to come."""
        return sum(order.due for order in self.orders if order.supply == supply)


def stock_now(plan: Plan, day: Day, marks: Marks, opening: State) -> Stock:
    """The stock on a day as told so far: what came, what is gone, what visits that were reported have used."""
    marks = with_todays_visits(marks, day)
    at = datetime.combine(day.date, time())
    nothing = {visit.key: Reported(at=at, visit=visit.key, outcome="not taught") for visit in day.visits}
    reports = nothing | {visit: said for visit, said in marks.reports.items() if visit in nothing}
    held, on_hand = contents_after(plan, day, marks, opening, reports)
    carried = carried_after(plan, day, marks, opening, reports, only_said=True)
    return Stock(
        day.date,
        on_hand,
        held,
        counted_after(plan, day, marks, opening),
        levels_after(marks, opening),
        orders_after(plan, day.date, marks, opening),
        tuple(each for each in carried if each.kind == "short"),
        {supply: sum(by_class.values()) for supply, by_class in tied_up(plan, opening).items()},
        lent_by_supply(loans_after(marks.loans, opening.lent, day.date)),
    )


def say_on_hand(stock: Stock, supply: str) -> str:
    """ "about 320, counted Sat 12 Sep"; "140, counted today"; "low", "out" or "not counted" without a number."""
    known, counted = stock.on_hand.get(supply), stock.counted.get(supply)
    if known is None:
        return stock.levels.get(supply, "not counted")
    if counted == stock.on:
        return f"{known}, counted today"
    return f"about {known}, counted {say_date(counted)}" if counted is not None else f"about {known}"
