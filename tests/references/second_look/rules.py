"""The rules of a visit by going through all of them again and again until nothing changes.

A condition with "not" is tried only after everything it depends on is finished: the tags and marks that rules give are
put in an order first, by as many passes over the rules as it takes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache
from math import ceil
from typing import Any

from tests.references.second_look.plan import GRADES, Table, marks_of

Facts = Table
"""tags, numbers, needs (need -> children), avoid, class, lesson, listed (supplies of the part itself), marks listed."""
Effect = tuple[Table, str, str, Table]
"""(rule, what it does, the supply it speaks of, its particulars)."""
Found = set[tuple[str, str]]
"""(tag, "") and ("item is MARK", supply)."""

COMPARED = re.compile(r"(\S+) (at most|at least|is|below|above) (\S+)")
HOLDS: dict[str, Callable[[Any, Any], bool]] = {
    "at most": lambda one, other: one <= other,
    "at least": lambda one, other: one >= other,
    "is": lambda one, other: one == other,
    "below": lambda one, other: one < other,
    "above": lambda one, other: one > other,
}
KINDS = ("add", "replace", "forbid", "raises", "tasks", "next_part", "cautions")
"""What rules do, as far as it is looked at here."""
ROUNDS = 30


@cache
def words(sentence: str) -> str:
    return " ".join(sentence.split())


@cache
def without_not(sentence: str) -> tuple[str, bool]:
    """What a sentence asks for, and whether it asks that it is so."""
    for negative, positive in (
        ("not ", ""),
        ("no item is ", "some item is "),
        ("item is not ", "item is "),
    ):
        if sentence.startswith(negative):
            return positive + sentence.removeprefix(negative), False
    return sentence, True


@cache
def named(sentence: str) -> str:
    """What a rule would have to give for a sentence to become true: a tag, or "item is MARK"."""
    positive, _ = without_not(sentence)
    return positive.removeprefix("some ")


def order_of_gifts(rules: list[Table]) -> dict[str, int]:
    """Everything rules give -> after how many finished rounds it can be told. Passes until nothing moves."""
    order = {words(gift): 0 for rule in rules for gift in rule.get("gives", ())}
    for _ in range(len(order) + 1):
        moved = False
        for rule in rules:
            for gift in rule.get("gives", ()):
                for sentence in map(words, rule["when"]):
                    if named(sentence) in order:
                        least = order[named(sentence)] + (0 if without_not(sentence)[1] else 1)
                        if order[words(gift)] < least:
                            order[words(gift)] = least
                            moved = True
        if not moved:
            return order
    raise AssertionError("the rules deny themselves in a circle")


def rules_for(plan: Table, class_id: str, lesson: str, day: Any) -> list[Table]:
    """The rules that are on for a class, a lesson and a date."""

    def is_off(rule: Table) -> bool:
        return any(
            off["rule"] == rule["id"]
            and off.get("class_id", "") in ("", class_id)
            and off.get("lesson", "") in ("", lesson)
            and ("until" not in off or day <= off["until"])
            for off in plan["off"]
        )

    return [rule for rule in plan["rules"] if rule.get("on", True) and not is_off(rule)]


def apply_rules(plan: Table, rules: list[Table], facts: Facts) -> list[Effect]:
    """What every rule does that applies, in their order.

    What a rule brings along is a supply of the visit too, and other rules may speak of it: so once more with it, until
    the same comes along as before. Where that goes round for ever, what came along once stays.
    """
    rules = not_ruled_out(plan, rules, facts)
    items, seen = set(facts["listed"]), []
    for _ in range(ROUNDS):
        effects = list(effects_with(plan, rules, facts, items))
        again = set(facts["listed"]) | {each for effect in effects for each in brought_by(plan, *effect)}
        if again == items:
            return effects
        if items in seen:
            again |= items
            if again == items:
                return effects
        seen.append(items)
        items = again
    raise AssertionError("the rules bring more and more along")


def not_ruled_out(plan: Table, rules: list[Table], facts: Facts) -> list[Table]:
    """Without those that ask for something of the visit which is not so, whatever other rules give and bring along.

    ``open`` is what a rule asks for besides: the rest is so in any case.
    """
    listed: dict[str, set[str]] = facts["marks listed"]
    nothing: Found = set()
    return [
        rule
        for rule, settled in in_two_parts(plan, rules)
        if all(is_so(each, "", facts, listed, nothing) for each in settled)
    ]


def in_two_parts(plan: Table, rules: list[Table]) -> list[tuple[Table, list[str]]]:
    """Each rule with what it asks for that other rules can make so, and apart from it the rest.

    Found once for the rules that are on together.
    """
    known: dict[tuple[str, ...], list[tuple[Table, list[str]]]] = plan.setdefault("rules in two parts", {})
    on = tuple(rule["id"] for rule in rules)
    if on not in known:
        gifts = {words(gift) for rule in rules for gift in rule.get("gives", ())}
        known[on] = []
        for rule in rules:
            asked = [words(each) for each in rule["when"]]
            still_open = [each for each in asked if named(each) in gifts or speaks_of_items(each)]
            known[on].append(({**rule, "open": still_open}, [each for each in asked if each not in still_open]))
    return known[on]


@cache
def speaks_of_items(sentence: str) -> bool:
    return "item" in sentence.split()


def brought_by(plan: Table, rule: Table, kind: str, item: str, action: Table) -> Iterator[str]:
    if kind in ("add", "replace"):
        yield action["supply"]
    if kind == "forbid":
        instead = action.get("instead") or plan["supplies"].get(item, {}).get("instead")
        if instead:
            yield instead


def effects_with(plan: Table, rules: list[Table], facts: Facts, items: set[str]) -> Iterator[Effect]:
    marks = {item: marks_of(plan, item) for item in items}
    found = everything_given(rules, facts, marks)
    for rule in rules:
        if not any(rule.get(kind) for kind in KINDS):
            continue
        bound = sorted(each for each in matching(rule, facts, marks, found))
        for kind in KINDS:
            for action in rule.get(kind, ()):
                of_item = kind == "forbid" and action.get("what", "item") == "item"
                of_item = of_item or action.get("what") == "item" or "{item}" in str(action.get("what"))
                for item in bound if of_item else bound[:1]:
                    yield rule, kind, item, action


def everything_given(rules: list[Table], facts: Facts, marks: dict[str, set[str]]) -> Found:
    order = order_of_gifts(rules)
    found: Found = set()
    for turn in sorted(set(order.values())):
        changed = True
        while changed:
            changed = False
            for rule in rules:
                gifts = [words(gift) for gift in rule.get("gives", ()) if order[words(gift)] == turn]
                if not gifts:
                    continue
                for item in matching(rule, facts, marks, found):
                    for gift in gifts:
                        given = (gift, item if gift.startswith("item is ") else "")
                        if given not in found:
                            found.add(given)
                            changed = True
    return found


def matching(rule: Table, facts: Facts, marks: dict[str, set[str]], found: Found) -> list[str]:
    """The supplies for which all a rule asks is so; [""] where it speaks of none and all is so."""
    asked: list[str] = rule["open"]
    if not asked:
        return [""]
    of_items = [each for each in asked if each.startswith(("item is ", "avoid item"))]
    of_visit = [each for each in asked if each not in of_items]
    if not all(is_so(each, "", facts, marks, found) for each in of_visit):
        return []
    left = sorted(marks) if of_items else [""]
    for each in of_items:
        positive, wanted = without_not(each)
        if positive.startswith("item is "):
            mark = positive.removeprefix("item is ")
            left = [item for item in left if (mark in marks[item] or (positive, item) in found) == wanted]
        else:
            left = [item for item in left if is_so(each, item, facts, marks, found)]
    return left


def is_so(sentence: str, item: str, facts: Facts, marks: dict[str, set[str]], found: Found) -> bool:
    positive, wanted = without_not(sentence)
    return _is_so(positive, item, facts, marks, found) == wanted


def _is_so(sentence: str, item: str, facts: Facts, marks: dict[str, set[str]], found: Found) -> bool:
    if sentence in facts["tags"] or (sentence, "") in found:
        return True
    if sentence == "avoid item":
        return bool(marks[item] & set(facts["avoid"]))
    kind, _, rest = sentence.partition(" ")
    if sentence.startswith("item is "):
        return sentence.removeprefix("item is ") in marks[item] or (sentence, item) in found
    if sentence.startswith("some item is "):
        return any(_is_so(sentence.removeprefix("some "), each, facts, marks, found) for each in marks)
    if kind == "lists":
        return any(rest in held for held in facts["marks listed"].values())
    if kind == "need" and rest in facts["needs"]:
        return True
    if kind in ("class", "lesson") and rest == f"is {facts[kind]}":
        return True
    if kind == "avoid":
        return rest in facts["avoid"]
    compared = comparison(sentence)
    if compared:
        one, other = number_of(compared[1], facts), number_of(compared[3], facts)
        return one is not None and other is not None and HOLDS[compared[2]](one, other)
    return False


@cache
def comparison(sentence: str) -> re.Match[str] | None:
    return COMPARED.fullmatch(sentence)


@cache
def written(word: str) -> Fraction | None:
    """A number or a grade as it stands in a condition."""
    if word in GRADES:
        return Fraction(GRADES[word])
    return Fraction(word) if re.fullmatch(r"-?\d+([./]\d+)?", word) else None


def number_of(word: str, facts: Facts) -> Fraction | None:
    fixed = written(word)
    value: Fraction | None = facts["numbers"].get(word) if fixed is None else fixed
    return value


def quantity(action: Table, facts: Facts) -> int:
    """What a rule brings along or takes in place of something."""
    per = action.get("per", "class")
    numbers = facts["numbers"]
    if per.startswith("need "):
        count = facts["needs"].get(per.removeprefix("need "), 0)
    elif per == "piece":
        count = numbers.get("pieces", 0)
    else:
        pairs = ceil(Fraction(numbers["students"], 2))
        count = {"student": numbers["students"], "pair": pairs, "table": numbers["tables"]}.get(per, 1)
    amount = Fraction(count) * Fraction(action.get("count", 1)) + Fraction(action.get("plus", 0))
    return ceil(amount / Fraction(action.get("each_holds", 1)))
