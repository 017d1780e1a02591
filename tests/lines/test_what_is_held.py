"""Wet, hot, printed and clay parts are not made up beside another part: short and dry, or held for the medium."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.daybook.state import Owed, Progress, Unfinished
from checklists.lines.records import Day
from tests.days import day_of, lines_of
from tests.schools import MONDAY, a_class, a_lesson, a_part, a_supply, an_item, small_school

CLAY = [an_item("clay-portion")]


def owls(**first: Any) -> list[dict[str, Any]]:
    return [
        a_lesson(
            "owls",
            [
                a_part("pinch", CLAY, tags=["clay"], **first),
                a_part("draw an owl", [an_item("white-12x18")], tags=["drawing"]),
                a_part("add wings", CLAY, tags=["clay"]),
            ],
        )
    ]


def day_for(tmp_path: Path, at_part: int, owed: Owed | None, lessons: list[dict[str, Any]], **state: Any) -> Day:
    folder = small_school(
        tmp_path,
        classes=[a_class("4-D", room="12", students=26)],
        timetable={"Mon": {"P1": "4-D"}},
        teaching={"4": ["owls"]},
        supplies=[a_supply("clay-portion"), a_supply("white-12x18", kind="paper"), a_supply("owl-card")],
        lessons=lessons,
        boxes=[],
    )
    missed = {"4-D": (owed,)} if owed is not None else {}
    return day_of(folder, progress={"4-D": Progress("owls", at_part)}, owed=missed, **state)


MISSED = Owed("owls", 1, MONDAY, numbers=(6, 19))


def kit(day: Day) -> dict[str, int]:
    return {line.supply: line.need for line in day.lines if line.catch_up_for == "4-D"}


def held(day: Day) -> list[str]:
    return [each.what for each in day.cautions if "/held/" in each.key]


def test_a_missed_clay_part_is_held_while_the_class_draws(tmp_path: Path) -> None:
    day = day_for(tmp_path, 2, MISSED, owls())
    assert kit(day) == {}
    assert held(day) == [
        "4-D: 2 children of Owls, part 1, to catch up: held until the class has clay again, or a finish-up visit."
    ]


def test_it_is_packed_where_the_class_has_clay_again(tmp_path: Path) -> None:
    day = day_for(tmp_path, 3, MISSED, owls())
    assert kit(day) == {"clay-portion": 2}
    assert held(day) == []


def test_a_short_dry_version_is_packed_at_once(tmp_path: Path) -> None:
    day = day_for(tmp_path, 2, MISSED, owls(short_version=[an_item("owl-card")]))
    assert kit(day) == {"owl-card": 2}


def test_what_the_lesson_itself_says_comes_before_the_rule(tmp_path: Path) -> None:
    assert kit(day_for(tmp_path / "full", 2, MISSED, owls(catch_up="full"))) == {"clay-portion": 2}
    assert kit(day_for(tmp_path / "none", 3, MISSED, owls(catch_up="none"))) == {}


def test_a_dry_part_is_made_up_in_full(tmp_path: Path) -> None:
    assert kit(day_for(tmp_path, 3, Owed("owls", 2, MONDAY, numbers=(6,)), owls())) == {"white-12x18": 1}


def test_a_reserve_of_a_held_part_waits_as_well(tmp_path: Path) -> None:
    unknown = Owed("owls", 1, MONDAY, unknown=True)
    assert lines_of(day_for(tmp_path / "dry", 2, unknown, owls()), "clay-portion") == []
    (portions,) = lines_of(day_for(tmp_path / "clay", 3, unknown, owls()), "clay-portion")
    # 26 children: 4 in reserve at 95 % (attendance 94 %), which covers the spare of 3.
    assert portions.need == 26 + 4


def test_pieces_that_broke_are_made_again_where_there_is_clay_never_short(tmp_path: Path) -> None:
    broken = Owed("owls", 1, MONDAY, numbers=(6, 19), broken=True)
    short = owls(short_version=[an_item("owl-card")])
    assert kit(day_for(tmp_path / "draw", 2, broken, short)) == {}
    day = day_for(tmp_path / "clay", 3, broken, short)
    assert kit(day) == {"clay-portion": 2}
    (line,) = [line for line in day.lines if line.catch_up_for]
    assert line.because[0].text == "remake 2: pieces of part 1 of Owls broke"


def test_once_she_has_chosen_the_short_version_it_is_packed(tmp_path: Path) -> None:
    lessons = owls(catch_up="full", short_version=[an_item("owl-card")])
    assert kit(day_for(tmp_path, 2, Owed("owls", 1, MONDAY, numbers=(6,), short=True), lessons)) == {"owl-card": 1}


def test_a_kit_is_never_critical_and_as_safe_as_the_rest(tmp_path: Path) -> None:
    lessons = [
        a_lesson("owls", [a_part("cut", [an_item("shears", critical=True)]), a_part("glue", [an_item("white-12x18")])])
    ]
    folder = small_school(
        tmp_path,
        classes=[a_class("K-B", room="12", students=20, avoid=["latex"])],
        timetable={"Mon": {"P1": "K-B"}},
        teaching={"K": ["owls"]},
        supplies=[
            a_supply("shears", kind="tool", sharp=True, marks=["scissors", "latex"], instead="scissors-blunt"),
            a_supply("white-12x18", kind="paper"),
        ],
        lessons=lessons,
        boxes=[],
    )
    day = day_of(folder, progress={"K-B": Progress("owls", 2)}, owed={"K-B": (Owed("owls", 1, MONDAY, numbers=(3,)),)})
    of_kit = {line.supply: (line.need, line.critical) for line in day.lines if line.catch_up_for}
    assert of_kit == {"scissors-blunt": (1, False)}


def test_a_class_that_comes_twice_on_a_day_has_its_kit_once(tmp_path: Path) -> None:
    folder = small_school(
        tmp_path,
        classes=[a_class("4-D", room="12", students=26)],
        timetable={"Mon": {"P1": "4-D", "P2": "4-D"}},
        teaching={"4": ["owls"]},
        supplies=[a_supply("clay-portion"), a_supply("white-12x18", kind="paper")],
        lessons=owls(),
        boxes=[],
    )
    owed = {"4-D": (Owed("owls", 2, MONDAY, numbers=(4,)),)}
    unfinished = {"4-D": (Unfinished("owls", 2, 3, MONDAY),)}
    day = day_of(folder, progress={"4-D": Progress("owls", 2)}, owed=owed, unfinished=unfinished)
    assert kit(day) == {"white-12x18": 1 + (3 + 1)}
