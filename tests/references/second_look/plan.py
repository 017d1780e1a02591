"""The plan files and the built-in rules as plain tables, read with ``tomllib``; numbers with a point are fractions."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path
from typing import Any

Table = dict[str, Any]

GRADES = {"PK": -1, "K": 0}
RULE_FILES = (
    *("parts", "rooms", "water", "cutting", "hot_tools", "labels", "materials"),
    *("clay_and_print", "textile_and_paste", "avoiding", "differentiation"),
)
"""The order in which rules are told, and in which those that replace take their turn."""
HABITS: Table = {
    "attendance": Fraction("0.94"),
    "reserve_certainty": Fraction("0.95"),
    "early_share": Fraction("0.25"),
    "early_share_young": Fraction("0.4"),
    "back_up_share": Fraction("0.2"),
    "spare_paper": {"at_least": 2, "percent": 10},
    "spare_paper_young": {"at_least": 3, "percent": 15},
    "spare_material": {"at_least": 2, "percent": 10},
    "spare_tool": {"at_least": 1, "percent": 5},
    "spare_about": {"at_least": 4, "percent": 0},
    "filler": "",
    "swap_minutes": 2,
    "default_walk": 2,
    "elevator_minutes": 2,
    "neighbour_minutes": 1,
    "arrival": "7:25",
}
"""Common practice, no source; what a school says in its own file comes first."""


def read_table(path: Path) -> Table:
    return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Fraction)


def read_school(folder: Path, built_in: Path) -> Table:
    """Everything of a school in one table: the files by subject, supplies, lessons, classes and kits by their ids."""
    school = read_table(folder / "school.toml")
    classes = read_table(folder / "classes.toml")
    kits = read_table(folder / "kits.toml") if (folder / "kits.toml").exists() else {}
    own_supplies = read_table(folder / "supplies.toml")["supplies"]
    supplies = [*read_table(built_in / "supplies.toml")["supplies"], *own_supplies]
    lessons = [read_table(path) for path in sorted((folder / "lessons").glob("*.toml"))]
    own = read_table(folder / "rules.toml") if (folder / "rules.toml").exists() else {}
    return {
        "school": school,
        "habits": {**HABITS, **school.get("habits", {})},
        "rooms": {each["id"]: each for each in school.get("rooms", [])},
        "walks": {frozenset(each["between"]): each["minutes"] for each in school.get("walks", [])},
        "on the cart": set(school.get("cart", {}).get("standing", {})),
        "classes": {each["id"]: each for each in classes["classes"]},
        "timetable": {str(day): periods for day, periods in classes["timetable"].items()},
        "teaching": classes.get("teaching", {}),
        "kits": {each["id"]: each for each in kits.get("kits", [])},
        "supplies": {each["id"]: each for each in supplies},
        "lessons": {each["id"]: each for each in lessons},
        "rules": with_numbers(rules_in_force(built_in, own.get("rules", [])), settings_of(built_in, own)),
        "off": own.get("off", []),
        "media": media_of(built_in),
    }


def rules_in_force(built_in: Path, own: list[Table]) -> list[Table]:
    """The built-in rules file by file, an own one of the same name in the place of each; then the other own ones."""
    by_id = {each["id"]: each for each in own}
    by_file = {path.stem: read_table(path).get("rules", []) for path in sorted(built_in.glob("*.toml"))}
    order = [*RULE_FILES, *(name for name in by_file if name not in RULE_FILES)]
    found = [each for name in order for each in by_file.get(name, [])]
    names = {each["id"] for each in found}
    return [*(by_id.get(each["id"], each) for each in found), *(each for each in own if each["id"] not in names)]


def settings_of(built_in: Path, own: Table) -> dict[str, Any]:
    """The thresholds of the rules by name; the school's own in their place."""
    path = built_in / "settings.toml"
    shipped = read_table(path) if path.exists() else {}
    numbers = {name: entry["value"] for name, entry in shipped.items()} | own.get("settings", {})
    return {name: GRADES.get(value, value) if isinstance(value, str) else value for name, value in numbers.items()}


def with_numbers(part: Any, settings: dict[str, Any]) -> Any:
    """A rule with the number in place of each name of a setting: alone, after a minus, or last in a condition."""
    if isinstance(part, dict):
        return {key: with_numbers(value, settings) for key, value in part.items()}
    if isinstance(part, list):
        return [with_numbers(value, settings) for value in part]
    if not isinstance(part, str):
        return part
    if part.lstrip("-") in settings:
        return -settings[part[1:]] if part.startswith("-") else settings[part]
    before, _, last = part.rpartition(" ")
    compares = before.endswith((" at most", " at least", " is", " below", " above")) and not before.startswith("item")
    if compares and last in settings:
        return f"{before} {Fraction(settings[last])}"
    return part


def media_of(built_in: Path) -> set[str]:
    """The tags of parts that are not made up during another part."""
    vocabulary = read_table(built_in / "vocabulary.toml")
    return set(vocabulary.get("media", ()))


def items_meant_for(items: Iterable[Table], class_id: str) -> list[Table]:
    """Without what the class is taught the lesson without."""
    return [item for item in items if class_id not in item.get("not_for", ())]


def students_of(class_: Table) -> int:
    told = class_["students"]
    return told if isinstance(told, int) else int(told.split()[1])


def is_about(class_: Table) -> bool:
    return isinstance(class_["students"], str)


def is_young(grade: str) -> bool:
    return grade in ("PK", "K", "1")


def grade_number(grade: str) -> int:
    return GRADES[grade] if grade in GRADES else int(grade)


def comes_back(plan: Table, supply: str) -> bool:
    entry = plan["supplies"]["class-folder" if supply.startswith("folder ") else supply]
    return bool(entry.get("returns", entry.get("kind", "material") in ("tool", "sample")))


def marks_of(plan: Table, supply: str) -> set[str]:
    """What rules may call a supply: its marks, its kind, its own id, and what its fields say. Found once for a plan."""
    known: dict[str, set[str]] = plan.setdefault("marks known", {})
    if supply not in known:
        known[supply] = marks_found(plan["supplies"][supply], supply)
    return known[supply]


def marks_found(entry: Table, supply: str) -> set[str]:
    said = {"sharp": entry.get("sharp"), "own": entry.get("own"), "teacher-only": entry.get("for_the_teacher")}
    said |= {"not-conforming": entry.get("conforms") is False, "label-caution": entry.get("label_caution")}
    said |= {"own-substitute": entry.get("instead")}
    on_label = re.findall("[a-z]+", entry.get("label_caution", "").lower())
    gravest = [word for word in ("danger", "warning", "caution") if word in on_label][:1]
    said |= {f"signal-{word}": True for word in gravest}
    return {*entry.get("marks", ()), entry.get("kind", "material"), supply, *(mark for mark in said if said[mark])}
