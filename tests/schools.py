"""Small schools for tests: plain functions with good defaults that write the plan files of a school into a folder.

``small_school`` is two classes and two lessons, enough for most situations; ``reference_school`` is the invented Tansy
Hollow Elementary with seven visits on day A. Quantities, minutes and sizes are common practice, no source; the school
itself is invented.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import tomli_w
from msgspec import structs

from checklists.book import Book
from checklists.daybook.state import DayRecord, Progress, State
from checklists.demo import open_demo
from checklists.files.daybook_folder import load, write_record

Entry = dict[str, Any]

MONDAY = date(2026, 10, 5)
"""Day A of the reference school; a plain Monday in the small one."""
FRIDAY_BEFORE = date(2026, 10, 2)
SATURDAY_BEFORE = date(2026, 10, 3)


# ------------------------------------------------------------------------------------------- one thing at a time


def a_period(name: str, start: str, end: str) -> Entry:
    return {"name": name, "start": start, "end": end}


def a_room(ident: str, **more: Any) -> Entry:
    return {"id": ident, **more}


def a_class(ident: str, *, room: str, students: int | str = 24, grade: str = "", **more: Any) -> Entry:
    """A class; its grade is what stands before the dash ("3-B") unless it is given."""
    return {"id": ident, "grade": grade or ident.split("-")[0], "room": room, "students": students, **more}


def a_supply(ident: str, name: str = "", *, kind: str = "material", **more: Any) -> Entry:
    return {"id": ident, "name": name or ident.replace("-", " "), "kind": kind, **more}


def an_item(supply: str, count: float = 1, *, per: str = "student", **more: Any) -> Entry:
    return {"supply": supply, "count": count, "per": per, **more}


def a_part(title: str, items: Iterable[Entry] = (), **more: Any) -> Entry:
    return {"title": title, "items": list(items), **more}


def a_lesson(ident: str, parts: Iterable[Entry], *, title: str = "", **more: Any) -> Entry:
    return {"id": ident, "title": title or ident.replace("-", " ").title(), "parts": list(parts), **more}


def a_kit(ident: str, holds: Mapping[str, int], *, name: str = "", **more: Any) -> Entry:
    return {"id": ident, "name": name or f"{ident.title()} kit", "holds": dict(holds), **more}


# ------------------------------------------------------------------------------------------------ into a folder


def write_toml(path: Path, content: Mapping[str, Any]) -> None:
    """A plan file, written an hour ago: one that is just being written is read anew at every start."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(tomli_w.dumps(content).encode())
    an_hour_ago = path.stat().st_mtime - 3600
    os.utime(path, (an_hour_ago, an_hour_ago))


def write_plan(
    folder: Path,
    *,
    school: Mapping[str, Any],
    classes: Iterable[Entry],
    timetable: Mapping[str, Mapping[str, str]],
    teaching: Mapping[str, Iterable[str]],
    supplies: Iterable[Entry],
    lessons: Iterable[Entry],
    boxes: Iterable[Entry] = (),
    kits: Iterable[Entry] = (),
    rules: Mapping[str, Any] | None = None,
) -> Path:
    """Write every plan file of a school; gives the folder back."""
    write_toml(folder / "school.toml", {"format": 1, **school})
    taught = {grade: list(ids) for grade, ids in teaching.items()}
    write_toml(folder / "classes.toml", {"classes": list(classes), "timetable": dict(timetable), "teaching": taught})
    write_toml(folder / "supplies.toml", {"supplies": list(supplies)})
    write_toml(folder / "kits.toml", {"boxes": list(boxes), "kits": list(kits)})
    for lesson in lessons:
        write_toml(folder / "lessons" / f"{lesson['id']}.toml", lesson)
    if rules is not None:
        write_toml(folder / "rules.toml", rules)
    return folder


def write_evening(folder: Path, on: date, state: State) -> None:
    """Write the daybook of ``on`` as a closed day without entries, so that the next day opens with ``state``."""
    record = DayRecord(format=1, date=on, opening=state, closing=state)
    write_record(folder, record)


_read_before: dict[str, dict[Path, tuple[bytes, int]]] = {}
"""Of each school: every file, its bytes, and when it was written."""


def copy_of_one_read_before(write: Callable[[Path], object], folder: Path) -> Path:
    """The school that ``write`` writes, as on any morning: its plan was read before and is kept ready.

    It is written and read once for all tests; each gets a copy, with files as old as those were.
    """
    files = _read_before.get(write.__name__)
    if files is None:
        with TemporaryDirectory() as place:
            made = Path(place) / "school"
            write(made)
            for path in made.rglob("*.toml"):
                os.utime(path, (path.stat().st_mtime - 3600,) * 2)
            Book.open(made, today=MONDAY).release()
            paths = [path for path in made.rglob("*") if path.is_file() and not path.name.startswith(".")]
            files = {each.relative_to(made): (each.read_bytes(), each.stat().st_mtime_ns) for each in paths}
        _read_before[write.__name__] = files
    for name, (content, written) in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        os.utime(path, ns=(written, written))
    return folder


def demo_school(folder: Path) -> date:
    """The demo school with its history, read before; the date it opens on."""
    return open_demo(copy_of_one_read_before(open_demo, folder))


# --------------------------------------------------------------------------------------------- the small school


def small_school(folder: Path, **changes: Any) -> Path:
    """Two third-grade classes: 3-B on Monday P1 and Thursday P1, 3-K on Monday P2; Paper Hills and then Yarn Birds.

    For Monday's two visits of 24 and 22 children: white paper 46 + 5 = 51 in Box 3, glue sticks 24 + 3 = 27 in Box 3,
    scissors per pair 12 + 1 = 13 on the cart (counted). ``changes`` are those of ``write_small_school``.
    """
    return write_small_school(folder, **changes) if changes else copy_of_one_read_before(write_small_school, folder)


def write_small_school(
    folder: Path,
    *,
    students: int | str = 24,
    needs: Iterable[Entry] = (),
    days_off: Iterable[Entry] = (),
    rules: Mapping[str, Any] | None = None,
    **changes: Any,
) -> Path:
    """The same with other facts; further ``changes`` replace whole files' worth: ``supplies=[…]``."""
    plan: dict[str, Any] = {
        "school": {
            "name": "Small School",
            "first_day": date(2026, 8, 31),
            "last_day": date(2027, 6, 11),
            "bells": [
                {
                    "id": "regular",
                    "periods": [a_period("P1", "8:00", "8:45"), a_period("P2", "8:50", "9:35")],
                    "breaks": [{"name": "lunch", "start": "11:10", "end": "11:45"}],
                }
            ],
            "days_off": [{"first": date(2026, 9, 7), "reason": "Labor Day"}, *days_off],
            "rooms": [a_room("12", sink=True), a_room("14", sink=True)],
            "cart": {"standing": {"scissors": 30}},
        },
        "classes": [
            a_class("3-B", room="12", students=students, needs=list(needs)),
            a_class("3-K", room="14", students=22),
        ],
        "timetable": {"Mon": {"P1": "3-B", "P2": "3-K"}, "Thu": {"P1": "3-B"}},
        "teaching": {"3": ["paper-hills", "yarn-birds"]},
        "supplies": [
            a_supply("white-12x18", "white paper 12x18", kind="paper", shelf="P1", pack=50, on_hand=400),
            a_supply("glue-stick", "glue stick", returns=True, shelf="G1"),
            a_supply("scissors", kind="tool", sharp=True, marks=["scissors"], shelf="T1"),
            a_supply("yarn-ball", "yarn ball", shelf="Y1"),
        ],
        "lessons": [
            a_lesson(
                "paper-hills",
                [
                    a_part(
                        "cut and glue the hills",
                        [
                            an_item("white-12x18", critical=True),
                            an_item("glue-stick"),
                            an_item("scissors", per="pair", critical=True, into="cart"),
                        ],
                        preps=[{"what": "cut green strips", "minutes": 5, "days_before": 1}],
                    ),
                    a_part("add trees", [an_item("glue-stick"), an_item("scissors", per="pair", into="cart")]),
                ],
            ),
            a_lesson("yarn-birds", [a_part("wind the birds", [an_item("yarn-ball", critical=True)])]),
        ],
        "boxes": [{"grade": "3", "shelf": "B2", "sign": "yellow triangle"}],
        "rules": rules,
    }
    return write_plan(folder, **{**plan, **changes})


# ----------------------------------------------------------------------------------------- the reference school

REFERENCE_PLACES = {
    "K-M": ("striped-fish", 2),
    "1-P": ("paper-hills", 1),
    "3-B": ("burlap-birds", 2),
    "3-K": ("burlap-birds", 2),
    "2-R": ("leaf-prints", 1),
    "4-D": ("pinch-owls", 1),
    "5-H": ("paper-masks", 2),
}
"""Class -> lesson and part on Mon 5 Oct 2026."""


def reference_school(folder: Path, **changes: Any) -> Path:
    """Tansy Hollow Elementary as it stands on the evening before Mon 5 Oct 2026, day A of a cycle A to F.

    Common practice, no source. Needs that come out on Monday: 1-P base paper 26, green paper 76, glue sticks 25; K-M
    paper 23; yarn balls 54 for both thirds; needles 27; 2-R paper 26; clay portions 29; scissors 29 on the cart, of
    which 3-B uses 13, 3-K 14 and 5-H 29. ``changes`` are those of ``write_reference_school``.
    """
    return (
        write_reference_school(folder, **changes)
        if changes
        else copy_of_one_read_before(write_reference_school, folder)
    )


def write_reference_school(
    folder: Path,
    *,
    lost_day: str = "slides",
    contents: Mapping[str, Mapping[str, int]] | None = None,
    school: Mapping[str, Any] | None = None,
    **changes: Any,
) -> Path:
    """The same with other facts. ``contents`` is what the containers held over the weekend, by default full kits, the
    cart's scissors and empty boxes; ``school`` replaces entries of the school file, ``changes`` whole files.
    """
    plan: dict[str, Any] = {
        "school": {**_reference_facts(lost_day), **(school or {})},
        "classes": [
            a_class("K-M", room="4", students=20),
            a_class("1-P", room="9", students=22),
            a_class("3-B", room="12", students=24),
            a_class("3-K", room="14", students=25),
            a_class("2-R", room="11", students=23),
            a_class("4-D", room="21", students=26),
            a_class("5-H", room="23", students=27),
        ],
        "timetable": reference_timetable(),
        "teaching": {
            "K": ["striped-fish"],
            "1": ["paper-hills"],
            "2": ["leaf-prints", "leaf-rubbings"],
            "3": ["burlap-birds"],
            "4": ["pinch-owls"],
            "5": ["paper-masks"],
        },
        "supplies": reference_supplies(),
        "boxes": _reference_boxes(),
        "kits": _reference_kits(),
        "lessons": _reference_lessons(),
    }
    write_plan(folder, **{**plan, **changes})
    places = {name: Progress(lesson=lesson, part=part) for name, (lesson, part) in REFERENCE_PLACES.items()}
    full = {"cart": dict(plan["school"]["cart"]["standing"])} | {kit["id"]: dict(kit["holds"]) for kit in plan["kits"]}
    held = full if contents is None else {container: dict(held) for container, held in contents.items()}
    write_evening(folder, FRIDAY_BEFORE, State(progress=places, contents=held))
    return folder


def reference_timetable(but: str = "") -> dict[str, dict[str, str]]:
    """Day A of the reference school without the class ``but``."""
    day_a = {"P1": "K-M", "P2": "1-P", "P3": "3-B", "P4": "3-K", "P5": "2-R", "P6": "4-D", "P7": "5-H"}
    return {"A": {period: class_ for period, class_ in day_a.items() if class_ != but}}


def in_the_evening(folder: Path, on: date = FRIDAY_BEFORE, **more: Any) -> Path:
    """The school with more in the state of the evening of ``on``: ``owed={…}``, ``on_hand={…}``."""
    closing = load(folder, on).record.closing
    write_evening(folder, on, structs.replace(closing or State(), **more))
    return folder


def _reference_facts(lost_day: str) -> Entry:
    walks = {
        ("store", "4"): 2,
        ("store", "9"): 1,
        ("store", "11"): 2,
        ("store", "12"): 2,
        ("store", "14"): 2,
        ("store", "21"): 4,
        ("store", "23"): 4,
        ("4", "9"): 1,
        ("9", "12"): 1,
        ("12", "14"): 1,
        ("14", "21"): 3,
        ("11", "21"): 4,
        ("21", "23"): 1,
    }
    breaks = [
        {"name": "lunch", "start": "11:10", "end": "11:45"},
        {"name": "planning", "start": "11:45", "end": "12:30"},
    ]
    regular = [
        a_period("P1", "8:00", "8:45"),
        a_period("P2", "8:45", "9:30"),
        a_period("P3", "9:35", "10:20"),
        a_period("P4", "10:25", "11:10"),
        a_period("P5", "12:30", "13:15"),
        a_period("P6", "13:15", "14:00"),
        a_period("P7", "14:05", "14:50"),
    ]
    delayed = [
        a_period("P3", "10:00", "10:30"),
        a_period("P4", "10:35", "11:05"),
        a_period("P5", "12:30", "13:00"),
        a_period("P6", "13:00", "13:30"),
        a_period("P7", "13:35", "14:05"),
    ]
    return {
        "name": "Tansy Hollow Elementary",
        "first_day": date(2026, 8, 31),
        "last_day": date(2027, 6, 11),
        "bells": [
            {"id": "regular", "periods": regular, "breaks": breaks},
            {"id": "two hours later", "periods": delayed, "breaks": breaks},
        ],
        "days_off": [
            {"first": date(2026, 9, 7), "reason": "Labor Day"},
            {"first": date(2026, 10, 12), "reason": "holiday"},
        ],
        "rotation": {"kind": "cycle", "days": ["A", "B", "C", "D", "E", "F"], "lost_day": lost_day},
        "rooms": [
            a_room("4", sink=True, drying_places=12),
            a_room("9", sink=False),
            a_room("11", sink=False, drying_places=12),
            a_room("12", sink=True),
            a_room("14", sink=False),
            a_room("21", sink=True, upstairs=True),
            a_room("23", sink=False, upstairs=True),
        ],
        "walks": [{"between": list(pair), "minutes": minutes} for pair, minutes in walks.items()],
        "cart": {"half_slots": 8, "wet_sheets": 25, "standing": {"scissors": 30}},
    }


def reference_supplies() -> list[Entry]:
    """What Tansy Hollow has; none of it is counted."""
    exact = {"at_least": 0, "percent": 0}
    return [
        a_supply("backing-12x18", "backing paper 12x18", kind="paper", shelf="P1", pack=50),
        a_supply("base-12x18", "base paper 12x18", kind="paper", shelf="P1", pack=50),
        a_supply("green-6x9", "green paper 6x9", kind="paper", shelf="P2", pack=50),
        a_supply("white-9x12", "white paper 9x12", kind="paper", shelf="P2", pack=50),
        a_supply("strip-1x12", "paper strip 1x12", kind="paper", shelf="P3", pack=50),
        a_supply("glue-stick", "glue stick", returns=True, shelf="G1", pack=30),
        a_supply("scissors", kind="tool", sharp=True, marks=["scissors"], shelf="cart"),
        a_supply("yarn-ball", "yarn ball, 6 yd", shelf="Y1"),
        a_supply("blunt-needle", "blunt needle", kind="tool", sharp=True, marks=["needle"], shelf="K4"),
        a_supply("fish-brush", "round brush", kind="tool", shelf="K1"),
        a_supply("fish-pans", "watercolour pan set", returns=True, shelf="K1", spare=exact),
        a_supply("fish-cup", "water cup", kind="tool", shelf="K1"),
        a_supply("foam-plate", "foam plate 6x9", shelf="F1"),
        a_supply("brayer", kind="tool", marks=["brayer"], shelf="K2", spare=exact),
        a_supply("inking-plate", kind="tool", marks=["inking-plate"], shelf="K2", spare=exact),
        a_supply("block-ink-tube", marks=["block-ink"], shelf="K2", spare=exact),
        a_supply("clay-portion", "clay portion, 3/4 lb", shelf="C1", grams=340),
        a_supply("clay-mat", kind="tool", marks=["clay-mat"], shelf="C1", spare=exact, grams=60),
        a_supply("crayon-set", "crayon set", returns=True, shelf="G2", spare={"at_least": 1, "percent": 5}),
    ]


def _reference_boxes() -> list[Entry]:
    signs = {
        "K": ("B1", "red circle"),
        "1": ("B3", "green square"),
        "2": ("B4", "blue star"),
        "3": ("B2", "yellow triangle"),
        "4": ("B5", "white moon"),
        "5": ("B6", "black diamond"),
    }
    return [
        {"grade": grade, "shelf": shelf, "sign": sign, "may_be_left": grade != "3"}
        for grade, (shelf, sign) in signs.items()
    ]


def _reference_kits() -> list[Entry]:
    return [
        a_kit("watercolour", {"fish-brush": 24, "fish-pans": 12, "fish-cup": 12}, shelf="K1", reset_minutes=6),
        a_kit("stitching", {"blunt-needle": 30}, shelf="K4", reset_minutes=2, may_be_left=False),
        a_kit("printing", {"brayer": 6, "inking-plate": 6, "block-ink-tube": 2}, shelf="K2", reset_minutes=10),
        a_kit("clay", {"clay-mat": 30}, shelf="K3", reset_minutes=10, may_be_left=False),
    ]


def _reference_lessons() -> list[Entry]:
    needle_work = [
        an_item("yarn-ball", critical=True),
        an_item("blunt-needle", critical=True),
        an_item("scissors", per="pair", critical=True),
    ]
    short_stitching = [an_item("yarn-ball")]
    return [
        a_lesson(
            "striped-fish",
            [
                a_part("draw with oil pastel", [an_item("backing-12x18")], tags=["drawing"]),
                a_part(
                    "watercolour wash",
                    [
                        an_item("backing-12x18"),
                        an_item("fish-brush", critical=True),
                        an_item("fish-pans", per="pair", critical=True),
                        an_item("fish-cup", per="pair"),
                    ],
                    tags=["watercolour"],
                ),
            ],
            kits=["watercolour"],
        ),
        a_lesson(
            "paper-hills",
            [
                a_part(
                    "paper relief",
                    [
                        an_item("base-12x18", critical=True),
                        an_item("green-6x9", 3),
                        an_item("glue-stick", critical=True),
                        an_item("scissors", critical=True),
                    ],
                    tags=["cutting", "gluing"],
                ),
                a_part("add what grows there", [an_item("green-6x9"), an_item("glue-stick")], tags=["gluing"]),
            ],
        ),
        a_lesson(
            "burlap-birds",
            [
                a_part("draw the bird", [an_item("white-9x12")], tags=["drawing"]),
                *(
                    a_part(title, needle_work, tags=["stitching"], catch_up="short", short_version=short_stitching)
                    for title in ("stitch the outline", "fill the wings", "finish the edges")
                ),
            ],
            kits=["stitching"],
        ),
        a_lesson(
            "leaf-prints",
            [
                a_part(
                    "foam-plate print",
                    [
                        an_item("white-9x12", critical=True),
                        an_item("foam-plate", critical=True),
                        an_item("brayer", per="table", critical=True),
                        an_item("inking-plate", per="table"),
                        an_item("block-ink-tube", 2, per="class", critical=True),
                    ],
                    tags=["ink", "printing"],
                ),
                a_part("second colour", [an_item("white-9x12")], tags=["ink", "printing"]),
            ],
            kits=["printing"],
            dry_version="leaf-rubbings",
        ),
        a_lesson(
            "leaf-rubbings",
            [a_part("rub the leaves", [an_item("white-9x12", critical=True), an_item("crayon-set", per="pair")])],
        ),
        a_lesson(
            "pinch-owls",
            [
                a_part(
                    "pinch the bowl",
                    [an_item("clay-portion", critical=True), an_item("clay-mat", critical=True)],
                    tags=["clay"],
                    wait={"days": 7, "then_school_days": 2, "why": "dry and fire"},
                ),
                a_part("glaze", [an_item("fish-brush")], tags=["glaze"], wait={"days": 0, "then_school_days": 2}),
                a_part("write about the owl", [an_item("white-9x12")]),
            ],
            kits=["clay"],
        ),
        a_lesson(
            "paper-masks",
            [
                a_part("plan the mask", [an_item("white-9x12")], tags=["drawing"]),
                a_part(
                    "cut and build",
                    [
                        an_item("base-12x18"),
                        an_item("strip-1x12", 4),
                        an_item("scissors", critical=True),
                        an_item("glue-stick", critical=True),
                    ],
                    tags=["cutting", "gluing"],
                ),
                a_part("add the surface", [an_item("glue-stick")], tags=["gluing"]),
            ],
        ),
    ]
