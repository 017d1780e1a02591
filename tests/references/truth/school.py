"""A small school drawn by chance: two grades, three classes, what is used up, what comes back, what stays in work.

The built-in rules that would speak here are switched off, so that a part needs what it lists and no more.
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any

from tests.schools import a_class, a_kit, a_lesson, a_part, a_period, a_room, a_supply, an_item, write_plan

Table = dict[str, Any]
RULES_OFF = (
    "folder-from-second-part",
    "folder-for-new-work",
    "labels-for-new-work",
    "labels-for-finished-work",
    "substitute-box",
    "substitute-without-sharps",
)
"""The built-in rules that would add to, or forbid, what these lessons list."""
FILLER = "free-drawing"
ATTENDANCE, CERTAINTY, EARLY_SHARE, EARLY_SHARE_YOUNG = "0.94", "0.95", "0.25", "0.4"
SPARES = {"paper": (2, 10), "young paper": (3, 15), "material": (2, 10), "tool": (1, 5)}
"""At least, and in percent: those the program comes with; common practice, no source."""
LOST_DAY = ("slides", "fixed", "announced")


def draw_school(seed: int) -> Table:
    """The plan as tables, as they stand in its files."""
    chance = Random(seed)
    first = date(2026, 8, 31)
    letters = list("ABCDE"[: chance.randint(3, 5)])
    classes = [
        a_class(name, room=room, students=chance.randint(15, 27), tables=chance.randint(4, 7))
        for name, room in (("1-P", "9"), ("3-B", "12"), ("3-K", "14"))
    ]
    lessons = [draw_lesson(chance, f"lesson-{n}") for n in range(1, 15)]
    ids = [each["id"] for each in lessons]
    return {
        "school": {
            "name": f"School {seed}",
            "first_day": first,
            "last_day": date(2027, 6, 11),
            "bells": [
                {
                    "id": "regular",
                    "periods": [
                        a_period(name, f"{at}:00", f"{at}:45") for name, at in (("P1", 8), ("P2", 9), ("P3", 13))
                    ],
                }
            ],
            "days_off": [{"first": date(2026, 9, 7)}, {"first": date(2026, 12, 24), "last": date(2027, 1, 1)}],
            "rotation": {"kind": "cycle", "days": letters, "lost_day": LOST_DAY[seed % 3]},
            "rooms": [a_room(each) for each in ("9", "12", "14")],
            "cart": {"standing": {"snips": 30}},
            "habits": {"filler": FILLER},
        },
        "classes": classes,
        "timetable": draw_timetable(chance, letters, [each["id"] for each in classes]),
        "teaching": {grade: chance.sample(ids, len(ids)) for grade in ("1", "3")},
        "supplies": draw_supplies(chance),
        "kits": [a_kit("sewing", {"thread-needle": 30}), a_kit("inks", {"ink": 12, "paste-pot": 30})],
        "boxes": [{"grade": "3", "standing": {"pencil": 28}}],
        "lessons": [*lessons, a_lesson(FILLER, [a_part("draw", [an_item("white"), an_item("pencil")])])],
        "rules": {"off": [{"rule": each, "reason": "the arithmetic is to be short"} for each in RULES_OFF]},
    }


def write_school(folder: Path, school: Table) -> Path:
    return write_plan(folder, **school)


def draw_supplies(chance: Random) -> list[Table]:
    return [
        a_supply("white", kind="paper", on_hand=chance.randint(500, 3000), pack=50),
        a_supply("strip", kind="paper", on_hand=chance.randint(500, 4000), pack=100),
        a_supply("corner", kind="sheet", on_hand=chance.randint(300, 900), pack=20),
        a_supply("ink", on_hand=chance.randint(40, 90), pack=4),
        a_supply("lump", on_hand=chance.randint(200, 900), pack=25),
        a_supply("thread", pack=10),
        a_supply("tape", on_hand=chance.choice(["plenty", "out"]), pack=6),
        a_supply("paste-pot", returns=True, on_hand=40),
        a_supply("pencil", returns=True, on_hand=60),
        a_supply("snips", kind="tool", sharp=True, on_hand=34),
        a_supply("thread-needle", kind="tool", sharp=True, on_hand=36),
        a_supply("hoop", kind="tool", on_hand=70),
        a_supply("bin-sheet", kind="paper", on_hand=400, pack=100),
    ]


def draw_timetable(chance: Random, letters: list[str], classes: list[str]) -> dict[str, dict[str, str]]:
    """Each class once a day at most, and not always in the same period."""
    found: dict[str, dict[str, str]] = {}
    for letter in letters:
        coming = chance.sample(classes, chance.randint(1, 3))
        periods = sorted(chance.sample(["P1", "P2", "P3"], len(coming)))
        found[letter] = dict(zip(periods, coming, strict=True))
    return found


def draw_item(chance: Random, supply: str) -> Table:
    if supply in ("ink", "tape"):
        return an_item(supply, chance.choice([1, 2]), per=chance.choice(["class", "table"]))
    if supply in ("snips", "thread"):
        return an_item(supply, per="pair")
    if supply == "hoop":
        return an_item(supply, stays_in_work=True)
    return an_item(supply, {"strip": 3, "corner": 0.5}.get(supply, 1))


SUPPLIES = (
    "white",
    "strip",
    "corner",
    "ink",
    "lump",
    "thread",
    "tape",
    "paste-pot",
    "pencil",
    "snips",
    "thread-needle",
)


def draw_lesson(chance: Random, name: str) -> Table:
    has_hoops = chance.random() < 0.3
    parts = []
    for n in range(1, chance.randint(1, 4) + 1):
        items = [draw_item(chance, supply) for supply in chance.sample(SUPPLIES, chance.randint(1, 5))]
        if has_hoops:
            items.append(draw_item(chance, "hoop"))
        more: Table = {"tags": ["printing"]} if chance.random() < 0.2 else {}
        if chance.random() < 0.6:
            more["catch_up"] = chance.choice(["full", "short", "none"])
        if more.get("catch_up") == "short" or chance.random() < 0.3:
            supplies = chance.sample(SUPPLIES, chance.randint(1, 2))
            more["short_version"] = [draw_item(chance, supply) for supply in supplies]
        parts.append(a_part(f"part {n}", items, **more))
    extension = [an_item("bin-sheet", chance.choice([1, 2]))] if chance.random() < 0.3 else []
    kits = ["sewing", "inks"] if chance.random() < 0.5 else ["sewing"]
    return a_lesson(name, parts, kits=kits, extension=extension)


def planned_days(school: Table) -> list[date]:
    """Monday to Friday of the year, days off left out."""
    of_school = school["school"]
    off: set[date] = set()
    for each in of_school["days_off"]:
        length = (each.get("last", each["first"]) - each["first"]).days
        off |= {each["first"] + timedelta(n) for n in range(length + 1)}
    span = (of_school["last_day"] - of_school["first_day"]).days
    days = (of_school["first_day"] + timedelta(n) for n in range(span + 1))
    return [day for day in days if day.weekday() < 5 and day not in off]


def by_id(entries: list[Table], ident: str) -> Table:
    return next(each for each in entries if each["id"] == ident)
