"""What one visit needs: what its part lists, what rules bring along, replace, raise and forbid."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

from tests.references.second_look.plan import Table, is_about, is_young, items_meant_for, marks_of
from tests.references.second_look.quantities import units
from tests.references.second_look.rules import Effect, apply_rules, quantity, rules_for
from tests.references.second_look.visits import effects_of, facts_of

Need = Table
"""supply, container, amount, due (what a spare is counted on), each (what one child, or one pair, gets of it),
once (lesson -> what all its visits have together),
spares (what rules ask for at least), own spare (what a rule
says in place of the usual one), critical, adapted (taken from the ordinary ones for a need), stays (in the work of
the children), blocked (forbidden) and what to use instead."""


def container_of(plan: Table, supply: str, grade: str, lesson: str, into: str = "") -> str:
    """Where a supply rides."""
    if into:
        return f"box-{grade}" if into == "box" else into
    for kit in plan["lessons"][lesson].get("kits", ()) if lesson else ():
        if supply in plan["kits"].get(kit, {}).get("holds", {}):
            return str(kit)
    return "cart" if supply in plan["on the cart"] else f"box-{grade}"


def a_need(supply: str, container: str, **more: Any) -> Need:
    blank: Need = {"supply": supply, "container": container, "amount": Fraction(0), "due": Fraction(0), "once": {}}
    blank |= {"spares": [], "critical": False, "adapted": False, "stays": False}
    return {**blank, "into": "", "own spare": None, "each": Fraction(0), "blocked": False, "instead": "", **more}


def whole(need: Need) -> Fraction:
    total: Fraction = need["amount"]
    return total + sum(need["once"].values(), Fraction(0))


def needs_of(plan: Table, visit: Table, step: tuple[str, int], day: Any) -> list[Need]:
    """Of one visit with one part. What is forbidden is marked and stays; what to use instead is there beside it."""
    needs = listed_needs(plan, visit, step)
    facts = facts_of(plan, visit, step, day)
    effects = effects_of(plan, visit, step, day)
    for _, kind, _, action in effects:
        if kind == "add":
            bring(plan, visit, step, needs, action, quantity(action, facts))
    for _, kind, item, action in effects:
        if kind == "replace":
            replace(plan, visit, step, needs, item, action, quantity(action, facts))
    for _, kind, item, action in effects:
        if kind == "raises":
            raise_(plan, needs, item, action)
    forbid_all(plan, visit, step, needs, effects)
    for need in needs:
        if need["supply"] == "class-folder":
            need["supply"] = f"folder {visit['class']}"
        if is_about(plan["classes"][visit["class"]]):  # of whatever the class gets, if a spare is counted at all
            need["spares"].append({**plan["habits"]["spare_about"], "children": visit["students"]})
    return [need for need in needs if whole(need) or need["due"]]


def make_safe(plan: Table, visit: Table, step: tuple[str, int], needs: list[Need], day: Any) -> list[Need]:
    """What is packed beside the part, of another part: nothing that rules replace altogether or forbid."""
    listed = {need["supply"] for need in needs}
    facts = {**facts_of(plan, visit, step, day), "listed": listed}
    facts["marks listed"] = {supply: marks_of(plan, supply) for supply in listed}
    effects = apply_rules(plan, rules_for(plan, visit["class"], step[0], day), facts)
    for _, kind, item, action in effects:
        if kind == "replace" and action.get("everything"):
            replace(plan, visit, step, needs, item, action, 0)
    forbid_all(plan, visit, step, needs, effects)
    return needs


def listed_needs(plan: Table, visit: Table, step: tuple[str, int]) -> list[Need]:
    """The items of the part, and the extension for those done early. What is listed twice adds up."""
    lesson = plan["lessons"][step[0]]
    part = lesson["parts"][step[1] - 1]
    class_ = plan["classes"][visit["class"]]
    habits = plan["habits"]
    needs: list[Need] = []
    here = class_["id"]
    for item in items_meant_for(part.get("items", ()), here):
        supply, per = item["supply"], item.get("per", "student")
        earlier = [
            each for other in lesson["parts"][: step[1] - 1] for each in items_meant_for(other.get("items", ()), here)
        ]
        if item.get("stays_in_work") and any(
            each["supply"] == supply and each.get("stays_in_work") for each in earlier
        ):
            continue
        amount = Fraction(units(per, visit["students"], visit["tables"])) * Fraction(item.get("count", 1))
        demo = item.get("demo", False)
        if supply in class_.get("has", ()) and not demo:
            amount = Fraction(ceil(amount * Fraction(habits["back_up_share"])))
        into = item.get("into", "")
        need = a_need(supply, container_of(plan, supply, visit["grade"], step[0], into), into=into)
        if per == "lesson":
            need["once"] = {step[0]: amount}
        else:
            need["amount"] = amount
        if per in ("student", "pair") and not demo:
            need |= {"due": amount, "each": Fraction(item.get("count", 1))}
        need |= {"critical": item.get("critical", False), "stays": item.get("stays_in_work", False)}
        add_up(needs, need)
    young = is_young(visit["grade"])
    share = Fraction(habits["early_share_young" if young else "early_share"])
    for item in items_meant_for(lesson.get("extension", ()), here):
        amount = ceil(share * visit["students"]) * Fraction(item.get("count", 1))
        where = container_of(plan, item["supply"], visit["grade"], step[0], item.get("into", ""))
        add_up(needs, a_need(item["supply"], where, amount=amount))
    return needs


def add_up(needs: list[Need], more: Need) -> None:
    for need in needs:
        if need["supply"] == more["supply"]:
            if more["into"] and not need["into"]:  # of one supply all is in one place: the first that an item names
                need |= {"into": more["into"], "container": more["container"]}
            need["amount"] += more["amount"]
            need["due"] += more["due"]
            need["each"] += more["each"]
            need["once"] = {
                lesson: need["once"].get(lesson, Fraction(0)) + more["once"].get(lesson, Fraction(0))
                for lesson in {**need["once"], **more["once"]}
            }
            need["spares"] += more["spares"]
            need["own spare"] = need["own spare"] or more["own spare"]
            need["critical"] = need["critical"] or more["critical"]
            need["stays"] = need["stays"] or more["stays"]
            need["adapted"] = need["adapted"] or more["adapted"]
            return
    needs.append(more)


def bring(plan: Table, visit: Table, step: tuple[str, int], needs: list[Need], action: Table, amount: int) -> None:
    """What a rule brings along. The largest of what rules bring and what the part lists counts."""
    if not amount:
        return
    supply = action["supply"]
    where = container_of(plan, supply, visit["grade"], step[0], action.get("into", ""))
    same = [need for need in needs if need["supply"] == supply]
    need = same[0] if same else a_need(supply, where)
    if not same:
        needs.append(need)
    if amount > whole(need):
        shared = action.get("per") == "lesson"
        need["amount"] = Fraction(0 if shared else amount)
        need["once"] = {step[0]: Fraction(amount)} if shared else {}
    spare = action.get("spare", "none")
    if spare != "none":
        need["due"] = max(need["due"], Fraction(amount))
    if spare not in ("none", "usual"):
        need["own spare"] = spare
    need["critical"] = need["critical"] or action.get("critical", False)


def is_meant(plan: Table, need: Need, what: str, item: str) -> bool:
    if what == "item":
        return bool(need["supply"] == item)
    return what in marks_of(plan, need["supply"])


def replace(
    plan: Table, visit: Table, step: tuple[str, int], needs: list[Need], item: str, action: Table, amount: int
) -> None:
    """Adapted things take from the ordinary ones in turn; the total stays."""
    left = Fraction(amount)
    supply = action["supply"]
    where = container_of(plan, supply, visit["grade"], step[0])
    for need in list(needs):
        if need["adapted"] or need["supply"] == supply or not is_meant(plan, need, action["what"], item):
            continue
        critical = action.get("critical", False)
        if action.get("everything"):
            moved = a_need(supply, where, amount=need["amount"], due=need["due"], once=dict(need["once"]))
            moved |= {"each": need["each"], "own spare": need["own spare"]}
            moved |= {"spares": list(need["spares"]), "critical": critical or need["critical"], "stays": need["stays"]}
            needs.remove(need)
            add_up(needs, moved)
            continue
        taken = min(left, whole(need))
        if taken > 0:
            left -= taken
            take_from(need, taken)
            if not whole(need) and not need["due"]:
                needs.remove(need)
            add_up(needs, a_need(supply, where, amount=taken, critical=critical, adapted=True))


def take_from(need: Need, taken: Fraction) -> None:
    """From what the class has for itself first, then from what all the classes of a lesson have together."""
    own = min(taken, need["amount"])
    need["amount"] -= own
    for lesson in list(need["once"]):
        shared = min(taken - own, need["once"][lesson])
        need["once"][lesson] -= shared
        own += shared


def raise_(plan: Table, needs: list[Need], item: str, action: Table) -> None:
    times, sets = Fraction(action.get("times", 1)), Fraction(action.get("sets", 0))
    for need in needs:
        is_meant_for_each = action["what"] == "for each child" and need["each"] and not need["adapted"]
        if not is_meant_for_each and not is_meant(plan, need, action["what"], item):
            continue
        need["amount"] *= times
        need["due"] *= times
        need["once"] = {key: amount * times for key, amount in need["once"].items()}
        need["amount"] += sets * need["each"]
        if "spare" in action:
            need["spares"].append(action["spare"])


def forbid_all(plan: Table, visit: Table, step: tuple[str, int], needs: list[Need], effects: list[Effect]) -> None:
    """Once more, as long as what comes in the place of something is forbidden itself."""
    while True:
        before = [(need["supply"], need["blocked"]) for need in needs]
        for _, kind, item, action in effects:
            if kind == "forbid":
                forbid(plan, visit, step, needs, item, action)
        if before == [(need["supply"], need["blocked"]) for need in needs]:
            return


def forbid(plan: Table, visit: Table, step: tuple[str, int], needs: list[Need], item: str, action: Table) -> None:
    what = action.get("what", "item")
    for need in list(needs):
        if not is_meant(plan, need, what, item):
            continue
        instead = action.get("instead") or plan["supplies"][need["supply"]].get("instead", "")
        if need["instead"]:
            continue  # what comes in its place is there already
        need |= {"blocked": True, "instead": instead}
        named_in_turn = any(each["supply"] == instead and each["instead"] for each in needs)
        if instead and not named_in_turn:  # two that name each other, or one itself, bring no more of it
            use_instead(plan, visit, step, needs, need, instead)


def use_instead(plan: Table, visit: Table, step: tuple[str, int], needs: list[Need], need: Need, instead: str) -> None:
    where = container_of(plan, instead, visit["grade"], step[0])
    other = a_need(instead, where, amount=need["amount"], due=need["due"], once=dict(need["once"]))
    other |= {
        "spares": list(need["spares"]),
        "own spare": need["own spare"],
        "critical": need["critical"],
        "stays": need["stays"],
    }
    add_up(needs, other)
