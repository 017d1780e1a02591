"""A day's lines: the needs of its visits put together, one line for a supply in a container."""

from __future__ import annotations

from copy import deepcopy
from datetime import date
from fractions import Fraction
from math import ceil

from tests.references.second_look.catch_up import catch_up_of, reserve_of
from tests.references.second_look.needs import Need, needs_of, whole
from tests.references.second_look.plan import Table, comes_back, is_young
from tests.references.second_look.quantities import spare_of
from tests.references.second_look.sharing import share_what_is_forbidden

Needed = list[tuple[Table, list[Need]]]
"""Visits with what each needs."""
Lines = dict[tuple[str, str, str], Table]
"""(container, supply, class of a catch-up kit or "") -> need, visits (keys), critical, blocked."""


def lines_for(plan: Table, visits: list[Table], day: date) -> Lines:
    ordinary: Needed = []
    reserves: Needed = []
    kits: Needed = []
    packed: set[tuple[str, str, int]] = set()
    for visit in visits:
        needs = needs_whatever_was_done(plan, visit, day)
        ordinary.append((visit, needs))
        along = {need["supply"] for need in needs}
        kits.append((visit, catch_up_of(plan, visit, along, packed, day)))
        reserves.append((visit, reserve_of(plan, visit, along, packed, day)))
    share_what_is_forbidden(plan, [*ordinary, *kits, *reserves], day)
    lines = ordinary_lines(plan, ordinary, reserves)
    for visit, kit in kits:
        for need in kit:
            line = lines.setdefault((need["container"], need["supply"], visit["class"]), a_line())
            if visit["key"] not in line["visits"]:
                line["visits"].append(visit["key"])
            line["amount"] += whole(need)
            line |= {"need": ceil(line["amount"]), "blocked": line["blocked"] or need["blocked"]}
    return lines


def a_line() -> Table:
    return {"need": 0, "amount": Fraction(0), "visits": [], "critical": False, "blocked": False}


def needs_whatever_was_done(plan: Table, visit: Table, day: date) -> list[Need]:
    """Of each part the class may have come to: of every supply what the part that needs most of it needs."""
    together: list[Need] = []
    for step in visit["steps"]:
        for need in needs_of(plan, visit, step, day):
            place = need["container"], need["supply"]
            same = [each for each in together if (each["container"], each["supply"]) == place]
            if not same:
                together.append(deepcopy(need))
                continue
            other = same[0]
            either = {mark: need[mark] or other[mark] for mark in ("critical", "blocked")}
            if whole(need) > whole(other):
                other |= deepcopy(need)
            other |= either
    return together


def ordinary_lines(plan: Table, ordinary: Needed, reserves: Needed) -> Lines:
    keys = {(need["container"], need["supply"]): None for _, needs in [*ordinary, *reserves] for need in needs}
    lines: Lines = {}
    for key in keys:
        uses = [(visit, need) for visit, needs in ordinary for need in needs if is_of(need, key)]
        kept = [(visit, need) for visit, needs in reserves for need in needs if is_of(need, key)]
        of_visits = {visit["key"] for visit, _ in [*uses, *kept]}
        reserve = sum((need["amount"] for _, need in kept), Fraction(0))
        lines[(*key, "")] = {
            "need": need_of_line(plan, key[1], uses, reserve, [spare for _, need in kept for spare in need["spares"]]),
            "visits": [visit["key"] for visit, _ in ordinary if visit["key"] in of_visits],
            "critical": any(need["critical"] for _, need in uses),
            "blocked": any(need["blocked"] for _, need in [*uses, *kept]),
        }
    return lines


def is_of(need: Need, key: tuple[str, str]) -> bool:
    return (need["container"], need["supply"]) == key


def need_of_line(
    plan: Table, supply: str, uses: list[tuple[Table, Need]], reserve: Fraction, with_reserve: list[Table]
) -> int:
    own = [need["own spare"] for _, need in uses if need["own spare"]]
    spares = own or [usual_spare(plan, supply, any(is_young(visit["grade"]) for visit, _ in uses))]
    due_to: dict[str, Fraction] = {}
    for visit, need in uses:
        due_to[visit["key"]] = due_to.get(visit["key"], Fraction(0)) + need["due"]
    asked = [(spare, Fraction(0)) for spare in with_reserve]
    asked += [(spare, due_to[visit["key"]]) for visit, need in uses for spare in need["spares"]]
    spares += [in_children(spare, due) if "children" in spare else spare for spare, due in asked]

    def with_spare(amount: Fraction, due: Fraction) -> int:
        return ceil(amount) + max(ceil(reserve), *(spare_of(spare, due) for spare in spares))

    if not comes_back(plan, supply):
        once: dict[str, Fraction] = {}
        for _, need in uses:
            once |= {lesson: max(amount, once.get(lesson, Fraction(0))) for lesson, amount in need["once"].items()}
        amounts = sum((need["amount"] for _, need in uses), Fraction(0)) + sum(once.values(), Fraction(0))
        return with_spare(amounts, sum((need["due"] for _, need in uses), Fraction(0)))
    staying = [need for _, need in uses if need["stays"]]
    kept = sum((whole(need) for need in staying), Fraction(0))
    kept_due = sum((need["due"] for need in staying), Fraction(0))
    largest = max(ceil(reserve), with_spare(kept, kept_due))
    for key in {visit["key"] for visit, _ in uses}:
        here = [need for visit, need in uses if visit["key"] == key and not need["stays"]]
        amount = sum((whole(need) for need in here), kept)
        largest = max(largest, with_spare(amount, sum((need["due"] for need in here), kept_due)))
    return largest


def in_children(spare: Table, due: Fraction) -> Table:
    """Four children to spare: four where each takes one or more, else what four of them take."""
    shared = ceil(spare["at_least"] * due / spare["children"]) if spare["children"] else 0
    return {**spare, "at_least": min(spare["at_least"], shared)}


def usual_spare(plan: Table, supply: str, young: bool) -> Table:
    """A supply's own, else that of its kind. Of a sample there is no spare."""
    entry: Table = plan["supplies"]["class-folder" if supply.startswith("folder ") else supply]
    if "spare" in entry:
        own: Table = entry["spare"]
        return own
    kind = entry.get("kind", "material")
    habits = plan["habits"]
    by_kind = {"paper": "spare_paper_young" if young else "spare_paper", "tool": "spare_tool"}
    if kind == "sample":
        return {}
    spare: Table = habits[by_kind.get(kind, "spare_material")]
    return spare
