"""What one class must not meet is not in a container that it shares, for whichever class it would be."""

from __future__ import annotations

from typing import Any

from tests.references.second_look.needs import Need, a_need
from tests.references.second_look.plan import Table, marks_of
from tests.references.second_look.rules import apply_rules, rules_for, words
from tests.references.second_look.visits import facts_of

Needed = list[tuple[Table, list[Need]]]
ROUNDS = 5


def share_what_is_forbidden(plan: Table, needed: Needed, day: Any) -> None:
    """Where one class must not meet a supply, those who share the container use something else, if it is known."""
    move_to_what_is_used_instead(needed)
    for _ in range(ROUNDS):
        more = [(visit, need) for visit in visits_of(needed) for need in met_by_sharing(plan, visit, needed, day)]
        if not more:
            return
        for visit, need in more:
            next(needs for each, needs in needed if each["key"] == visit["key"]).append(need)
        move_to_what_is_used_instead(needed)
        drop_what_nobody_needs(needed)


def visits_of(needed: Needed) -> list[Table]:
    return list({visit["key"]: visit for visit, _ in needed}.values())


def move_to_what_is_used_instead(needed: Needed) -> None:
    every = [need for _, needs in needed for need in needs]
    instead = {place(need): need["instead"] for need in every if need["blocked"] and need["instead"]}
    for need in every:
        other = instead.get(place(need))
        if other and not need["blocked"]:
            need |= {"supply": other, "shared": True}


def met_by_sharing(plan: Table, visit: Table, needed: Needed, day: Any) -> list[Need]:
    """Only what rests on a need or on what is avoided: a grade's own limits are for that grade."""
    mine = [need for each, needs in needed if each["key"] == visit["key"] for need in needs]
    others = [need for each, needs in needed if each["key"] != visit["key"] for need in needs]
    found: list[Need] = []
    for container in dict.fromkeys(["cart", *(need["container"] for need in mine)]) if visit["steps"] else ():
        here = [need for need in mine if need["container"] == container]
        met = {need["supply"] for need in others if need["container"] == container and not need["blocked"]}
        met |= {need["supply"] for need in here if need.get("shared") and not need["blocked"]}
        met -= {need["supply"] for need in here if need["blocked"] or not need.get("shared")}
        met &= set(plan["supplies"])
        if not met:
            continue
        step = visit["steps"][0]
        facts = {**facts_of(plan, visit, step, day), "listed": met}
        facts["marks listed"] = {supply: marks_of(plan, supply) for supply in met}
        quiet = plan["private rules"] = plan.get("private rules") or private_rules(plan["rules"])
        for rule, kind, item, action in apply_rules(plan, rules_for(plan, visit["class"], step[0], day), facts):
            if kind != "forbid" or rule["id"] not in quiet:
                continue
            what = action.get("what", "item")
            for supply in sorted(met):
                if supply == (item or what) or (not item and what in marks_of(plan, supply)):
                    instead = action.get("instead") or plan["supplies"][supply].get("instead", "")
                    found.append({**a_need(supply, container), "blocked": True, "instead": instead})
    return found


def drop_what_nobody_needs(needed: Needed) -> None:
    asked = {place(need) for _, needs in needed for need in needs if need["amount"] or need["due"] or need["once"]}
    for _, needs in needed:
        needs[:] = [need for need in needs if place(need) in asked or not need["blocked"]]


def place(need: Need) -> tuple[str, str]:
    return need["container"], need["supply"]


def private_rules(rules: list[Table]) -> set[str]:
    """Those that say so, those that ask for a need or for what is avoided, and those that ask for what these give.

    Found once for a plan: it depends on nothing else.
    """

    def asks(rule: Table, of: set[str]) -> bool:
        sentences = [words(each).removeprefix("not ") for each in rule["when"]]
        return any(each.split()[0] in ("need", "avoid") or each in of for each in sentences)

    found: set[str] = set()
    while True:
        given = {words(gift) for rule in rules if rule["id"] in found for gift in rule.get("gives", ())}
        more = {rule["id"] for rule in rules if rule.get("private") or asks(rule, given)}
        if more <= found:
            return found
        found |= more
