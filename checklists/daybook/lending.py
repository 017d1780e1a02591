"""Lending: what somebody borrows is taken from where there is enough of it, and is asked for again without hurry."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from checklists.daybook.entries import GivenBack, Lent, Ticked
from checklists.daybook.loans import loans_after
from checklists.daybook.marks import Marks
from checklists.daybook.matters import PLACES, Choice, OpenMatter
from checklists.daybook.said_of_cases import say_borrower, say_loan
from checklists.daybook.state import Loan
from checklists.lines.containers import FOLDER_SUPPLY, catch_up_kit_of, home_of, name_of
from checklists.lines.records import Day
from checklists.plan.records import Plan, Supply
from checklists.words import join_words, say_room

if TYPE_CHECKING:
    from checklists.daybook.stock_now import Stock


def loans_now(day: Day, marks: Marks) -> tuple[Loan, ...]:
    """What is lent at this moment of a day, the oldest first."""
    return loans_after(marks.loans, day.lent, day.date) if marks.loans else day.lent


def lend(
    plan: Plan, stock: Stock, supply: Supply, count: int, at: datetime, to: str = "", place: str = ""
) -> tuple[Lent, ...] | str:
    """The entries that lend so many: from its home, else from where most are, else from the shelf; or why not."""
    sources = _sources(plan, stock, supply)
    there = sum(amount for _, amount in sources if amount is not None)
    is_known = all(amount is not None for _, amount in sources)
    if count < 1:
        return f"Say how many {supply.name} are lent."
    if count > there and (is_known or there):
        found = [f"{name_of(plan, where) if where else 'the shelf'} {amount}" for where, amount in sources if amount]
        where = f" ({join_words(found)})" if found else ""
        return f"{there} {supply.name} {'is' if there == 1 else 'are'} there{where}, so {count} cannot be lent."
    whole = next((where for where, amount in sources if amount is None or amount >= count), None)
    if whole is not None:
        return (Lent(at=at, supply=supply.id, count=count, to=to, place=place, container=whole),)
    lent: list[Lent] = []
    for where, amount in sources:
        part = min(count - sum(each.count for each in lent), amount or 0)
        if part:
            lent.append(Lent(at=at, supply=supply.id, count=part, to=to, place=place, container=where))
    return tuple(lent)


def _sources(plan: Plan, stock: Stock, supply: Supply) -> list[tuple[str, int | None]]:
    """Container and how many are in it, the one it lives in first; at last the shelf: "", None where nobody knows."""
    home, kits = home_of(plan, supply.id), catch_up_kit_of("")
    held = {where: inside.get(supply.id, 0) for where, inside in stock.contents.items() if not where.startswith(kits)}
    known = sorted((item for item in held.items() if item[1]), key=lambda item: (item[0] != home, -item[1]))
    return [*known, ("", stock.on_shelf(supply.id))]


def borrower_typed(plan: Plan, text: str) -> tuple[str, str]:
    """(who, room of the plan) in what she types: "Room 9", "9", "Ms Reyes", "Ms Reyes, Room 9"."""
    rooms = {room.casefold(): room for room in plan.rooms}
    before, _, last = text.strip().rpartition(",")
    room = last.strip().casefold()
    for word in ("room ", "rm "):
        room = room.removeprefix(word).strip()
    if room in rooms:
        return before.strip(), rooms[room]
    return (say_room(text.strip()) if text.strip().isdigit() else text.strip()), ""


def lendable(plan: Plan) -> list[Supply]:
    """What can be lent, tools first, by name: everything but the children's own work."""
    every = (each for each in plan.supplies if each.id != FOLDER_SUPPLY)
    return sorted(every, key=lambda each: (not each.comes_back, each.name.casefold()))


def give_back(loan: Loan, at: datetime, count: int | None = None) -> GivenBack:
    """The entry that all of a loan is back where it came from, or so many of it."""
    back = loan.count if count is None else min(count, loan.count)
    return GivenBack(at=at, loan=loan.key, supply=loan.supply, count=back, container=loan.container)


def ask_loans(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """Of each loan whether it is back. It is no missing thing: an answer that is left out means still lent."""
    now = {each.key: each for each in loans_now(day, marks)}
    made = [each for each in marks.loans if isinstance(each, Lent)]
    every = {each.key: each for each in loans_after(made, day.lent, day.date)}
    for key, loan in (every | now).items():
        is_back = key not in now
        answer = "back" if is_back else "still lent" if key in marks.seen_to else ""
        text = say_loan(plan, loan, day.date)
        yield OpenMatter(
            key=key,
            section=PLACES,
            text=f"{text[:1].upper()}{text[1:]}. Is it back?",
            critical=False,
            choices=() if is_back else _choices(loan, at),
            typed="" if is_back else "given back",
            hint="how many are back",
            answer=answer,
            supply=loan.supply,
            loan=loan,
        )


def _choices(loan: Loan, at: datetime) -> tuple[Choice, ...]:
    still = Choice("still lent", (Ticked(at=at, matter=loan.key),))
    return still, Choice(f"all {loan.count} are back", (give_back(loan, at),))


def lend_offers(plan: Plan, stock: Stock, supply: Supply, typed: str, at: datetime) -> tuple[Choice, ...] | str:
    """To whom so many can be lent: "12 16" is 12 to Room 16, "12 Ms Reyes" 12 to Ms Reyes; or what to type."""
    count, _, whom = " ".join(typed.split()).partition(" ")
    if not count.isdecimal() or len(count) > 4:
        return "Type how many, then a room or a name: 12 16, or 12 Ms Reyes."
    rooms = [("", room) for room in plan.rooms if room.casefold().startswith(whom.casefold())]
    named = borrower_typed(plan, whom) if whom else None
    found: list[Choice] = []
    for to, place in dict.fromkeys((*([named] if named is not None else []), *rooms)):
        lent = lend(plan, stock, supply, int(count), at, to, place)
        if isinstance(lent, str):
            return lent
        whole = Loan("", supply.id, int(count), at.date(), "", to, place)
        found.append(Choice(f"{count} {supply.name} to {say_borrower(whole)}", lent))
    return tuple(found)


def loan_offers(loan: Loan, typed: str, at: datetime) -> tuple[Choice, ...] | str:
    """All of a loan is back, or as many as were typed."""
    if not typed.strip():
        return (Choice(f"all {loan.count} are back", (give_back(loan, at),)),)
    if not typed.strip().isdecimal() or not 0 < int(typed.strip()[:5]) <= loan.count:
        return f"Type how many are back, 1 to {loan.count}."
    count = int(typed)
    rest = f", {loan.count - count} stay lent" if count < loan.count else ""
    return (Choice(f"{count} {'is' if count == 1 else 'are'} back{rest}", (give_back(loan, at, count),)),)
