"""The visits of a date and the facts of each that rules may ask for."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.references.second_look.calendar import may_come_from, name_of, planned_days
from tests.references.second_look.places import moved_on, steps_of
from tests.references.second_look.plan import Table, grade_number, students_of
from tests.references.second_look.rules import apply_rules, rules_for

Record = Table
"""What a teacher wrote down about the calendar so far: "lost" days, "announced" days."""


def minute(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


def visits_on(plan: Table, places: dict[str, Table], day: date, change: Table, record: Record) -> list[Table]:
    """In time order. ``change``: bells, away (classes), lessons (key of a visit -> lesson)."""
    if day not in planned_days(plan) or day in record["lost"]:
        return []
    bells = {each["id"]: each for each in plan["school"]["bells"]}
    schedule = bells.get(change.get("bells", ""), plan["school"]["bells"][0])
    periods = sorted(schedule["periods"], key=lambda period: minute(period["start"]))
    timetable = plan["timetable"].get(name_of(plan, day, record["lost"], record["announced"]), {})
    coming = [
        (period, timetable[period["name"]])
        for period in periods
        if period["name"] in timetable and timetable[period["name"]] not in change.get("away", ())
    ]
    now = dict(places)
    found = []
    for n, (period, class_id) in enumerate(coming):
        class_ = plan["classes"][class_id]
        visit = {
            "key": f"{period['name']} {class_id}",
            "class": class_id,
            "grade": class_["grade"],
            "room": class_["room"],
            "students": students_of(class_),
            "tables": class_.get("tables", 6),
            "minutes": minute(period["end"]) - minute(period["start"]),
            "first": n == 0,
            "last": n == len(coming) - 1,
            "place": now[class_id],
            "instead": "",
            "steps": steps_of(plan, class_id, now[class_id], day),
        }
        chosen = change.get("lessons", {}).get(visit["key"])
        if chosen:
            visit |= {"instead": "chosen", "steps": [(chosen, 1)]}
        elif too_early(plan, visit, day, record) and plan["habits"]["filler"]:
            visit |= {"instead": "too early", "steps": [(plan["habits"]["filler"], 1)]}
        elif visit["steps"]:
            now[class_id] = moved_on(plan, class_id, now[class_id], day)
        found.append(visit)
    return found


def too_early(plan: Table, visit: Table, day: date, record: Record) -> bool:
    """Whether what the class did last must dry or be fired still. Where it may be at either of two parts, nobody knows."""
    if len(visit["steps"]) != 1 or visit["steps"][0][0] == plan["habits"]["filler"]:
        return False
    from_day = not_before(plan, visit, visit["place"], day, record)
    return from_day is not None and day < from_day


def not_before(plan: Table, visit: Table, place: Table, day: date, record: Record) -> date | None:
    if place["taught on"] is None or place["part"] < 2 or place["lesson"] not in plan["lessons"]:
        return None
    step = (place["lesson"], place["part"] - 1)
    part = plan["lessons"][place["lesson"]]["parts"][place["part"] - 2]
    wait = part.get("wait", {})
    asked = [(wait.get("days", 0), wait.get("then_school_days", 0))]
    rules = rules_for(plan, visit["class"], place["lesson"], day)
    for _, kind, _, action in apply_rules(plan, rules, facts_of(plan, visit, step)):
        if kind == "next_part":
            asked.append((action.get("not_before_days", 0), action.get("not_before_school_days", 0)))
    dates = [may_come_from(plan, place["taught on"], *each, record["lost"]) for each in asked]
    return max((each for each in dates if each is not None), default=None)


def facts_of(plan: Table, visit: Table, step: tuple[str, int]) -> Table:
    """What is so of one visit with one part, as far as any rule that makes a line asks for it."""
    lesson = plan["lessons"][step[0]]
    part = lesson["parts"][step[1] - 1]
    class_ = plan["classes"][visit["class"]]
    room = plan["rooms"].get(visit["room"], {})
    owed = visit["place"]["owed"]
    tags: set[str] = set(part.get("tags", ()))
    so: dict[str, Any] = {
        "sink": room.get("sink") is True,
        "no sink": room.get("sink") is False,
        "carpet": room.get("carpet") is True,
        "projector": room.get("projector") is True,
        "no projector": room.get("projector") is False,
        "single desks": visit["tables"] >= visit["students"],
        "first part": step[1] == 1,
        "last part": step[1] == len(lesson["parts"]),
        "several parts": len(lesson["parts"]) > 1,
        "first visit": visit["first"],
        "last visit": visit["last"],
        "short period": visit["minutes"] < part.get("least_minutes", 35),
        "one adult": class_.get("adults", 1) == 1,
        "owed": any(each["numbers"] or each["count"] for each in owed),
        "absences unknown": any(each["unknown"] for each in owed),
    }
    return {
        "tags": tags | {tag for tag in so if so[tag]},
        "numbers": {
            "grade": grade_number(visit["grade"]),
            "students": visit["students"],
            "tables": visit["tables"],
            "adults": class_.get("adults", 1),
            "part": step[1],
            "parts": len(lesson["parts"]),
            "minutes": visit["minutes"],
            "least_minutes": part.get("least_minutes", 35),
            "pieces": visit["students"] * part.get("pieces_each", 1),
            "drying_places": room.get("drying_places"),
        },
        "needs": {each["need"]: each.get("count", 1) for each in class_.get("needs", ())},
        "avoid": class_.get("avoid", ()),
        "listed": {item["supply"] for item in part.get("items", ())},
    }
