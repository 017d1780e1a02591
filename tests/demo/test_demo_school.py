"""The demo school as its files stand: they read into the plan's records, and what they name is there.

Sizes of a school (classes, visits, critical things) are common practice, no source; the school is invented.
"""

from __future__ import annotations

import shutil
import tomllib
from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any, get_args

import msgspec
import pytest

import checklists
from checklists.calendar import calendar_of
from checklists.daybook.entries import OutcomeKind, Remedy
from checklists.files.plan_folder import read_plan
from checklists.plan.records import Classes, Kits, Lesson, Part, Period, School, Supplies, Supply
from checklists.rules.records import RuleFile
from checklists.words import minute_of

DEMO = Path(checklists.__file__).parent / "demo"
SCHOOL = DEMO / "school"


def toml_of(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


SCHOOL_RECORD = msgspec.convert(toml_of(SCHOOL / "school.toml"), School)
CLASSES = msgspec.convert(toml_of(SCHOOL / "classes.toml"), Classes)
SUPPLIES = msgspec.convert(toml_of(SCHOOL / "supplies.toml"), Supplies).supplies
KITS = msgspec.convert(toml_of(SCHOOL / "kits.toml"), Kits)
RULES = msgspec.convert(toml_of(SCHOOL / "rules.toml"), RuleFile)
LESSONS = {path.stem: msgspec.convert(toml_of(path), Lesson) for path in sorted((SCHOOL / "lessons").glob("*.toml"))}
HISTORY = toml_of(DEMO / "history.toml")

CLASS_BY_ID = {each.id: each for each in CLASSES.classes}
SUPPLY_BY_ID: dict[str, Supply] = {each.id: each for each in SUPPLIES}
WET = {"watercolour", "tempera", "ink", "clay", "plaster", "paste", "glaze"}


def parts() -> Iterator[tuple[str, Part]]:
    for lesson in LESSONS.values():
        for number, part in enumerate(lesson.parts, 1):
            yield f"{lesson.id} {number}", part


def visits_before(day: date) -> dict[date, list[str]]:
    """School day -> classes visited, from the first day of the history on."""
    calendar = calendar_of(SCHOOL_RECORD)
    days: dict[date, list[str]] = {}
    at = HISTORY["starts_on"]
    while at < day:
        days[at] = list(CLASSES.timetable[calendar.day_name(at)].values())
        at = calendar.next_school_day(at)
    return days


# ------------------------------------------------------------------------------------------------------ the plan


def test_the_plan_folder_reads_without_a_problem(tmp_path: Path) -> None:
    # A copy: reading a folder leaves the last good plan beside it.
    shutil.copytree(SCHOOL, tmp_path / "school")
    read = read_plan(tmp_path / "school")
    assert [str(problem) for problem in read.problems] == []
    assert read.plan is not None
    assert len(read.plan.lessons) == len(LESSONS)


def test_an_elementary_school_of_usual_size() -> None:
    grades = Counter(each.grade for each in CLASSES.classes)
    assert grades == {"K": 4, "1": 4, "2": 4, "3": 4, "4": 4, "5": 4}
    assert 470 <= sum(each.headcount for each in CLASSES.classes) <= 500
    assert all(18 <= each.headcount <= 28 for each in CLASSES.classes)
    assert [each.students for each in CLASSES.classes if each.is_about] == ["about 22"]
    assert 170 <= len(calendar_of(SCHOOL_RECORD).planned) <= 190


def test_five_to_seven_visits_a_day_and_every_class_once_or_twice_a_cycle() -> None:
    assert set(CLASSES.timetable) == set(SCHOOL_RECORD.rotation.days)
    assert all(5 <= len(day) <= 7 for day in CLASSES.timetable.values())
    seen = Counter(each for day in CLASSES.timetable.values() for each in day.values())
    assert set(seen) == set(CLASS_BY_ID)
    assert set(seen.values()) == {1, 2}
    assert seen.total() == 36


def test_nobody_is_visited_twice_on_one_day() -> None:
    for day in CLASSES.timetable.values():
        assert len(set(day.values())) == len(day)


def test_every_period_of_the_timetable_rings_in_every_bell_schedule() -> None:
    taught = {period for day in CLASSES.timetable.values() for period in day}
    for bells in SCHOOL_RECORD.bells:
        assert taught <= {period.name for period in bells.periods}


@pytest.mark.parametrize("bells", SCHOOL_RECORD.bells, ids=lambda bells: bells.id)
def test_periods_and_breaks_follow_one_another_without_overlap(bells: Any) -> None:
    spans = sorted((minute_of(each.start), minute_of(each.end)) for each in (*bells.periods, *bells.breaks))
    assert all(start < end for start, end in spans)
    assert all(before[1] <= after[0] for before, after in pairwise(spans))


def test_every_part_fits_the_shortest_regular_period() -> None:
    def length(period: Period) -> int:
        return minute_of(period.end) - minute_of(period.start)

    shortest = min(length(period) for period in SCHOOL_RECORD.bells[0].periods)
    for name, part in parts():
        assert part.least_minutes <= part.minutes <= shortest, name


def test_every_room_can_be_reached_from_the_store() -> None:
    rooms = {room.id for room in SCHOOL_RECORD.rooms}
    from_store = {end for walk in SCHOOL_RECORD.walks for end in walk.between if "store" in walk.between} - {"store"}
    assert from_store == rooms
    assert {end for walk in SCHOOL_RECORD.walks for end in walk.between} <= rooms | {"store"}
    assert {each.room for each in CLASSES.classes} <= rooms
    assert sum(room.upstairs for room in SCHOOL_RECORD.rooms) == 2


def test_a_grade_is_taught_enough_for_the_year_and_each_lesson_once() -> None:
    visits = Counter(CLASS_BY_ID[each].grade for day in CLASSES.timetable.values() for each in day.values())
    for grade, lessons in CLASSES.teaching.items():
        assert len(set(lessons)) == len(lessons)
        assert 14 <= len(lessons) <= 18
        cycles = len(calendar_of(SCHOOL_RECORD).planned) / len(SCHOOL_RECORD.rotation.days)
        taught = sum(len(LESSONS[lesson].parts) for lesson in lessons)
        # The filler takes the visits that are left: lost ones, and those for which clay is still in the kiln.
        assert taught >= 0.7 * cycles * visits[grade] / 4, grade


def test_lessons_are_taught_in_the_grades_they_are_written_for() -> None:
    for grade, lessons in CLASSES.teaching.items():
        for lesson in lessons:
            assert grade in LESSONS[lesson].grades, (grade, lesson)
    taught = {lesson for lessons in CLASSES.teaching.values() for lesson in lessons}
    assert set(LESSONS) - taught == {SCHOOL_RECORD.habits.filler}


def test_a_lesson_is_named_like_its_file_and_has_one_to_four_parts() -> None:
    for name, lesson in LESSONS.items():
        assert lesson.id == name
        assert 1 <= len(lesson.parts) <= 4, name


def test_each_part_has_one_to_three_critical_things() -> None:
    for name, part in parts():
        assert 1 <= sum(item.critical for item in part.items) <= 3, name


def test_wet_work_dries_before_more_goes_on_top() -> None:
    for lesson in LESSONS.values():
        for part in lesson.parts[:-1]:
            if {"tempera", "paste", "plaster", "clay"} & set(part.tags):
                assert part.wait is not None, lesson.id
                assert part.wait.days >= 1, lesson.id


def test_clay_waits_seven_days_and_two_in_the_kiln() -> None:
    waits = [part.wait for _, part in parts() if "clay" in part.tags]
    assert len(waits) >= 3
    assert all(wait is not None and (wait.days, wait.then_school_days) == (7, 2) for wait in waits)


def test_wet_parts_are_made_up_in_a_short_dry_version_or_not_at_all() -> None:
    for name, part in parts():
        if WET & set(part.tags):
            assert part.catch_up in ("short", "none"), name
        assert (part.catch_up == "short") == bool(part.short_version), name


def test_all_usual_techniques_are_taught() -> None:
    tags = {tag for _, part in parts() for tag in part.tags}
    assert tags >= WET | {"oil pastel", "chalk", "stitching", "needles", "printing", "wire", "cutting", "hot tool"}


def test_every_supply_named_anywhere_is_in_the_catalogue() -> None:
    named = {item.supply for _, part in parts() for item in (*part.items, *part.short_version)}
    named |= {item.supply for lesson in LESSONS.values() for item in lesson.extension}
    named |= {supply for box in KITS.boxes for supply in box.standing}
    named |= {supply for kit in KITS.kits for supply in kit.holds}
    named |= set(SCHOOL_RECORD.cart.standing)
    named |= {supply for each in CLASSES.classes for supply in each.has}
    named |= {each.instead for each in SUPPLIES if each.instead}
    named |= {add.supply for rule in RULES.rules for add in rule.add}
    assert named - set(SUPPLY_BY_ID) == set()


def test_kits_and_dry_versions_of_lessons_are_there() -> None:
    kits = {kit.id for kit in KITS.kits}
    for lesson in LESSONS.values():
        assert set(lesson.kits) <= kits, lesson.id
        assert lesson.dry_version in {"", *LESSONS}, lesson.id
        if lesson.dry_version:
            assert not WET & {tag for part in LESSONS[lesson.dry_version].parts for tag in part.tags}, lesson.id


def test_the_catalogue_says_where_things_are_and_what_they_weigh() -> None:
    assert len(SUPPLY_BY_ID) == len(SUPPLIES) >= 130
    assert all(each.shelf and each.grams for each in SUPPLIES)
    assert {each.on_hand for each in SUPPLIES} >= {"plenty", "low"}
    assert all(each.counted is None or each.counted < HISTORY["starts_on"] for each in SUPPLIES)


def test_what_stands_in_containers_is_not_more_than_she_has() -> None:
    standing = Counter(SCHOOL_RECORD.cart.standing)
    for contents in (*(box.standing for box in KITS.boxes), *(kit.holds for kit in KITS.kits)):
        standing.update(contents)
    for supply, count in standing.items():
        on_hand = SUPPLY_BY_ID[supply].on_hand
        if isinstance(on_hand, int):
            assert count <= on_hand, supply


def test_what_is_sharp_stays_with_her() -> None:
    for kit in KITS.kits:
        if any(SUPPLY_BY_ID[supply].sharp for supply in kit.holds):
            assert not kit.may_be_left, kit.id
    for box in KITS.boxes:
        if any(SUPPLY_BY_ID[supply].sharp for supply in box.standing):
            assert not box.may_be_left, box.grade


def test_powder_is_never_in_childrens_hands() -> None:
    powders = {each.id for each in SUPPLIES if "powder" in each.marks}
    assert all(SUPPLY_BY_ID[each].for_the_teacher for each in powders)
    assert not powders & {item.supply for _, part in parts() for item in (*part.items, *part.short_version)}


def test_each_grade_has_a_box_with_its_own_sign_and_shelf() -> None:
    assert {box.grade for box in KITS.boxes} == set(CLASSES.teaching)
    assert len({box.sign for box in KITS.boxes}) == len({box.shelf for box in KITS.boxes}) == len(KITS.boxes)


def test_needs_and_things_to_avoid_are_spread_over_the_classes() -> None:
    needs = {need.need for each in CLASSES.classes for need in each.needs}
    assert len(needs) >= 10
    assert sum(bool(each.needs) for each in CLASSES.classes) >= 10
    avoided = {word for each in CLASSES.classes for word in each.avoid}
    assert avoided == {"latex", "nut", "wool"}
    assert all(any(word in each.marks for each in SUPPLIES) for word in avoided)
    for each in CLASSES.classes:
        for need in each.needs:
            assert need.count <= each.headcount
            assert all(1 <= table <= each.tables for table in need.tables), each.id


# --------------------------------------------------------------------------------------- two weeks that happened


def test_the_history_is_the_ten_school_days_before_the_demo_opens() -> None:
    days = visits_before(HISTORY["opens_on"])
    assert len(days) == 10
    assert HISTORY["opens_on"] - HISTORY["starts_on"] == timedelta(days=15)
    written = [each["date"] for each in HISTORY["days"]]
    assert written == sorted(set(written))
    assert set(written) <= set(days)


def test_every_class_stands_in_a_lesson_of_its_grade() -> None:
    assert set(HISTORY["places"]) == set(CLASS_BY_ID)
    for class_id, place in HISTORY["places"].items():
        assert place["lesson"] in CLASSES.teaching[CLASS_BY_ID[class_id].grade]
        assert 1 <= place["part"] <= len(LESSONS[place["lesson"]].parts)


def test_what_is_told_of_a_visit_can_have_happened() -> None:
    days = visits_before(HISTORY["opens_on"])
    for day in HISTORY["days"]:
        told = [visit["class"] for visit in day["visits"]] + day.get("unknown", [])
        assert len(set(told)) == len(told)
        counted = [each["class"] for each in (*day.get("sharps", ()), *day.get("reported", ()))]
        assert {*told, *counted, *day.get("not_handed_out", ())} <= set(days[day["date"]])
        for visit in day["visits"]:
            assert visit["outcome"] in get_args(OutcomeKind)
            assert all(1 <= number <= CLASS_BY_ID[visit["class"]].headcount for number in visit.get("absent", ()))
        assert all(short["remedy"] in get_args(Remedy) for short in day.get("short", ()))
        assert set(day.get("low", ())) <= set(SUPPLY_BY_ID)


def test_the_demo_opens_with_something_of_everything() -> None:
    days = HISTORY["days"]
    yesterday = days[-1]
    today = CLASSES.timetable[calendar_of(SCHOOL_RECORD).day_name(HISTORY["opens_on"])].values()
    outcomes = {visit["outcome"] for day in days for visit in day["visits"]}
    assert outcomes >= {"done", "done except", "about half", "not taught", "went further"}
    newest = {visit["class"]: visit for day in days for visit in day["visits"]}
    assert any(newest[each].get("absent") for each in today if each in newest)
    assert any(newest[each].get("absent_count") for each in today if each in newest)
    assert all(yesterday[each] for each in ("short", "left", "not_put_right", "unknown"))
    assert any("glue-stick" in day.get("low", ()) for day in days)
    missing = [case for day in days for case in day.get("sharps", ()) if case["back"] < case["out"]]
    assert [case["supply"] for case in missing] == ["scissors"]
    assert any(day.get("reported") for day in days)
    assert any(day.get("not_handed_out") for day in days)


def test_the_opening_day_has_seven_visits_two_of_them_back_to_back() -> None:
    taught = CLASSES.timetable[calendar_of(SCHOOL_RECORD).day_name(HISTORY["opens_on"])]
    periods = [period for period in SCHOOL_RECORD.bells[0].periods if period.name in taught]
    assert len(periods) == 7
    assert sum(before.end == after.start for before, after in pairwise(periods)) == 1
