"""Small schools whose Monday has something to decide, to take out, or that must not come along. All invented.

Quantities are common practice, no source.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.daybook.state import State
from tests.schools import (
    FRIDAY_BEFORE,
    a_class,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    small_school,
    write_evening,
)

POMPONS = 38
"""In Box 3 since a lesson that is over."""


def school_one_adult_short(folder: Path, **changes: Any) -> Path:
    """3-B and 3-K have a part that takes two adults; there is one. Rubbings can be taught instead."""
    hot = a_part("join the arms", [an_item("wood-stick", critical=True)], tags=["two adults"])
    lessons = [
        a_lesson("stick-people", [hot], dry_version="rubbings"),
        a_lesson("rubbings", [a_part("rub", [an_item("white-12x18", critical=True)])]),
    ]
    supplies = [a_supply("wood-stick", shelf="W1"), a_supply("white-12x18", "white paper 12x18", kind="paper")]
    return small_school(folder, lessons=lessons, supplies=supplies, teaching={"3": ["stick-people"]}, **changes)


def school_that_avoids_latex(folder: Path, *, inside: int = 30) -> Path:
    """3-B avoids latex and rubber bands are listed for it; ``inside`` are in Box 3 since Friday. Else cotton ties."""
    lessons = [a_lesson("looms", [a_part("warp", [an_item("rubber-band"), an_item("white-12x18")])])]
    supplies = [
        a_supply("rubber-band", marks=["latex"], instead="cotton-tie"),
        a_supply("cotton-tie"),
        a_supply("white-12x18", "white paper 12x18", kind="paper"),
    ]
    classes = [a_class("3-B", room="12", avoid=["latex"]), a_class("3-K", room="14", students=0)]
    small_school(folder, lessons=lessons, supplies=supplies, classes=classes, teaching={"3": ["looms"]})
    write_evening(folder, FRIDAY_BEFORE, State(contents={"box-3": {"rubber-band": inside}} if inside else {}))
    return folder


def school_after_pompon_mice(folder: Path) -> Path:
    """The small school; Box 3 still holds 38 pompons of a lesson that no class is taught any more."""
    over = a_lesson("pompon-mice", [a_part("glue the mice", [an_item("pompon")])])
    supplies = [*_small_supplies(), a_supply("pompon", shelf="Y1")]
    small_school(folder, lessons=[*_small_lessons(), over], supplies=supplies)
    write_evening(folder, FRIDAY_BEFORE, State(contents={"box-3": {"pompon": POMPONS}, "cart": {"scissors": 30}}))
    return folder


def school_that_cuts_twice(folder: Path) -> Path:
    """3-B comes on Monday and again on Thursday, when its part 2 needs white paper once more, and tissue paper."""
    parts = [
        a_part("cut the hills", [an_item("white-12x18", critical=True)]),
        a_part("add trees", [an_item("white-12x18"), an_item("tissue")]),
    ]
    supplies = [*_small_supplies(), a_supply("tissue", "tissue paper", kind="paper", shelf="P2")]
    return small_school(
        folder, lessons=[a_lesson("paper-hills", parts)], supplies=supplies, teaching={"3": ["paper-hills"]}
    )


def _small_supplies() -> list[dict[str, Any]]:
    return [
        a_supply("white-12x18", "white paper 12x18", kind="paper", shelf="P1", on_hand=400),
        a_supply("glue-stick", "glue stick", returns=True, shelf="G1"),
    ]


def _small_lessons() -> list[dict[str, Any]]:
    first = a_part("cut and glue the hills", [an_item("white-12x18", critical=True), an_item("glue-stick")])
    second = a_part("add trees", [an_item("glue-stick")])
    birds = a_lesson("yarn-birds", [a_part("wind", [an_item("white-12x18")])])
    return [a_lesson("paper-hills", [first, second]), birds]
