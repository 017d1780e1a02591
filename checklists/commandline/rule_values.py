"""Read the values behind options about rules: each function raises ValueError in words for a teacher."""

from __future__ import annotations

from typing import Literal, get_args

from checklists.commandline.values import read_one_of
from checklists.plan.records import Basis

BASES: tuple[str, ...] = get_args(Basis)
BUILT_IN = ("built-in", "built in", "builtin")


def read_per(text: str) -> str:
    """What a rule counts by; a child is a student, "need" the children with the need of `--need`."""
    typed = text.casefold().removeprefix("per ").strip()
    return read_one_of({"child": "student", "children": "student"}.get(typed, typed), (*BASES, "need"))


def read_grade(text: str) -> str:
    """A grade as a condition of a rule: "3", "up to 1", "3 and up"."""
    from checklists.own_rules.times import grade_sentence  # only where it was typed: every command reads this table

    return grade_sentence(text)


def read_amount(text: str) -> float:
    """A number that need not be whole."""
    try:
        number = float(text)
    except ValueError:
        number = -1
    if not 0 <= number <= 100_000:
        raise ValueError("is not a number; write it like 2 or 0.5")
    return number


def read_setting(text: str) -> float | Literal["K", "PK"] | None:
    """A number or a grade; None for as built in."""
    typed = text.strip()
    if typed.casefold() in BUILT_IN:
        return None
    if typed.upper() == "K":
        return "K"
    if typed.upper() == "PK":
        return "PK"
    try:
        return float(typed)
    except ValueError:
        raise ValueError("is no number and no grade; write it like 3, 0.5 or K, or built-in") from None
