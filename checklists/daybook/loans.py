"""Lending, worked out: what moved out of containers and back, and what is still lent.

Nothing here knows what else was said of a day; ``marks`` and ``stock`` put the two together by their moments.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime

from msgspec import Struct, structs

from checklists.daybook.entries import GivenBack, Lent
from checklists.daybook.state import Loan

LOAN = "loan/"
"""How the key of a loan begins; the moment it was lent and the supply come behind it."""


class Move(Struct, frozen=True):
    """So many of a supply were put into a container, by lending or giving back; fewer than none: taken out of it."""

    at: datetime
    container: str
    supply: str
    count: int


def loan_key(lent: Lent) -> str:
    """The key of the loan that an entry makes."""
    return f"{LOAN}{lent.at.isoformat()}/{lent.supply}"


def moves_of(said: Iterable[Lent | GivenBack], open_before: Mapping[str, int]) -> tuple[Move, ...]:
    """What lending and giving back moved, in order. ``open_before``: loans of earlier days -> how many were out.

    Of a loan that is not open (its lending was taken back later) nothing comes back, and never more than were out.
    """
    out = dict(open_before)
    moves: list[Move] = []
    for each in said:
        if isinstance(each, Lent):
            out[loan_key(each)] = each.count
            moves.append(Move(each.at, each.container, each.supply, -each.count))
        else:
            count = min(each.count, out.get(each.loan, 0))
            out[each.loan] = out.get(each.loan, 0) - count
            moves.append(Move(each.at, each.container, each.supply, count))
    return tuple(moves)


def moved(
    moves: Iterable[Move], container: str, supply: str, *, after: datetime | None = None, until: datetime | None = None
) -> int:
    """How many more of a supply are in a container by the moves in a time; without bounds by all of them."""
    return sum(
        each.count
        for each in moves
        if (each.container, each.supply) == (container, supply)
        and (after is None or each.at > after)
        and (until is None or each.at <= until)
    )


def counts_of(loans: Iterable[Loan]) -> dict[str, int]:
    """Key -> how many are out."""
    return {each.key: each.count for each in loans}


def lent_by_supply(loans: Iterable[Loan]) -> dict[str, int]:
    """Supply -> how many of it are lent in all."""
    found: dict[str, int] = {}
    for each in loans:
        found[each.supply] = found.get(each.supply, 0) + each.count
    return found


def loans_after(said: Iterable[Lent | GivenBack], before: Iterable[Loan], day: date) -> tuple[Loan, ...]:
    """What is lent after all that was said on ``day``, the oldest first."""
    loans = {each.key: each for each in before}
    for each in said:
        if isinstance(each, Lent):
            key = loan_key(each)
            time = f"{each.at.hour}:{each.at.minute:02d}"
            loans[key] = Loan(key, each.supply, each.count, day, time, each.to, each.place, each.container)
        elif each.loan in loans:
            loan = loans[each.loan]
            loans[loan.key] = structs.replace(loan, count=max(0, loan.count - each.count))
    return tuple(each for each in loans.values() if each.count)
