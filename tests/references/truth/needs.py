"""What a day's visits need, written out from the words of the design (4.2) for a school without rules.

A visit is a table: key, class, grade, start and end (moments), students, tables, steps (lesson and number of each part
it may teach), substitute. A line is a table: container, supply, kit (class of a catch-up kit, or ""), need, returns,
uses: (visit, amount, whether it shrinks with who came) of what does not come back.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, comb
from typing import Any

from tests.references.truth.school import (
    ATTENDANCE,
    CERTAINTY,
    EARLY_SHARE,
    EARLY_SHARE_YOUNG,
    SPARES,
    Table,
    by_id,
)

YOUNG = ("PK", "K", "1")
MEDIA = {"printing"}
"""Of the tags these schools have, those of parts that are not made up beside another one."""
Step = tuple[str, int]


def part_of(school: Table, step: Step) -> Table:
    part: Table = by_id(school["lessons"], step[0])["parts"][step[1] - 1]
    return part


def comes_back(school: Table, supply: str) -> bool:
    entry = by_id(school["supplies"], supply)
    return bool(entry.get("returns", entry["kind"] == "tool"))


def container_of(school: Table, supply: str, visit: Table, lesson: str) -> str:
    """The lesson's kit that holds it, the cart where it stands, else the grade's box."""
    for kit in school["kits"]:
        if kit["id"] in by_id(school["lessons"], lesson).get("kits", ()) and supply in kit["holds"]:
            return str(kit["id"])
    return "cart" if supply in school["school"]["cart"]["standing"] else f"box-{visit['grade']}"


def units(per: str, students: int, tables: int) -> int:
    return {"student": students, "pair": ceil(students / 2), "table": tables, "class": 1}[per]


def lines_of(school: Table, visits: list[Table], classes: Table) -> list[Table]:
    """The lines of a day. ``classes`` says what each class is owed and what is unfinished in it."""
    needed: dict[tuple[str, str, str], list[Table]] = {}
    for visit in visits:
        own = needs_of_parts(school, visit)
        for need in own:
            needed.setdefault((need["container"], need["supply"], ""), []).append(need)
        if visit["substitute"]:
            continue
        along = {need["supply"] for need in own}
        for need in owed_needs(school, visit, classes[visit["class"]]):
            if not (need["supply"] in along and comes_back(school, need["supply"])):  # the tools that are out do for it
                needed.setdefault((need["container"], need["supply"], need["kit"]), []).append(need)
    return [a_line(school, key, needs, visits) for key, needs in needed.items()]


def needs_of_parts(school: Table, visit: Table) -> list[Table]:
    """Of each part that may be taught; where there are several, of each supply the most that one of them needs."""
    most: dict[tuple[str, str], Table] = {}
    for step in visit["steps"]:
        for need in needs_of_part(school, visit, step):
            key = need["container"], need["supply"]
            if key not in most or need["amount"] > most[key]["amount"]:
                most[key] = need
    return list(most.values())


def needs_of_part(school: Table, visit: Table, step: Step) -> list[Table]:
    lesson = by_id(school["lessons"], step[0])
    before = [item["supply"] for part in lesson["parts"][: step[1] - 1] for item in part["items"] if stays(item)]
    needs = []
    for item in part_of(school, step)["items"]:
        if stays(item) and item["supply"] in before:
            continue  # it is in the children's work already
        amount = Fraction(item["count"]) * units(item["per"], visit["students"], visit["tables"])
        each = item["per"] in ("student", "pair")
        container = container_of(school, item["supply"], visit, step[0])
        needs.append(a_need(visit, item["supply"], container, amount, each=each, stays=stays(item)))
    for item in lesson.get("extension", ()):
        share = Fraction(EARLY_SHARE_YOUNG if visit["grade"] in YOUNG else EARLY_SHARE)
        amount = ceil(share * visit["students"]) * Fraction(item["count"])
        needs.append(a_need(visit, item["supply"], container_of(school, item["supply"], visit, step[0]), amount))
    return needs


def a_need(visit: Table, supply: str, container: str, amount: Fraction, **more: Any) -> Table:
    """``each``: for each child or pair, so that it has spare and shrinks with who came. ``reserve``: beside it."""
    plain = {"each": False, "stays": False, "reserve": 0, "kit": ""}
    return {**plain, "visit": visit["key"], "supply": supply, "container": container, "amount": amount, **more}


def stays(item: Table) -> bool:
    return bool(item.get("stays_in_work"))


# ------------------------------------------------------------------------------------------------- what is owed


def owed_needs(school: Table, visit: Table, of_class: Table) -> list[Table]:
    """The catch-up kit of the class and what is kept in reserve for it."""
    needs = []
    box = f"box-{visit['grade']}"
    for step, owed in of_class["owed"].items():
        for item in items_to_make_up(school, visit, step):
            supply, count = item["supply"], Fraction(item["count"])
            if owed["unknown"]:
                if item["per"] == "student" and not comes_back(school, supply):
                    container = container_of(school, supply, visit, visit["steps"][0][0])
                    reserve = ceil(count * reserve_for(visit["students"]))
                    needs.append(a_need(visit, supply, container, Fraction(0), reserve=reserve))
            else:
                children = len(owed["numbers"]) + owed["count"]
                amount = Fraction(ceil(count * units(item["per"], children, 1)))
                needs.append(a_need(visit, supply, box, amount, kit=visit["class"]))
    for begun in of_class["unfinished"]:
        sets = begun["count"] + max(1, ceil(Fraction(begun["count"], 10)))
        for item in part_of(school, begun["step"])["items"]:
            if item["per"] == "student":
                amount = Fraction(ceil(Fraction(item["count"]) * sets))
                needs.append(a_need(visit, item["supply"], box, amount, kit=visit["class"]))
    return needs


def way_to_make_up(school: Table, visit: Table, step: Step) -> str:
    """ "full", "short", "none", or "held" until the same medium is out."""
    part = part_of(school, step)
    if "catch_up" in part:
        return str(part["catch_up"])
    media = MEDIA.intersection(part.get("tags", ()))
    if not media:
        return "full"
    if part.get("short_version"):
        return "short"
    out = {tag for here in visit["steps"] for tag in part_of(school, here).get("tags", ())}
    return "full" if media & out else "held"


def items_to_make_up(school: Table, visit: Table, step: Step) -> list[Table]:
    way = way_to_make_up(school, visit, step)
    if way == "short":
        return list(part_of(school, step).get("short_version", []))
    return list(part_of(school, step)["items"]) if way == "full" else []


def reserve_for(students: int) -> int:
    """The smallest n with P(X ≤ n) ≥ 95 % for so many children of whom each is there with 94 %."""
    there, reached = Fraction(ATTENDANCE), Fraction(0)
    for n in range(students + 1):
        reached += comb(students, n) * (1 - there) ** n * there ** (students - n)
        if reached >= Fraction(CERTAINTY):
            return n
    return students


# ---------------------------------------------------------------------------------------------------- one line


def a_line(school: Table, key: tuple[str, str, str], needs: list[Table], visits: list[Table]) -> Table:
    container, supply, kit = key
    at_least, percent = spare_of_kind(school, supply, needs, visits)

    def spare(amount: Fraction) -> int:
        return max(at_least, ceil(amount * percent / 100)) if amount else 0

    def due(of: list[Table]) -> Fraction:
        return sum((need["amount"] for need in of if need["each"]), Fraction(0))

    def total(of: list[Table]) -> Fraction:
        return sum((need["amount"] for need in of), Fraction(0))

    returns = comes_back(school, supply)
    staying = [need for need in needs if need["stays"]]
    if returns:  # of what comes back the largest visit counts, beside what stays in the work of others
        of_visit = [[need for need in needs if need["visit"] == visit["key"] and not need["stays"]] for visit in visits]
        largest = max(of_visit, key=lambda of: ceil(total(of)) + spare(due(of)))
        needed = [*staying, *largest]
    else:
        needed = needs
    uses = [] if returns and not staying else staying or needs
    return {
        "container": container,
        "supply": supply,
        "kit": kit,
        "need": ceil(total(needed)) + max(spare(due(needed)), sum(need["reserve"] for need in needs)),
        "visits": {need["visit"] for need in needs},
        "returns": returns and not staying,
        "stays": bool(staying),
        "uses": [(need["visit"], need["amount"], need["each"]) for need in uses if need["amount"]],
    }


def spare_of_kind(school: Table, supply: str, needs: list[Table], visits: list[Table]) -> tuple[int, int]:
    kind = by_id(school["supplies"], supply)["kind"]
    is_young = any(visit["grade"] in YOUNG for visit in visits if visit["key"] in {need["visit"] for need in needs})
    kind = "young paper" if kind == "paper" and is_young else kind
    return SPARES["material" if kind == "sheet" else kind]
