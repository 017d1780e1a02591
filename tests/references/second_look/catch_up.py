"""What children who missed a part, or are not done with one, need at the next visit of their class."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

from tests.references.second_look.making_up import to_make_up
from tests.references.second_look.needs import Need, a_need, add_up, container_of, make_safe
from tests.references.second_look.plan import Table, comes_back, is_about, items_meant_for
from tests.references.second_look.quantities import reserve_for, units_for_few


def catch_up_of(plan: Table, visit: Table, along: set[str], packed: set[tuple[str, str, int]], day: Any) -> list[Need]:
    """What is in the kit of the class. ``along`` is what it has out anyway: tools of that kind serve.

    ``packed`` has what went along with an earlier visit of the class on the same day: that is not packed twice.
    """
    kit: list[Need] = []
    for owed in visit["place"]["owed"]:
        children = len(owed["numbers"]) + owed["count"]
        items = to_make_up(plan, visit, owed["lesson"], owed["part"]) if children else []
        amounts = [
            (
                item["supply"],
                Fraction(ceil(units_for_few(item.get("per", "student"), children) * Fraction(item.get("count", 1)))),
            )
            for item in items
        ]
        kit += in_the_kit(plan, visit, ("missed", owed["lesson"], owed["part"]), amounts, packed, day)
    for begun in visit["place"]["unfinished"]:
        sets = begun["count"] + max(1, ceil(Fraction(begun["count"], 10)))
        listed = plan["lessons"][begun["lesson"]]["parts"][begun["part"] - 1].get("items", [])
        items = items_meant_for(listed, visit["class"])
        amounts = [
            (item["supply"], Fraction(ceil(sets * Fraction(item.get("count", 1)))))
            for item in items
            if item.get("per", "student") == "student" and not item.get("demo")
        ]
        kit += in_the_kit(plan, visit, ("begun", begun["lesson"], begun["part"]), amounts, packed, day)
    return [need for need in kit if not (comes_back(plan, need["supply"]) and need["supply"] in along)]


def in_the_kit(
    plan: Table,
    visit: Table,
    what: tuple[str, str, int],
    amounts: list[tuple[str, Fraction]],
    packed: set[tuple[str, str, int]],
    day: Any,
) -> list[Need]:
    kind, lesson, part = what
    this = (f"{kind} {visit['class']}", lesson, part)
    if not amounts or this in packed:
        return []
    packed.add(this)
    box = f"box-{visit['grade']}"
    needs: list[Need] = []
    for supply, amount in amounts:
        add_up(needs, a_need(supply, box, amount=amount))
    return [
        {**need, "container": box, "critical": False} for need in make_safe(plan, visit, (lesson, part), needs, day)
    ]


def reserve_of(plan: Table, visit: Table, along: set[str], packed: set[tuple[str, str, int]], day: Any) -> list[Need]:
    """What is kept in reserve where nobody could say who was absent; once a day like a kit."""
    habits: Any = plan["habits"]
    children = reserve_for(visit["students"], habits["attendance"], habits["reserve_certainty"])
    lesson_now = visit["steps"][0][0] if visit["steps"] else ""
    found: list[Need] = []
    for owed in visit["place"]["owed"]:
        this = (f"reserve {visit['class']}", owed["lesson"], owed["part"])
        items = to_make_up(plan, visit, owed["lesson"], owed["part"]) if owed["unknown"] else []
        if not items or this in packed:
            continue
        packed.add(this)
        needs: list[Need] = []
        for item in items:
            supply = item["supply"]
            if item.get("per", "student") == "student" and not comes_back(plan, supply):
                amount = Fraction(ceil(children * Fraction(item.get("count", 1))))
                add_up(needs, a_need(supply, "", amount=amount, into=item.get("into", "")))
        found += make_safe(plan, visit, (owed["lesson"], owed["part"]), needs, day)
    is_unsure = is_about(plan["classes"][visit["class"]])
    about = [{**habits["spare_about"], "children": visit["students"]}] if is_unsure else []
    for need in found:
        need["spares"] = [*need["spares"], *about]
        need["container"] = container_of(plan, need["supply"], visit["grade"], lesson_now, need["into"])
    return [need for need in found if not (comes_back(plan, need["supply"]) and need["supply"] in along)]
