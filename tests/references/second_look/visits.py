"""The visits of a date and the facts of each that rules may ask for."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.references.second_look.calendar import may_come_from, name_of, planned_days
from tests.references.second_look.places import moved_on, steps_of
from tests.references.second_look.plan import Table, grade_number, items_meant_for, marks_of, students_of
from tests.references.second_look.rules import Effect, apply_rules, rules_for

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
        start, end = minute(period["start"]), minute(period["end"])
        visit = {
            "start": start,
            "end": end,
            "key": f"{period['name']} {class_id}",
            "class": class_id,
            "grade": class_["grade"],
            "room": class_["room"],
            "students": students_of(class_),
            "tables": class_.get("tables", 6),
            "minutes": end - start,
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
    for before, visit, after in zip([None, *found], found, [*found[1:], None], strict=False):
        see_around(plan, before, visit, after)
    return found


def see_around(plan: Table, before: Table | None, visit: Table, after: Table | None) -> None:
    """Minutes before and after a visit, by way of the store, and kits that the next one needs as well."""
    came_from = before["room"] if before else "store"
    by_store = walk(plan, came_from, "store") + plan["habits"]["swap_minutes"] + walk(plan, "store", visit["room"])
    visit["swap before"] = by_store
    visit["gap before"] = visit["start"] - (before["end"] if before else minute(plan["habits"]["arrival"]))
    visit["gap after"] = (after["start"] if after else 24 * 60) - visit["end"]
    kits_after = {kit for step in (after["steps"] if after else ()) for kit in kits_of(plan, step)}
    visit["kits after"] = kits_after
    visit["effects"] = {}


def kits_of(plan: Table, step: tuple[str, int]) -> set[str]:
    return set(plan["lessons"][step[0]].get("kits", ()))


def walk(plan: Table, one: str, other: str) -> int:
    """Minutes; where nobody measured it, by way of the store."""
    if one == other:
        return 0
    known = plan["walks"].get(frozenset((one, other)))
    if known is not None:
        return int(known)
    wings = [plan["rooms"].get(place, {}).get("wing", "") for place in (one, other)]
    floors = [plan["rooms"].get(place, {}).get("upstairs", False) for place in (one, other)]
    if "store" in (one, other):
        return int(plan["habits"]["default_walk"]) + int(plan["habits"]["elevator_minutes"]) * any(floors)
    by_store = walk(plan, one, "store") + walk(plan, "store", other)
    if wings[0] and wings[0] == wings[1] and floors[0] == floors[1]:
        return min(int(plan["habits"]["neighbour_minutes"]), by_store)
    return by_store


def reset_of(plan: Table, kits: set[str]) -> int:
    return max((plan["kits"][kit].get("reset_minutes", 0) for kit in kits if kit in plan["kits"]), default=0)


def too_early(plan: Table, visit: Table, day: date, record: Record) -> bool:
    """Whether what the class did last must dry or be fired still. Of either of two parts nobody knows."""
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
    for _, kind, _, action in effects_of(plan, visit, step, day):
        if kind == "next_part":
            asked.append((action.get("not_before_days", 0), action.get("not_before_school_days", 0)))
    dates = [may_come_from(plan, place["taught on"], *each, record["lost"]) for each in asked]
    return max((each for each in dates if each is not None), default=None)


def effects_of(plan: Table, visit: Table, step: tuple[str, int], day: date) -> list[Effect]:
    """What the rules make of a visit with one part; found once for a visit."""
    kept: dict[tuple[str, int], list[Effect]] = visit.setdefault("effects", {})
    if step not in kept:
        rules = rules_for(plan, visit["class"], step[0], day)
        kept[step] = apply_rules(plan, rules, facts_of(plan, visit, step, day))
    return kept[step]


def facts_of(plan: Table, visit: Table, step: tuple[str, int], day: date) -> Table:
    """What is so of one visit with one part, as far as any rule that makes a line asks for it."""
    lesson = plan["lessons"][step[0]]
    part = lesson["parts"][step[1] - 1]
    class_ = plan["classes"][visit["class"]]
    room = plan["rooms"].get(visit["room"], {})
    owed = visit["place"]["owed"]
    pieces = visit["students"] * part.get("pieces_each", 1)
    shared = kits_of(plan, step) & visit.get("kits after", set())
    adults = class_.get("adults", 1)
    needs = {each["need"]: each.get("count", 1) for each in class_.get("needs", ())}
    listed = {item["supply"] for item in items_meant_for(part.get("items", ()), visit["class"])}
    tags: set[str] = set(part.get("tags", ()))
    so: dict[str, Any] = {
        "sink": room.get("sink") is True,
        "no sink": room.get("sink") is False,
        "carpet": room.get("carpet") is True,
        "hard floor": room.get("carpet") is False,
        "projector": room.get("projector") is True,
        "no projector": room.get("projector") is False,
        "single desks": visit["tables"] >= visit["students"] > 0,
        "first part": step[1] == 1,
        "last part": step[1] == len(lesson["parts"]),
        "several parts": len(lesson["parts"]) > 1,
        "first visit": visit["first"],
        "last visit": visit["last"],
        "short period": visit["minutes"] < part.get("least_minutes", 35),
        "one adult": adults <= 1,
        "no time to swap": not visit["first"] and visit.get("gap before", 0) < visit.get("swap before", 0),
        "kit shared next": bool(shared),
        "same kit next": bool(shared) and visit.get("gap after", 0) < reset_of(plan, shared),
        "rides on cart": "drying_places" in room and pieces > room["drying_places"],
        "owed": any(each["numbers"] or each["count"] for each in owed),
        "absences unknown": any(each["unknown"] for each in owed),
    }
    return {
        "tags": tags | {tag for tag in so if so[tag]},
        "numbers": {
            "grade": grade_number(visit["grade"]),
            "students": visit["students"],
            "tables": visit["tables"],
            "adults": adults,
            "part": step[1],
            "parts": len(lesson["parts"]),
            "minutes": visit["minutes"],
            "least_minutes": part.get("least_minutes", 35),
            "pieces": pieces,
            "drying_places": room.get("drying_places"),
            "gap_before": visit.get("gap before"),
            "gap_after": visit.get("gap after"),
            "swap_before": visit.get("swap before"),
            "reset": reset_of(plan, kits_of(plan, step)),
            "month": day.month,
            "english_learners": needs.get("english-learner", 0),
            "guests": 0,
        },
        "class": visit["class"],
        "lesson": step[0],
        "needs": needs,
        "avoid": class_.get("avoid", ()),
        "listed": listed,
        "marks listed": {supply: marks_of(plan, supply) for supply in listed},
    }
