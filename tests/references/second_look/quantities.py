"""How many for how many: units, spare, reserve, all in fractions."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, comb
from typing import Any

from tests.references.second_look.plan import Table


def units(per: str, students: int, tables: int) -> int:
    """Of what a part lists, for a class."""
    return {"student": students, "pair": ceil(Fraction(students, 2)), "table": tables, "class": 1, "lesson": 1}[per]


def units_for_few(per: str, children: int) -> int:
    """The same for those of a class who catch up: they share one table."""
    return {"student": children, "pair": ceil(Fraction(children, 2))}.get(per, 1)


def spare_of(spare: Table, due: Fraction) -> int:
    """The larger of a number and a percentage, rounded up; nothing on nothing."""
    if due <= 0:
        return 0
    return max(int(spare.get("at_least", 0)), ceil(due * Fraction(spare.get("percent", 0)) / 100))


def reserve_for(students: int, attendance: Any, certainty: Any) -> int:
    """The smallest n with P(X ≤ n) ≥ certainty, where each of the students is absent for himself."""
    absent = 1 - Fraction(attendance)
    chance = Fraction(0)
    for n in range(students + 1):
        chance += comb(students, n) * absent**n * (1 - absent) ** (students - n)
        if chance >= Fraction(certainty):
            return n
    return students
