"""How much of a thing: units of a basis, spare, reserve. Everything rounds up, once."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import ceil, comb

from checklists.daybook.state import State
from checklists.plan.records import Habits, Spare, Supply


def round_up(amount: float) -> int:
    """The next whole number, forgiving what binary fractions add in the tenth place."""
    return ceil(round(amount, 6))


def units_of(
    basis: str, students: int, tables: int, pieces_each: float = 1, needs: dict[str, int] | None = None
) -> float:
    """How many of a basis a visit has: students, pairs (rounded up), tables, pieces left to dry, children with a need.

    ``basis`` is a word of ``plan.records.Basis``, "piece" or "need NAME"; "class" and "lesson" are one.
    """
    match basis:
        case "student":
            return students
        case "pair":
            return ceil(students / 2)
        case "table":
            return tables
        case "piece":
            return students * pieces_each
    if basis.startswith("need "):
        return (needs or {}).get(basis.removeprefix("need "), 0)
    return 1


def is_counted_anew(supply: Supply, state: State, on: date) -> bool:
    """Whether the plan has a count of a supply that is newer than the daybook's and was made by ``on``."""
    return supply.counted is not None and state.counted.get(supply.id, date.min) < supply.counted <= on


def on_hand_of(supply: Supply, state: State, on: date = date.max) -> int | None:
    """How many she has in all on a date, as far as known: by the daybook, or by the plan where it was counted later."""
    known = state.on_hand.get(supply.id)
    if isinstance(supply.on_hand, int) and (known is None or is_counted_anew(supply, state, on)):
        return supply.on_hand
    return known


def counted_on(supply: Supply, state: State) -> date | None:
    """When all she has of a supply was last counted, by the daybook or by the plan; None where it never was."""
    known = (state.counted.get(supply.id), supply.counted)
    return max((each for each in known if each is not None), default=None)


def spare_of(spare: Spare, total: float) -> int:
    """The larger of a number and a percentage of the total, rounded up; nothing on nothing."""
    return max(spare.at_least, round_up(total * spare.percent / 100)) if total > 0 else 0


def usual_spare(habits: Habits, supply: Supply, is_young: bool) -> Spare:
    """The spare of a supply where neither it nor a rule says another. Young is kindergarten and grade 1."""
    if supply.spare is not None:
        return supply.spare
    match supply.kind:
        case "paper":
            return habits.spare_paper_young if is_young else habits.spare_paper
        case "material" | "sheet":
            return habits.spare_material
        case "tool":
            return habits.spare_tool
    return Spare()


def larger_spare(one: Spare | None, other: Spare | None) -> Spare | None:
    """Both numbers and both percentages at their larger."""
    if one is None or other is None:
        return one or other
    return Spare(max(one.at_least, other.at_least), max(one.percent, other.percent))


def for_so_many_children(spare: Spare, total: float, students: int) -> Spare:
    """The number to spare counted in children, where a child takes less than one: 4 children share 2 boxes of crayons.

    ``total`` is what all the ``students`` of the visit take.
    """
    shared = round_up(spare.at_least * total / students) if students else 0
    return Spare(min(spare.at_least, shared), spare.percent)


@lru_cache(maxsize=512)
def reserve_for(students: int, attendance: float, certainty: float) -> int:
    """Absent children to reckon with: smallest n with P(X ≤ n) ≥ ``certainty``, X ~ Binomial(students, 1 − attendance).

    Exact, in fractions of the decimal numbers given, so that equality counts. Absences are taken as independent; where
    they cluster the true number is a little higher (beta-binomial).
    """
    present, sure = Fraction(str(attendance)), Fraction(str(certainty))
    absent = 1 - present
    reached = Fraction(0)
    for n in range(students + 1):
        reached += comb(students, n) * absent**n * present ** (students - n)
        if reached >= sure:
            return n
    return students
