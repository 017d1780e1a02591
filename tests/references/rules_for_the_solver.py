"""Rules and the facts of visits in the solver's language, written from the conditions' meaning and not from our code.

Several visits are told at once, by number. A rule that brings in a supply makes it a supply of the visit there and
then. Numbers are told in tenths.
"""

from __future__ import annotations

from checklists.plan.records import Supply
from checklists.rules.records import VisitFacts
from tests.references.random_rules import SETTINGS, Asked, Made
from tests.references.solver import quoted

COMMON = """
item(V,S) :- listed(V,S).
marked(V,S,M) :- item(V,S), own(S,M).
marked(V,S,M) :- item(V,S), sorted(V,S,M).
avoided(V,S) :- item(V,S), own(S,W), avoids(V,W).
seen(C,V) :- holds(C,V).
seen(C,V) :- holds(C,V,S).
#show tag/2.
#show applies/2.
#show applies/3.
#show seen/2.
"""
SIGNS = {"at most": "<=", "at least": ">=", "is": "=", "below": "<", "above": ">"}
GRADES = {"PK": -1.0, "K": 0.0}


def written_supplies(supplies: dict[str, Supply]) -> list[str]:
    """A supply is its own id, its kind, and each of its marks."""
    return [
        f"own({quoted(each.id)},{quoted(word)})."
        for each in supplies.values()
        for word in (each.id, each.kind, *each.marks)
    ]


def written_visit(number: int, facts: VisitFacts) -> list[str]:
    return [
        f"visit({number}).",
        f"class({number},{quoted(facts.class_id)}).",
        f"lesson({number},{quoted(facts.lesson)}).",
        *(f"tag({number},{quoted(tag)})." for tag in facts.tags),
        *(f"value({number},{name},{round(value * 10)})." for name, value in facts.numbers.items()),
        *(f"need({number},{quoted(need)})." for need, count in facts.needs.items() if count),
        *(f"avoids({number},{quoted(word)})." for word in facts.avoid),
        *(f"listed({number},{quoted(supply)})." for supply in facts.items),
    ]


def written_rule(made: Made, left_out: list[int], conditions: dict[Asked, int]) -> list[str]:
    """What the rule concludes where it applies; ``left_out`` are the visits for which it is switched off."""
    item = ",S" if made.of_item else ""
    body = [f"holds({conditions[each]},V{',S' if each.of_item else ''})" for each in made.asked]
    applies = f"applies({quoted(made.rule.id)},V{item})"
    gone = [f"off({number},{quoted(made.rule.id)})." for number in left_out]
    lines = [f"{applies} :- {', '.join([*body, 'visit(V)'])}, not off(V,{quoted(made.rule.id)}).", *gone]
    for given in made.rule.gives:
        if given.startswith("item is "):
            lines.append(f"sorted(V,S,{quoted(given.removeprefix('item is '))}) :- {applies}.")
        else:
            lines.append(f"tag(V,{quoted(given)}) :- {applies}.")
    brought = [each.supply for each in made.rule.add] + [each.supply for each in made.rule.replace]
    brought += [each.instead for each in made.rule.forbid if each.instead]
    lines += [f"item(V,{quoted(supply)}) :- {applies}." for supply in brought]
    return lines


def written_condition(number: int, asked: Asked) -> list[str]:
    """Where a condition holds: for visits, or for visits and supplies."""
    word, no = quoted(asked.word), "not " if asked.denied else ""
    if asked.kind == "item is":
        return [f"holds({number},V,S) :- item(V,S), {no}marked(V,S,{word})."]
    if asked.kind == "avoid item":
        return [f"holds({number},V,S) :- avoided(V,S)."]
    if asked.kind == "number named":
        values = f"value(V,{asked.word},A), value(V,{asked.limit},B)"
        return [f"holds({number},V) :- {values}, A {SIGNS[asked.relation]} B."]
    if asked.kind.startswith("number"):
        limit = str(SETTINGS.get(asked.limit, asked.limit))
        tenths = round(10 * (GRADES[limit] if limit in GRADES else float(limit)))
        return [f"holds({number},V) :- value(V,{asked.word},A), A {SIGNS[asked.relation]} {tenths}."]
    if asked.kind == "some item is":
        return [f"some({number},V) :- marked(V,S,{word}).", f"holds({number},V) :- visit(V), {no}some({number},V)."]
    if asked.kind == "lists":
        return [
            f"some({number},V) :- listed(V,S), own(S,{word}).",
            f"holds({number},V) :- visit(V), {no}some({number},V).",
        ]
    told = {"tag": "tag", "need": "need", "avoid": "avoids", "class is": "class", "lesson is": "lesson"}
    return [f"holds({number},V) :- visit(V), {no}{told[asked.kind]}(V,{word})."]
