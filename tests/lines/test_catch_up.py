"""Catch-up kits, reserve and finish-up sets, as lines of the class's next visit. Common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.daybook.state import Owed, Unfinished
from checklists.lines.catch_up import children_in, missed_often, say_owed
from tests.days import day_of, line_of, needs_by_supply
from tests.schools import FRIDAY_BEFORE, a_lesson, a_part, an_item, small_school

HILLS = "paper-hills"


def owed(part: int = 1, *numbers: int, count: int = 0, unknown: bool = False, lesson: str = HILLS) -> Owed:
    return Owed(lesson, part, FRIDAY_BEFORE, numbers, count, unknown)


def kit(folder: Path, *missed: Owed) -> dict[str, int]:
    return needs_by_supply(day_of(small_school(folder), owed={"3-B": missed}), catch_up_for="3-B")


def catch_up_school(folder: Path, **part: object) -> Path:
    """3-B is at yarn-birds; what it missed is part 1 of a lesson made of ``part``."""
    items = [an_item("white-12x18", 2), an_item("yarn-ball", per="pair"), an_item("glue-stick", demo=True)]
    missed = a_lesson("missed", [a_part("the missed part", items, **part), a_part("another")])
    now = a_lesson("now", [a_part("now", [an_item("scissors", per="pair", into="cart")])])
    return small_school(folder, lessons=[missed, now], teaching={"3": ["now", "missed"]})


# ------------------------------------------------------------------------------------------------- who is owed what


@pytest.mark.parametrize(
    ("missed", "white"),
    [
        ((owed(1, 4, 11),), 2),
        ((owed(1, count=3),), 3),
        ((owed(1, 4, count=2),), 3),
        ((), None),
    ],
    ids=["two by number", "three counted", "one by number and two counted", "nobody"],
)
def test_a_kit_has_one_of_each_for_every_child_who_missed_the_part(
    tmp_path: Path, missed: tuple[Owed, ...], white: int | None
) -> None:
    assert kit(tmp_path, *missed).get("white-12x18") == white


def test_three_who_catch_up_share_in_pairs_and_what_the_teacher_shows_is_not_in_the_kit(tmp_path: Path) -> None:
    folder = catch_up_school(tmp_path)
    day = day_of(folder, owed={"3-B": (owed(1, 4, 11, 12, lesson="missed"),)})
    assert needs_by_supply(day, catch_up_for="3-B") == {"white-12x18": 6, "yarn-ball": 2}


def test_a_short_version_is_packed_where_the_part_has_one(tmp_path: Path) -> None:
    folder = catch_up_school(tmp_path, catch_up="short", short_version=[an_item("yarn-ball")])
    day = day_of(folder, owed={"3-B": (owed(1, 4, 11, lesson="missed"),)})
    assert needs_by_supply(day, catch_up_for="3-B") == {"yarn-ball": 2}


def test_a_part_that_need_not_be_made_up_has_no_kit(tmp_path: Path) -> None:
    folder = catch_up_school(tmp_path, catch_up="none")
    day = day_of(folder, owed={"3-B": (owed(1, 4, 11, lesson="missed"),)})
    assert needs_by_supply(day, catch_up_for="3-B") == {}


def test_tools_that_are_along_anyway_serve_those_who_catch_up(tmp_path: Path) -> None:
    # Glue sticks and scissors come back, and the class has them out: only the paper is in the kit.
    assert kit(tmp_path, owed(1, 4)) == {"white-12x18": 1}


def test_a_kit_is_never_critical_has_no_spare_and_stands_under_catch_up(tmp_path: Path) -> None:
    line = line_of(day_of(small_school(tmp_path), owed={"3-B": (owed(1, 4, 11),)}), "white-12x18", catch_up_for="3-B")
    assert (line.need, line.critical, line.group, line.container) == (2, False, "Catch-up", "box-3")


def test_a_kit_is_a_line_of_its_own_beside_the_classes_own_paper(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path), owed={"3-B": (owed(1, 4, 11),)})
    assert line_of(day, "white-12x18").need == 51


def test_what_waits_in_the_kit_need_not_be_added(tmp_path: Path) -> None:
    contents = {"catch-up 3-B": {"white-12x18": 1}}
    day = day_of(small_school(tmp_path), owed={"3-B": (owed(1, 4, 11),)}, contents=contents)
    line = line_of(day, "white-12x18", catch_up_for="3-B")
    assert (line.need, line.in_it, line.add) == (2, 1, 1)


def test_a_lesson_that_is_no_longer_in_the_plan_is_not_made_up(tmp_path: Path) -> None:
    assert kit(tmp_path, owed(1, 4, lesson="gone"), owed(9, 5)) == {}


def test_a_child_is_one_child_whatever_it_missed() -> None:
    assert children_in((owed(1, 4), owed(2, 4), owed(3, 4, 11))) == 2
    assert children_in(()) == 0


def test_counts_without_numbers_are_read_as_the_worst_case() -> None:
    """Two in part 1 and two in part 2 may be 2, 3 or 4 children: 4 are reckoned with."""
    assert children_in((owed(1, count=2), owed(2, count=2))) == 4


def test_what_is_owed_is_said_child_by_child() -> None:
    missed = (owed(1, 11), owed(2, 4, 11), owed(3, 11, count=2), owed(4, unknown=True))
    assert say_owed(missed) == (
        "4: part 2; 11: parts 1, 2 and 3; 2 without a number: part 3; nobody could say who missed part 4"
    )


def test_three_parts_of_one_lesson_are_often_two_of_each_of_two_lessons_are_not() -> None:
    assert missed_often((owed(1, 4), owed(2, 4), owed(3, 4, 5))) == (4,)
    assert missed_often((owed(1, 4), owed(2, 4), owed(1, 4, lesson="other"))) == ()


# ---------------------------------------------------------------------------------------------------- reserve


def test_where_nobody_could_say_the_reserve_is_in_the_margin(tmp_path: Path) -> None:
    # 24 and 22 children: 46; a spare of 5 covers the reserve of 4 for 3-B.
    day = day_of(small_school(tmp_path), owed={"3-B": (owed(1, unknown=True),)})
    line = line_of(day, "white-12x18")
    assert line.need == 51
    assert "5 spare (the larger of 2 and 10 %), which covers the reserve" in [each.text for each in line.because]


def test_a_reserve_larger_than_the_spare_is_the_margin(tmp_path: Path) -> None:
    folder = small_school(tmp_path, timetable={"Mon": {"P1": "3-B"}})
    line = line_of(day_of(folder, owed={"3-B": (owed(1, unknown=True),)}), "white-12x18")
    assert line.need == 24 + 4


def test_of_a_part_that_is_not_taught_now_the_reserve_alone_is_packed(tmp_path: Path) -> None:
    folder = catch_up_school(tmp_path)
    day = day_of(folder, owed={"3-B": (owed(1, unknown=True, lesson="missed"),)})
    line = line_of(day, "white-12x18")
    assert (line.need, line.critical) == (2 * 4, False)
    assert [use.amount for use in line.uses] == []


# -------------------------------------------------------------------------------------------------- finish-up


@pytest.mark.parametrize(("not_done", "sets"), [(1, 2), (3, 4), (10, 11), (11, 13), (20, 22)])
def test_those_not_done_get_a_set_each_and_the_larger_of_1_and_10_per_cent_more(
    tmp_path: Path, not_done: int, sets: int
) -> None:
    unfinished = {"3-B": (Unfinished(HILLS, 1, not_done, FRIDAY_BEFORE),)}
    day = day_of(small_school(tmp_path), unfinished=unfinished)
    assert needs_by_supply(day, catch_up_for="3-B") == {"white-12x18": sets}


def test_finish_up_and_catch_up_of_a_class_are_one_set(tmp_path: Path) -> None:
    state = {"unfinished": {"3-B": (Unfinished(HILLS, 1, 3, FRIDAY_BEFORE),)}, "owed": {"3-B": (owed(1, 4, 11),)}}
    day = day_of(small_school(tmp_path), **state)
    line = line_of(day, "white-12x18", catch_up_for="3-B")
    assert line.need == 4 + 2
    assert [each.text for each in line.because] == [
        "2 children missed part 1 of Paper Hills on Fri 2 Oct",
        "3 children not done with part 1 of Paper Hills, and 1 more",
    ]
