"""A class taught a lesson without one of its things: nothing of it is packed for it, all of it for the others."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.daybook.entries import Changed
from checklists.daybook.opening import first_state
from checklists.daybook.state import Owed, Progress, State
from checklists.files.plan_folder import read_plan
from checklists.lines.day import calendar_for
from checklists.lines.gathering import needs_of_day
from checklists.lines.need import Need
from checklists.lines.reasoning import Reasoning
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from checklists.visits import visits_on
from tests.days import at, day_of, lines_of, needs_by_supply
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    REFERENCE_PLACES,
    a_class,
    a_lesson,
    a_part,
    an_item,
    reference_school,
    small_school,
)


def without_glue_for_3b(folder: Path, **changes: Any) -> Path:
    """The small school; glue sticks are for 3-K (22) alone, the paper for 3-B (24) as well."""
    glue = an_item("glue-stick", not_for=["3-B"])
    part = a_part("glue them", [an_item("white-12x18"), glue], catch_up="full")
    again = a_part("glue more", [an_item("white-12x18"), glue])
    return small_school(
        folder, **{"lessons": [a_lesson("hills", [part, again])], "teaching": {"3": ["hills"]}} | changes
    )


def test_what_is_not_for_a_class_is_counted_for_the_others_alone(tmp_path: Path) -> None:
    needs = needs_by_supply(day_of(without_glue_for_3b(tmp_path)))
    assert needs["glue-stick"] == 22 + 3
    assert needs["white-12x18"] == 46 + 5


def test_it_is_not_in_the_catch_up_kit_of_that_class_either(tmp_path: Path) -> None:
    owed = {each: (Owed("hills", 1, FRIDAY_BEFORE, numbers=(4,)),) for each in ("3-B", "3-K")}
    places = {each: Progress(lesson="hills", part=2) for each in ("3-B", "3-K")}
    day = day_of(without_glue_for_3b(tmp_path), owed=owed, progress=places)
    assert "white-12x18" in needs_by_supply(day, "3-B") and "glue-stick" not in needs_by_supply(day, "3-B")
    kit = needs_by_supply(day, "3-K")
    assert "white-12x18" in kit


def test_it_comes_out_of_the_box_where_no_class_of_the_grade_needs_it(tmp_path: Path) -> None:
    folder = without_glue_for_3b(tmp_path, classes=[a_class("3-B", room="12")], timetable={"Mon": {"P1": "3-B"}})
    day = day_of(folder, contents={"box-3": {"glue-stick": 20}})
    assert [(each.supply, each.count) for each in day.take_out] == [("glue-stick", 20)]


def test_where_two_classes_are_taught_together_it_comes_for_the_one_that_needs_it(tmp_path: Path) -> None:
    together = Changed(at=at(), joined={"3-B": "3-K"})
    day = day_of(without_glue_for_3b(tmp_path), change=together)
    assert lines_of(day, "glue-stick")[0].need == 46 + 5


def test_a_class_that_is_not_there_any_more_is_told_and_does_no_harm(tmp_path: Path) -> None:
    folder = without_glue_for_3b(tmp_path, classes=[a_class("3-K", room="14")], timetable={"Mon": {"P1": "3-K"}})
    read = read_plan(folder)
    told = [each for each in read.problems if each.file == "lessons/hills.toml"]
    assert told and {each.level for each in told} == {"note"} and 'no class "3-B"' in str(told[0])
    assert needs_by_supply(day_of(folder))["glue-stick"] > 22


@lru_cache(maxsize=1)
def reference() -> tuple[Plan, RuleSet, State]:
    with TemporaryDirectory() as folder:
        read = read_plan(reference_school(Path(folder)))
    assert read.plan is not None and read.rules is not None
    places = {class_: Progress(lesson=lesson, part=part) for class_, (lesson, part) in REFERENCE_PLACES.items()}
    return read.plan, read.rules, structs.replace(first_state(read.plan), progress=places)


def needs_on_monday(plan: Plan) -> list[Need]:
    _, rules, state = reference()
    calendar = calendar_for(plan, state, MONDAY, None)
    reasoning = Reasoning(plan, rules, state, calendar)
    return needs_of_day(reasoning, MONDAY, reasoning.judge(MONDAY, visits_on(plan, state, calendar, MONDAY, None)))[0]


ITEMS = [
    (lesson.id, number, at)
    for lesson in reference()[0].lessons
    for number, part in enumerate(lesson.parts)
    for at in range(len(part.items))
]


@settings(max_examples=25, deadline=None)
@given(where=st.sampled_from(ITEMS), class_id=st.sampled_from(sorted(REFERENCE_PLACES)))
def test_leaving_a_thing_out_for_one_class_changes_what_no_other_class_needs(
    where: tuple[str, int, int], class_id: str
) -> None:
    """Law: the needs of every visit of another class are the same, reasons included."""
    plan, _, _ = reference()
    lesson_id, number, place = where
    lesson = plan.lesson_by_id[lesson_id]
    part = lesson.parts[number]
    items = list(part.items)
    items[place] = structs.replace(items[place], not_for=(class_id,))
    parts = list(lesson.parts)
    parts[number] = structs.replace(part, items=tuple(items))
    changed = structs.replace(lesson, parts=tuple(parts))
    lessons = tuple(changed if each.id == lesson_id else each for each in plan.lessons)
    before, after = needs_on_monday(plan), needs_on_monday(structs.replace(plan, lessons=lessons))
    assert [each for each in before if not each.visit.endswith(class_id)] == [
        each for each in after if not each.visit.endswith(class_id)
    ]
    mine = REFERENCE_PLACES[class_id] == (lesson_id, number + 1)
    supplies = [[each.supply for each in needs if each.visit.endswith(class_id)] for needs in (before, after)]
    # What a rule puts in the place of all of it comes by that rule all the same: blunt scissors for the young.
    assert (supplies[0] != supplies[1]) == (mine and part.items[place].supply in supplies[0])
