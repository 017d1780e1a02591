"""Schools drawn by chance and written as plan files: odd ones on purpose, so that every rule meets every other.

The same seed gives the same school. Nothing about them is meant to be like a school one would find.
"""

from __future__ import annotations

from datetime import date
from itertools import combinations
from pathlib import Path
from random import Random
from typing import Any

from tests.schools import a_class, a_kit, a_lesson, a_part, a_period, a_room, a_supply, an_item, write_plan

Table = dict[str, Any]


def _each(text: str) -> tuple[str, ...]:
    return tuple(word.replace("_", " ") for word in text.split())


GRADES = ("PK", "K", "1", "2", "3", "4", "5", "6", "7")
TAGS = _each(
    """drawing painting watercolour tempera ink printing clay firing glaze plaster paste cutting gluing stitching
    weaving needles chalk wire skewers demo keeps_wet shared_scissors oil_pastel small_parts hot_tool colour_choice
    colour_matters"""
)
NEEDS = _each(
    """left-handed fine-motor low-vision colour-vision noise touch english-learner one-handed wheelchair
    behaviour-plan break-card mouthing asthma"""
)
AVOIDED = _each("latex nut egg milk wheat wool feather scented chalk")
MARKS = _each(
    """latex nut wheat wool chalk scented food-packing small-part needle permanent-marker pin hot-tool powder solvent
    blade relief-cutter glitter glue-bottle smock table-cover towel wipe newsprint brayer scissors adapted plastic"""
)
BUILT_IN = _each(
    """scissors scissors scissors scissors-blunt scissors-left pre-cut-set newsprint table-cover foam-plate
    glitter-glue brayer towel sponge smock"""
)
KINDS = ("paper", "paper", "material", "material", "tool", "tool", "sheet", "sample")
COUNTS = (1, 1, 1, 1, 2, 3, 0.5, 1.5, 0.25, 4)
PLAIN = "plain-thing"
"""What own rules name in place of what they forbid: nothing forbids it in turn."""
FIRST_DAY = date(2026, 8, 31)


def write_random_school(folder: Path, seed: int) -> Path:
    """A school of one seed as plan files in ``folder``."""
    chance = Random(seed)
    supplies = some_supplies(chance)
    names = [each["id"] for each in supplies]
    kits = [a_kit(f"kit-{n}", dict.fromkeys(chance.sample(names, 4), 20)) for n in range(chance.randint(1, 3))]
    grades = chance.sample(GRADES, chance.randint(2, 4))
    lessons = [a_random_lesson(chance, f"lesson-{n}", names, kits) for n in range(chance.randint(4, 9))]
    ids = [each["id"] for each in lessons]
    classes = some_classes(chance, grades, names)
    leave_out_for_some(Random(f"not for {seed}"), lessons, [each["id"] for each in classes])
    days = [f"D{n}" for n in range(1, chance.randint(2, 5))]
    in_weeks = chance.random() < 0.4
    periods = [f"P{n}" for n in range(1, 6)]
    places, walks = some_places(Random(f"places {seed}"))
    filler = chance.choice(["", *ids])
    return write_plan(
        folder,
        school={
            "name": f"School {seed}",
            "first_day": FIRST_DAY,
            "last_day": date(2026, 12, 11),
            "bells": some_bells(chance, periods),
            "days_off": [{"first": date(2026, 9, 7)}, {"first": date(2026, 9, 21), "last": date(2026, 9, 23)}],
            "rotation": {"kind": "weekdays"}
            if in_weeks
            else {"kind": "cycle", "days": days, "lost_day": chance.choice(["slides", "fixed", "announced"])},
            "rooms": [
                a_room(str(n), **{fact: chance.random() < 0.5 for fact in ROOM_FACTS if chance.random() < 0.8}, **place)
                for n, place in enumerate(places, 1)
            ],
            "walks": walks,
            "cart": {"standing": dict.fromkeys(chance.sample(["scissors", *names], 5), 30)},
            "habits": some_habits(chance, filler),
        },
        classes=classes,
        timetable=a_timetable(chance, WEEK if in_weeks else days, periods, [each["id"] for each in classes]),
        teaching={grade: chance.sample(ids, chance.randint(1, len(ids))) for grade in grades},
        supplies=supplies,
        kits=kits,
        lessons=lessons,
        rules=own_rules(chance, names, [each["id"] for each in classes], ids),
    )


WEEK = ("Mon", "Tue", "Wed", "Thu", "Fri")
ROOM_FACTS = ("sink", "carpet", "projector")


def some_places(chance: Random) -> tuple[list[Table], list[Table]]:
    """Wing and floor of five rooms, and the walks that somebody has said."""
    places = [{"wing": chance.choice(["", "B", "C"]), "upstairs": chance.random() < 0.3} for _ in range(5)]
    pairs = combinations(("store", "1", "2", "3", "4", "5"), 2)
    walks = [{"between": list(pair), "minutes": chance.randint(0, 6)} for pair in pairs if chance.random() < 0.3]
    return places, walks


def some_habits(chance: Random, filler: str) -> Table:
    habits: Table = {"filler": filler} if filler else {}
    if chance.random() < 0.4:
        habits |= {"attendance": chance.choice([0.88, 0.9, 0.97]), "reserve_certainty": chance.choice([0.9, 0.99])}
    if chance.random() < 0.3:
        habits |= {"early_share": 0.3, "early_share_young": 0.5, "back_up_share": 0.35}
    if chance.random() < 0.3:
        habits |= {"spare_paper": {"at_least": 1, "percent": 12.5}, "spare_tool": {"at_least": 0, "percent": 7}}
    if chance.random() < 0.3:
        habits |= {"spare_about": {"at_least": 2, "percent": 30}}
    return habits


def some_bells(chance: Random, periods: list[str]) -> list[Table]:
    regular = [a_period(name, f"{8 + n}:00", f"{8 + n}:45") for n, name in enumerate(periods)]
    late = [a_period(name, f"{9 + n}:30", f"{10 + n}:00") for n, name in enumerate(periods) if chance.random() < 0.7]
    return [{"id": "regular", "periods": regular}, {"id": "late", "periods": late}]


def a_timetable(chance: Random, days: Any, periods: list[str], classes: list[str]) -> dict[str, dict[str, str]]:
    """Each class now and then in a round; in some schools also twice on a day."""
    twice = chance.random() < 0.25
    found = {}
    for day in days:
        coming = chance.sample([*classes, *(classes if twice else ())], min(len(periods), len(classes)))
        found[day] = {period: each for period, each in zip(periods, coming, strict=False) if chance.random() < 0.75}
    return {day: visits or {"P1": classes[0]} for day, visits in found.items()}


def some_classes(chance: Random, grades: list[str], supplies: list[str]) -> list[Table]:
    found = []
    for n in range(chance.randint(3, 8)):
        students: int | str = chance.randint(1, 31)
        tables = students if chance.random() < 0.15 else chance.randint(1, 8)
        if chance.random() < 0.25:
            students = f"about {students}"
        needs = [
            {"need": need, "count": chance.randint(1, 4)} for need in chance.sample(NEEDS, chance.choice([0, 1, 2]))
        ]
        grade = chance.choice(grades)
        found.append(
            a_class(
                f"{grade}-{n}",
                grade=grade,
                room=str(chance.randint(1, 5)),
                students=students,
                tables=tables,
                adults=chance.randint(1, 2),
                needs=needs,
                avoid=chance.sample(AVOIDED, chance.choice([0, 0, 1, 2])),
                has=chance.sample([*supplies, "scissors"], chance.choice([0, 0, 1, 2])),
            )
        )
    return found


def some_supplies(chance: Random) -> list[Table]:
    names = [f"thing-{n}" for n in range(chance.randint(10, 18))]
    found = []
    for name in names:
        more: Table = {"marks": chance.sample(MARKS, chance.choice([0, 0, 1, 1, 2]))}
        if chance.random() < 0.25:
            more["returns"] = chance.random() < 0.5
        if chance.random() < 0.25:
            more["spare"] = {"at_least": chance.randint(0, 3), "percent": chance.choice([0, 5, 12.5, 40])}
        if chance.random() < 0.25:
            more["instead"] = chance.choice([each for each in names if each != name])
        if chance.random() < 0.1:
            more["conforms"] = False
        if chance.random() < 0.15:
            more["sharp"] = True
        if chance.random() < 0.1:
            more["for_the_teacher"] = True
        found.append(a_supply(name, kind=chance.choice(KINDS), **more))
    return [*found, a_supply(PLAIN, kind="sheet")]


def a_random_item(chance: Random, supplies: list[str], kits: list[Table]) -> Table:
    per = chance.choice(["student", "student", "student", "pair", "table", "class", "lesson"])
    count = chance.choice(COUNTS) if per in ("student", "pair", "table") else chance.choice([1, 1, 2, 5])
    more: Table = {}
    if chance.random() < 0.3:
        more["critical"] = True
    if chance.random() < 0.2:
        more["into"] = chance.choice(["box", "cart", *(kit["id"] for kit in kits)])
    if per in ("class", "lesson") and chance.random() < 0.5:
        more["demo"] = True
    return an_item(chance.choice([*supplies, *supplies, *BUILT_IN]), count, per=per, **more)


def some_items(chance: Random, supplies: list[str], kits: list[Table], most: int) -> list[Table]:
    """Mostly each supply once; now and then one twice."""
    drawn = [a_random_item(chance, supplies, kits) for _ in range(chance.randint(1, most))]
    return drawn if chance.random() < 0.2 else list({each["supply"]: each for each in drawn}.values())


def a_random_lesson(chance: Random, name: str, supplies: list[str], kits: list[Table]) -> Table:
    stays = chance.choice(supplies) if chance.random() < 0.3 else ""
    parts = []
    for n in range(1, chance.randint(1, 4) + 1):
        items = some_items(chance, supplies, kits, 6)
        if stays and chance.random() < 0.7:
            items.append(an_item(stays, chance.choice([1, 2]), stays_in_work=True))
        more: Table = {"tags": chance.sample(TAGS, chance.choice([0, 1, 1, 2, 3]))}
        if chance.random() < 0.4:
            more["catch_up"] = chance.choice(["full", "short", "none"])
        if chance.random() < 0.5:
            more["short_version"] = some_items(chance, supplies, kits, 3)
        if chance.random() < 0.3:
            more["wait"] = {"days": chance.randint(0, 6), "then_school_days": chance.randint(0, 2), "why": "it dries"}
        if chance.random() < 0.4:
            more["preps"] = [{"what": "cut", "minutes": chance.randint(1, 20), "days_before": chance.randint(0, 4)}]
        if chance.random() < 0.3:
            more["pieces_each"] = chance.choice([0.5, 2, 3])
        parts.append(a_part(f"part {n}", items, **more))
    extension = [an_item(chance.choice(supplies), chance.choice([1, 2, 0.5])) for _ in range(chance.choice([0, 1, 2]))]
    taken = chance.sample([kit["id"] for kit in kits], chance.randint(0, len(kits)))
    return a_lesson(name, parts, kits=taken, extension=extension)


def leave_out_for_some(chance: Random, lessons: list[Table], classes: list[str]) -> None:
    """Here and there a class is taught without something that its lesson lists."""
    for lesson in lessons:
        listed = [*lesson["extension"]]
        for part in lesson["parts"]:
            listed += [*part["items"], *part.get("short_version", ())]
        for item in listed:
            if chance.random() < 0.15:
                item["not_for"] = chance.sample(classes, chance.choice([1, 1, 2]))


# ------------------------------------------------------------------------------------------------------- own rules


def own_rules(chance: Random, supplies: list[str], classes: list[str], lessons: list[str]) -> Table:
    made = [a_random_rule(chance, n, supplies) for n in range(chance.choice([0, 2, 4, 8]))]
    off = []
    for rule in chance.sample(BUILT_IN_RULES, chance.choice([0, 0, 2])):
        entry: Table = {"rule": rule, "reason": "tried out"}
        how = chance.random()
        if how < 0.3:
            entry["class_id"] = chance.choice(classes)
        elif how < 0.6:
            entry["lesson"] = chance.choice(lessons)
        elif how < 0.8:
            entry["until"] = date(2026, 9, chance.randint(1, 30))
        off.append(entry)
    return {"rules": made, "off": off}


BUILT_IN_RULES = [
    "sponges-for-wet-work",
    "tempera-is-wet",
    "folder-for-new-work",
    "blunt-scissors",
    "avoided-by-the-class",
]


def a_random_rule(chance: Random, n: int, supplies: list[str]) -> Table:
    kind = chance.choice(["add", "add", "replace", "replace", "forbid", "raise", "gives", "gives mark"])
    rule: Table = {"id": f"own-{n}", "title": f"Own {n}", "because": "it is so here", "when": some_conditions(chance)}
    supply = chance.choice([*supplies, *BUILT_IN])
    mark = chance.choice([*MARKS, "paper", "tool", "material", *supplies])
    if kind == "add":
        add: Table = {
            "supply": supply,
            "count": chance.choice(COUNTS),
            "per": chance.choice(PER),
            "plus": chance.randint(0, 2),
        }
        add |= {"critical": chance.random() < 0.3, "each_holds": chance.choice([1, 1, 4])}
        spare = chance.choice(["none", "none", "usual", {"at_least": 2, "percent": 20}])
        rule["add"] = [{**add, "spare": spare}]
    elif kind == "replace":
        rule["when"] = chance.choice([rule["when"], [*rule["when"], f"item is {mark}"]])
        of_item = rule["when"][-1].startswith("item")
        what = "item" if of_item else mark
        how: Table = {"everything": True} if chance.random() < 0.4 else {"count": chance.randint(1, 6)}
        rule["replace"] = [{"what": what, "supply": supply, "critical": chance.random() < 0.3, **how}]
    elif kind == "forbid":
        rule["when"] = [*rule["when"], f"item is {mark}"]
        rule["forbid"] = [chance.choice([{}, {"instead": PLAIN}])]
    elif kind == "raise":
        how = chance.choice(
            [{"spare": {"at_least": 5, "percent": 25}}, {"times": 1.4}, {"sets": 1}, {"times": 2, "sets": 2}]
        )
        rule["raises"] = [{"what": chance.choice([mark, "for each child"]), **how}]
    elif kind == "gives":
        rule["when"] = [each for each in rule["when"] if not each.startswith("not ")] or ["drawing"]
        rule["gives"] = [chance.choice(["wet", "messy", "fuss", "quiet"])]
    else:
        rule["when"] = [*rule["when"], f"item is {mark}"]
        rule["gives"] = ["item is " + chance.choice(["fussy", "adapted", "sharp"])]
    return rule


PER = ("student", "pair", "table", "class", "lesson", "piece", "need left-handed", "need fine-motor")


def some_conditions(chance: Random) -> list[str]:
    return [chance.choice(CONDITIONS) for _ in range(chance.choice([1, 1, 2]))]


CONDITIONS = [
    *("drawing", "cutting", "painting", "wet", "sink", "not sink", "carpet", "single desks", "first part", "last part"),
    *("not cutting", "not wet", "several parts", "first visit", "last visit", "short period", "not messy"),
    *("grade at most 2", "grade at least K", "students above 20", "tables below 5", "part is 1", "students is 12"),
    *("need left-handed", "not need noise", "avoid latex", "not avoid nut", "minutes below 40"),
    *("some item is scissors", "no item is paper", "lists material", "not lists tool", "some item is sharp"),
    *("owed", "absences unknown", "one adult", "no projector", "tables below students"),
]
