"""A date's list: where supplies ride, what is replaced or forbidden, what is said of containers and classes."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.daybook.entries import Stands
from checklists.daybook.marks import Marks, marks_of
from checklists.daybook.minutes_left import leave_by_now
from checklists.daybook.state import Carried, Case, Owed, Place, Progress, State, Unsure
from checklists.lines.day import day_on
from checklists.lines.records import GROUPS, Caution, Day
from tests.days import TUESDAY, at, day_of, line_of, lines_of, needs_by_supply, opened, visit_of
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_class,
    a_kit,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    reference_school,
    small_school,
)


def one_part(folder: Path, *items: dict[str, Any], kit: dict[str, int] | None = None, **changes: Any) -> Path:
    """The small school with one lesson of one part that lists ``items``, taught to 3-B (24) and 3-K (22) on Monday."""
    lesson = a_lesson("any-lesson", [a_part("the part", items)], kits=["kit"] if kit else [])
    kits = [a_kit("kit", kit)] if kit else []
    return small_school(folder, **{"lessons": [lesson], "teaching": {"3": ["any-lesson"]}, "kits": kits, **changes})


def because(day: Day, supply: str) -> list[str]:
    return [each.text for each in line_of(day, supply).because]


# --------------------------------------------------------------------------------------------- where things ride


def test_a_supply_rides_in_the_lessons_kit_on_the_cart_or_in_the_grades_box(tmp_path: Path) -> None:
    items = an_item("glue-stick"), an_item("scissors"), an_item("white-12x18")
    day = day_of(one_part(tmp_path, *items, kit={"glue-stick": 30}))
    where = {line.supply: line.container for line in day.lines}
    assert where == {"glue-stick": "kit", "scissors": "cart", "white-12x18": "box-3"}
    assert [each.name for each in day.containers] == ["Cart", "Box 3", "Kit kit"]


def test_a_part_may_say_where_a_supply_rides(tmp_path: Path) -> None:
    items = an_item("glue-stick", into="box"), an_item("scissors", into="box"), an_item("white-12x18", into="cart")
    day = day_of(one_part(tmp_path, *items, kit={"glue-stick": 30}))
    assert {line.supply: line.container for line in day.lines} == {
        "glue-stick": "box-3",
        "scissors": "box-3",
        "white-12x18": "cart",
    }


def test_lines_have_their_own_numbers_from_11_on_and_stand_in_groups(tmp_path: Path) -> None:
    day = day_of(reference_school(tmp_path))
    numbers = [line.number for line in day.lines]
    assert numbers == list(range(11, 11 + len(numbers)))
    others = [*(task.number for task in day.tasks), *(check.number for check in day.checks)]
    assert len({*numbers, *others}) == len(numbers) + len(others)
    for container in day.containers:
        groups = [GROUPS.index(line.group) for line in day.lines if line.container == container.id]
        assert groups == sorted(groups)


def test_the_cart_comes_first_and_the_others_in_the_order_of_their_first_visit(tmp_path: Path) -> None:
    day = day_of(reference_school(tmp_path))
    order = [each.id for each in day.containers]
    assert order[0] == "cart"
    assert order.index("box-K") < order.index("box-1") < order.index("box-3") < order.index("box-2")


# ----------------------------------------------------------------------------------------------- what is needed


def test_what_is_in_the_box_need_not_be_added(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path), contents={"box-3": {"white-12x18": 38}})
    line = line_of(day, "white-12x18")
    assert (line.need, line.in_it, line.add) == (51, 38, 13)
    assert line.on_shelf == 400 - 38


def test_more_than_needed_in_the_box_asks_for_nothing(tmp_path: Path) -> None:
    assert line_of(day_of(small_school(tmp_path), contents={"box-3": {"white-12x18": 90}}), "white-12x18").add == 0


def test_one_line_for_a_supply_in_a_container_with_its_reasons_stacked(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path))
    assert len(lines_of(day, "white-12x18")) == 1
    assert because(day, "white-12x18") == ["24 children", "22 children", "5 spare (the larger of 2 and 10 %)"]
    assert line_of(day, "white-12x18").visits == ("P1 3-B", "P2 3-K")


def test_what_the_class_has_is_packed_only_as_a_back_up_of_a_fifth(tmp_path: Path) -> None:
    classes = [a_class("3-B", room="12", has=["glue-stick"]), a_class("3-K", room="14", students=0)]
    day = day_of(one_part(tmp_path, an_item("glue-stick"), classes=classes))
    assert line_of(day, "glue-stick").need == 5 + 2
    assert "3-B has its own; 20 % as back-up" in because(day, "glue-stick")


def test_the_teachers_own_set_is_one_a_class_without_spare_and_stands_under_demo(tmp_path: Path) -> None:
    day = day_of(one_part(tmp_path, an_item("yarn-ball", per="class", demo=True)))
    line = line_of(day, "yarn-ball")
    assert (line.need, line.group) == (2, "Demo")


def test_a_staged_sample_is_one_for_all_classes_of_the_lesson(tmp_path: Path) -> None:
    day = day_of(one_part(tmp_path, an_item("yarn-ball", per="lesson", demo=True)))
    assert line_of(day, "yarn-ball").need == 1


@pytest.mark.parametrize("order", [1, -1], ids=["the children's first", "the teacher's first"])
def test_a_sheet_to_show_beside_one_for_every_child_is_counted_once_a_lesson(tmp_path: Path, order: int) -> None:
    items = [an_item("white-12x18"), an_item("white-12x18", per="lesson", demo=True)][::order]
    line = line_of(day_of(one_part(tmp_path, *items)), "white-12x18")
    assert line.need == 46 + 1 + 5
    assert line.group == "Paper"


def test_a_tool_to_show_goes_into_each_room_beside_the_childrens(tmp_path: Path) -> None:
    items = an_item("scissors", into="cart"), an_item("scissors", per="lesson", demo=True, into="cart")
    line = line_of(day_of(one_part(tmp_path, *items)), "scissors")
    assert line.need == 24 + 1 + 2
    assert {use.visit: use.amount for use in line.uses} == {"P1 3-B": 27, "P2 3-K": 22 + 1 + 2}


def test_a_quarter_of_third_graders_and_two_fifths_of_first_graders_are_done_early(tmp_path: Path) -> None:
    # Common practice, no source.
    lessons = [a_lesson("any-lesson", [a_part("the part")], extension=[an_item("yarn-ball", 2)])]
    third = day_of(one_part(tmp_path / "third", lessons=lessons))
    assert line_of(third, "yarn-ball").need == 2 * 6 + 2 * 6
    classes = [a_class("3-B", grade="1", room="12", students=24), a_class("3-K", grade="1", room="14", students=0)]
    first = day_of(one_part(tmp_path / "first", lessons=lessons, classes=classes, teaching={"1": ["any-lesson"]}))
    assert line_of(first, "yarn-ball").need == 2 * 10


def test_a_class_of_about_24_makes_its_lines_about(tmp_path: Path) -> None:
    day = day_of(small_school(tmp_path, students="about 24"))
    assert line_of(day, "white-12x18").about
    assert "about 24 children" in because(day, "white-12x18")


def test_a_class_without_a_lesson_is_said(tmp_path: Path) -> None:
    notes = day_of(small_school(tmp_path, teaching={})).notes
    assert "V1 3-B: no lesson is placed for it." in notes


def test_more_critical_lines_than_one_can_keep_in_mind_are_said_last_and_no_need_is_told(tmp_path: Path) -> None:
    supplies = [a_supply(f"thing-{n}") for n in range(5)]
    items = [*(an_item(each["id"], critical=True) for each in supplies), an_item("scissors")]
    needs = [{"need": "low-vision", "count": 1}, {"need": "left-handed", "count": 5}]
    classes = [a_class("3-B", room="12", students=2, needs=needs), a_class("3-K", room="14", students=0)]
    notes = day_of(one_part(tmp_path, *items, supplies=supplies, classes=classes, boxes=[])).notes
    assert len(notes) == 2
    assert "not enough ordinary ones for all the left-handed scissors" in notes[0]
    assert notes[1] == "3-B has 6 critical lines; five is what one can keep in mind."  # five, and the raised-line copy


def test_what_most_critical_lines_come_from_is_named(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    (note,) = day_of(folder).notes
    assert note == (
        "2-R has 6 critical lines; five is what one can keep in mind. "
        "Most come from: a bucket where there is no sink and water where there is no sink."
    )


# --------------------------------------------------------------------------------------- replaced and forbidden


def scissors_needed(folder: Path, students: int, needs: list[dict[str, Any]]) -> dict[str, int]:
    classes = [a_class("3-B", room="12", students=students, needs=needs), a_class("3-K", room="14", students=0)]
    day = day_of(one_part(folder, an_item("scissors"), classes=classes))
    return {supply: need for supply, need in needs_by_supply(day).items() if supply.startswith("scissors") and need}


def test_adapted_scissors_replace_ordinary_ones_and_the_total_stays(tmp_path: Path) -> None:
    # Common practice, no source: 24 children and 2 spare are 26, of which 2 left-handed and 2 spring-opening.
    needs = [{"need": "left-handed", "count": 2}, {"need": "fine-motor", "count": 2}]
    assert scissors_needed(tmp_path, 24, needs) == {"scissors": 22, "scissors-left": 2, "scissors-spring": 2}


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.integers(6, 30), st.integers(0, 3), st.integers(0, 2))
def test_however_many_are_adapted_the_total_stays(students: int, left: int, spring: int) -> None:
    needs = [{"need": need, "count": count} for need, count in (("left-handed", left), ("fine-motor", spring)) if count]
    with TemporaryDirectory() as plain, TemporaryDirectory() as adapted:
        ordinary = scissors_needed(Path(plain), students, [])
        replaced = scissors_needed(Path(adapted), students, needs)
    assert sum(replaced.values()) == sum(ordinary.values())
    assert (replaced.get("scissors-left", 0), replaced.get("scissors-spring", 0)) == (left, spring)


def test_more_needs_than_children_are_said_and_pack_no_more_than_children(tmp_path: Path) -> None:
    classes = [
        a_class("3-B", room="12", students=2, needs=[{"need": "left-handed", "count": 5}]),
        a_class("3-K", room="14", students=0),
    ]
    day = day_of(one_part(tmp_path, an_item("scissors"), classes=classes))
    assert line_of(day, "scissors-left").need == 2
    assert any("not enough ordinary ones for all the left-handed scissors" in note for note in day.notes)


def test_what_a_class_avoids_is_blocked_and_what_to_use_instead_is_on_the_list(tmp_path: Path) -> None:
    supplies = [a_supply("rubber-band", marks=["latex"], instead="cotton-tie"), a_supply("cotton-tie")]
    classes = [a_class("3-B", room="12", avoid=["latex"]), a_class("3-K", room="14", students=0)]
    day = day_of(one_part(tmp_path, an_item("rubber-band"), supplies=supplies, classes=classes))
    blocked = line_of(day, "rubber-band")
    assert "3-B avoids what is in it" in blocked.forbidden
    assert blocked.instead == "cotton tie"
    assert line_of(day, "cotton-tie").need == 24 + 3


NO_SPARE = {"at_least": 0, "percent": 0}


def test_what_replaces_a_forbidden_thing_adds_to_what_is_listed_of_it_already(tmp_path: Path) -> None:
    supplies = [
        a_supply("rubber-band", marks=["latex"], instead="cotton-tie", spare=NO_SPARE),
        a_supply("balloon", marks=["latex"], instead="cotton-tie", spare=NO_SPARE),
        a_supply("cotton-tie", spare=NO_SPARE),
    ]
    classes = [a_class("3-B", room="12", avoid=["latex"]), a_class("3-K", room="14", students=0)]
    items = an_item("rubber-band"), an_item("balloon"), an_item("cotton-tie", 2, per="class")
    day = day_of(one_part(tmp_path, *items, supplies=supplies, classes=classes))
    assert line_of(day, "cotton-tie").need == 24 + 24 + 2 * 2  # 3-K has its two ties for the class as well


def test_two_rules_against_one_thing_ask_for_its_replacement_once(tmp_path: Path) -> None:
    supplies = [a_supply("band", marks=["latex", "solvent"], instead="tie", spare=NO_SPARE), a_supply("tie")]
    classes = [a_class("3-B", room="12", avoid=["latex"]), a_class("3-K", room="14", students=0)]
    day = day_of(one_part(tmp_path, an_item("band"), supplies=supplies, classes=classes))
    assert len({why.rule for why in line_of(day, "band").because if why.rule}) == 2
    assert line_of(day, "tie").need == 24 + 3


def test_two_kinds_of_scissors_replaced_altogether_leave_one_spare_on_their_sum(tmp_path: Path) -> None:
    # 40 of each kind are 80, and the larger of 1 and 5 % is 4.
    instead = {"what": "scissors", "supply": "blunt", "everything": True}
    rule = {"id": "all-blunt", "title": "Blunt", "when": ["lists scissors"], "because": "young", "replace": [instead]}
    kinds = [a_supply(each, kind="tool", marks=["scissors"]) for each in ("scissors", "wavy")]
    classes = [a_class("3-B", room="12", students=40), a_class("3-K", room="14", students=0)]
    more = {"supplies": [*kinds, a_supply("blunt", kind="tool")], "classes": classes, "boxes": []}
    day = day_of(one_part(tmp_path, an_item("scissors"), an_item("wavy"), rules={"rules": [rule]}, **more))
    assert line_of(day, "blunt").need == 80 + 4


# ----------------------------------------------------------------------------- unknown outcomes: right for either


def test_after_an_untold_visit_both_parts_are_packed_each_supply_at_its_larger(tmp_path: Path) -> None:
    # 3-B may do part 1 (paper, glue, scissors) or part 2 (glue, scissors): nothing is packed twice.
    unsure = {"3-B": (Unsure(FRIDAY_BEFORE, "P1 3-B", "paper-hills", 1),)}
    progress = {"3-K": Progress("yarn-birds", 1)}
    day = day_of(small_school(tmp_path), unsure=unsure, progress=progress)
    needs = needs_by_supply(day)
    assert (needs["white-12x18"], needs["glue-stick"], needs["scissors"]) == (24 + 3, 24 + 3, 12 + 1)
    assert needs["yarn-ball"] == 22 + 3  # of 3-K alone
    assert line_of(day, "folder 3-B").critical  # part 2 cannot start without it


def test_two_untold_visits_may_reach_into_the_next_lesson(tmp_path: Path) -> None:
    question = Unsure(FRIDAY_BEFORE, "P1 3-B", "paper-hills", 1)
    day = day_of(small_school(tmp_path), unsure={"3-B": (question, question)})
    assert line_of(day, "yarn-ball").visits == ("P1 3-B",)
    assert len(day.questions) == 2


def test_what_is_counted_out_is_said_for_either_part(tmp_path: Path) -> None:
    first = a_part("cut", [an_item("scissors", into="cart")])
    second = a_part("stitch", [an_item("blunt-needle")])
    supplies = [
        a_supply("blunt-needle", "needles", kind="tool", sharp=True),
        a_supply("scissors", kind="tool", sharp=True),
    ]
    changes = {"lessons": [a_lesson("any", [first, second])], "teaching": {"3": ["any"]}, "supplies": supplies}
    unsure = {"3-B": (Unsure(FRIDAY_BEFORE, "P1 3-B", "any", 1),)}
    day = day_of(small_school(tmp_path, boxes=[], **changes), unsure=unsure)
    said = [check.what for check in day.checks if check.visit == "P1 3-B" and check.what.startswith("Count out")]
    assert said == [f"Count out, count back before line-up: {each}" for each in ("scissors", "needles")]


# ------------------------------------------------------------------------------------------------------ cautions

CROWDED = {
    "id": "crowded",
    "title": "Crowded",
    "when": ["students above 20"],
    "because": "{students} children",
    "cautions": [{"text": "{students} children in the room"}],
}


def crowd(folder: Path, students: int, shown: tuple[str, ...] = ()) -> Caution:
    classes = [a_class("3-B", room="12", students=students), a_class("3-K", room="14", students=0)]
    day = day_of(small_school(folder, classes=classes, rules={"rules": [CROWDED]}), cautioned=shown)
    (caution,) = (each for each in day.cautions if each.because[0].rule == "crowded")
    return caution


def test_a_caution_folds_once_it_was_shown_and_opens_again_when_a_fact_has_changed(tmp_path: Path) -> None:
    first = crowd(tmp_path / "first", 24)
    again = crowd(tmp_path / "again", 24, shown=(first.key,))
    more = crowd(tmp_path / "more", 29, shown=(first.key,))
    assert (first.is_new, again.is_new, more.is_new) == (True, False, True)
    assert first.key.startswith("caution/3-B/paper-hills/crowded/")


def missed(lesson: str, *parts: int) -> tuple[Owed, ...]:
    return tuple(Owed(lesson, part, FRIDAY_BEFORE, numbers=(11,)) for part in parts)


def missed_often(folder: Path, owed: tuple[Owed, ...], shown: tuple[str, ...] = ()) -> list[Caution]:
    day = day_of(reference_school(folder), owed={"3-B": owed}, cautioned=shown, progress=PLACES)
    return [each for each in day.cautions if "has missed" in each.what]


PLACES = {"3-B": Progress("burlap-birds", 4)}


def test_a_child_who_missed_three_parts_is_asked_about_for_each_lesson(tmp_path: Path) -> None:
    both = (*missed("burlap-birds", 1, 2, 3), *missed("paper-masks", 1, 2, 3))
    cautions = missed_often(tmp_path, both)
    assert [each.key.rsplit("/", 1)[0] for each in cautions] == [
        "caution/3-B/burlap-birds/missed often/11",
        "caution/3-B/paper-masks/missed often/11",
    ]


def test_a_fourth_missed_part_is_asked_about_though_three_were(tmp_path: Path) -> None:
    (three,) = missed_often(tmp_path / "three", missed("burlap-birds", 1, 2, 3))
    (same,) = missed_often(tmp_path / "same", missed("burlap-birds", 1, 2, 3), shown=(three.key,))
    (four,) = missed_often(tmp_path / "four", missed("burlap-birds", 1, 2, 3, 4), shown=(three.key,))
    assert (three.is_new, same.is_new, four.is_new) == (True, False, True)


# ----------------------------------------------------------------------------------- containers, matters, cases


def test_a_kit_that_stayed_in_a_room_is_shown_there_and_its_fetching_counts_into_leave_by(tmp_path: Path) -> None:
    at_store = day_of(reference_school(tmp_path))
    away = day_of(tmp_path, places={"printing": Place("11", FRIDAY_BEFORE, "P5")})
    kit = next(each for each in away.containers if each.id == "printing")
    assert (kit.place, kit.place_since) == ("11", "Fri 2 Oct P5")
    assert leave_by_now(at_store, Marks()) == 7 * 60 + 52
    assert leave_by_now(away, Marks()) == 7 * 60 + 52 - 2 * 2  # there and back, 2 minutes each way


@pytest.mark.parametrize(("place", "minute"), [("store", 52), ("12", 48)])
def test_once_the_kit_was_fetched_there_is_more_time_to_pack(tmp_path: Path, place: str, minute: int) -> None:
    day = day_of(reference_school(tmp_path), places={"printing": Place("11", FRIDAY_BEFORE, "P5")})
    moved = marks_of([Stands(at=at("7:30"), container="printing", place=place)])
    assert leave_by_now(day, moved) == 7 * 60 + minute


def test_a_day_without_visits_has_no_time_to_leave(tmp_path: Path) -> None:
    assert leave_by_now(day_of(small_school(tmp_path, timetable={})), Marks()) is None


def test_leave_by_is_the_bell_less_walk_set_up_and_slack(tmp_path: Path) -> None:
    # Common practice, no source: 8:00 less 2 walking, 4 setting up, 2 of slack is 7:52.
    assert day_of(reference_school(tmp_path)).leave_by == 7 * 60 + 52


def test_an_open_case_is_said_with_where_when_and_how_many(tmp_path: Path) -> None:
    case = Case("2026-10-02/P3 3-B/scissors", "scissors", 1, FRIDAY_BEFORE, "12", "P3", "3-B", 13, 12)
    (said,) = day_of(small_school(tmp_path), cases=(case,)).cases
    assert said == "Missing: 1 scissors since Room 12, Fri 2 Oct P3 3-B, 13 out 12 back, not reported yet"


def test_a_carried_matter_of_the_store_grows_stale_after_three_school_days(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    carried = Carried("short/box-3/yarn-ball", "short", "yarn", TUESDAY, container="box-3", supply="yarn-ball")
    state = State(carried=(carried,))
    age = {}
    for day in (7, 8, 9, 12):
        date_ = MONDAY.replace(day=day)
        (matter,) = day_on(book.plan, book.rules, state, date_).matters
        age[day] = (matter.school_days, matter.stale)
    assert age == {7: (1, False), 8: (2, False), 9: (3, False), 12: (4, True)}


def test_a_matter_moved_to_a_date_is_not_seen_before_it(tmp_path: Path) -> None:
    carried = Carried("short/box-3/yarn-ball", "short", "yarn", FRIDAY_BEFORE, not_before=TUESDAY)
    folder = small_school(tmp_path)
    assert day_of(folder, carried=(carried,)).matters == ()
    seen = structs.replace(carried, not_before=MONDAY)
    assert [each.key for each in day_of(folder, carried=(seen,)).matters] == ["short/box-3/yarn-ball"]


def test_a_matter_says_the_first_visit_that_needs_its_container(tmp_path: Path) -> None:
    carried = Carried("put right/stitching", "not put right", "rinse", FRIDAY_BEFORE, container="stitching")
    state: dict[str, Any] = {"carried": (carried,), "progress": {"3-B": Progress("burlap-birds", 2)}}
    (matter,) = day_of(reference_school(tmp_path), **state).matters
    assert matter.before_visit == "P3 3-B"


def test_the_same_inputs_give_the_same_day(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    assert day_of(folder) == day_of(folder)
    assert visit_of(day_of(folder), "4-D").start == 13 * 60 + 15
