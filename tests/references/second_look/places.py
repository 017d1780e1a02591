"""Where every class stands, what its children are owed, and how a day's reports move it on."""

from __future__ import annotations

from copy import deepcopy
from datetime import date

from tests.references.second_look.making_up import way_to_make_up
from tests.references.second_look.plan import Table

STEPS_AT_MOST = 3
"""After visits nobody told of: more parts than this are not packed."""


def places_at_the_start(plan: Table) -> dict[str, Table]:
    found = {}
    for class_id, class_ in plan["classes"].items():
        lesson = next_lesson(plan, class_["grade"], [])
        found[class_id] = {
            "lesson": lesson,
            "part": 1,
            "taught on": None,
            "again": False,
            "done": [],
            "untold": 0,
            "owed": [],
            "unfinished": [],
        }
    return found


def next_lesson(plan: Table, grade: str, done: list[str]) -> str:
    """The first lesson of its grade that a class has not done; then the filler, again and again."""
    left = [each for each in plan["teaching"].get(grade, []) if each not in done]
    return str(left[0]) if left else str(plan["habits"]["filler"])


def moved_on(plan: Table, class_id: str, place: Table, day: date) -> Table:
    """One part further."""
    after = {**deepcopy(place), "again": False}
    if place["part"] < len(plan["lessons"][place["lesson"]]["parts"]):
        return {**after, "part": place["part"] + 1, "taught on": day}
    done = [*place["done"], *([place["lesson"]] if place["lesson"] not in place["done"] else [])]
    lesson = next_lesson(plan, plan["classes"][class_id]["grade"], done)
    return {**after, "lesson": lesson, "part": 1, "taught on": None, "done": done}


def steps_of(plan: Table, class_id: str, place: Table, day: date) -> list[tuple[str, int]]:
    """The part that is next, and after untold visits those it may have come to instead."""
    steps: list[tuple[str, int]] = []
    for _ in range(min(place["untold"], STEPS_AT_MOST - 1) + 1):
        if place["lesson"] and (place["lesson"], place["part"]) not in steps:
            steps.append((place["lesson"], place["part"]))
            place = moved_on(plan, class_id, place, day)
    return steps


# ------------------------------------------------------------------------------------------------- what was told


def after_report(plan: Table, place: Table, visit: Table, told: Table, day: date) -> Table:
    """Where a class stands after a visit of which ``told`` says what became of it.

    ``told``: outcome, not_done, reached, absent (numbers), count, known, given (of the catch-up kit; None: not said).
    """
    class_id = visit["class"]
    after = deepcopy(place)
    outcome = told["outcome"]
    taught = outcome not in ("not taught", "unknown") and bool(visit["instead"] or place["lesson"])
    before = after["owed"]
    if told["given"]:
        held = [way_to_make_up(plan, visit, one["lesson"], one["part"]) == "held" for one in before]
        kept = [one if waits else still_owed(one, told) for one, waits in zip(before, held, strict=True)]
        before = [each for each in kept if each]
    if taught:
        before = [each for each in before if not each["unknown"]]
        after["unfinished"] = []
    after["owed"] = before
    if visit["instead"] or not place["lesson"]:
        return after
    if outcome == "unknown":
        after["untold"] += 1  # until somebody tells of that visit: what comes after it does not tell
        return owe(plan, after, place["lesson"], place["part"], told)
    if outcome == "not taught":
        return after
    if outcome == "about half":
        return {**after, "again": True}  # everybody has the part again: nobody is owed it
    last = place["part"]
    if outcome == "went further":
        parts = len(plan["lessons"][place["lesson"]]["parts"])
        last = min(max(told["reached"] or last, last), parts)
    for part in range(place["part"], last + 1):
        after = owe(plan, after, place["lesson"], part, told)
    if outcome == "done except":
        entry = {"lesson": place["lesson"], "part": place["part"], "count": told["not_done"]}
        after["unfinished"] = [entry] if told["not_done"] else []
    for _ in range(place["part"], last + 1):
        after = moved_on(plan, class_id, after, day)
    return after


def owe(plan: Table, place: Table, lesson: str, part: int, told: Table) -> Table:
    """Those absent are owed the part, once: where it was taught twice, with those who missed it the first time."""
    need_not = plan["lessons"][lesson]["parts"][part - 1].get("catch_up") == "none"
    if need_not or (told["known"] and not told["absent"] and not told["count"]):
        return place
    new = {
        "lesson": lesson,
        "part": part,
        "numbers": sorted(told["absent"]),
        "count": told["count"],
        "unknown": not told["known"],
    }
    for each in place["owed"]:
        if (each["lesson"], each["part"]) == (lesson, part):
            each["numbers"] = sorted({*each["numbers"], *new["numbers"]})
            each["count"] = max(each["count"], new["count"])
            each["unknown"] = (each["unknown"] or new["unknown"]) and not each["numbers"] and not each["count"]
            return place
    place["owed"].append(new)
    return place


def still_owed(owed: Table, told: Table) -> Table | None:
    """What is owed still after the kit was handed out to those who came: the most it can be."""
    same = sorted(set(owed["numbers"]) & set(told["absent"]))
    listed_and_maybe_here = len(owed["numbers"]) - len(same)
    absent_by_number = len(set(told["absent"]) - set(owed["numbers"]))
    by_number = min(absent_by_number, owed["count"])
    by_count = min(told["count"], listed_and_maybe_here + owed["count"] - by_number)
    if not same and not by_number + by_count:
        return None
    return {**owed, "numbers": same, "count": by_number + by_count}
