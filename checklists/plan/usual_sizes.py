"""How many children a class usually has, where nobody has said it yet."""

from __future__ import annotations

USUAL_SIZES = {"PK": 16, "K": 20, "1": 22, "2": 22, "3": 24, "4": 26, "5": 26, "6": 26, "7": 26, "8": 26}
"""Children of a class by its grade. Common practice, no source; from memory beyond grade 5."""
OF_ANY_GRADE = 26


def usual_size(grade: str) -> str:
    """As it is written where nobody is sure: "about 24"."""
    return f"about {USUAL_SIZES.get(grade, OF_ANY_GRADE)}"
