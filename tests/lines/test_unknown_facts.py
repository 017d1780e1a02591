"""What nobody has said of a room is asked where a visit's list turns on it: not before, and never once it is known."""

from __future__ import annotations

from datetime import timedelta
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from checklists.daybook.opening import first_state
from checklists.daybook.state import Progress, State
from checklists.files.plan_folder import read_plan
from checklists.lines.day import day_on
from checklists.lines.records import Day
from checklists.lines.unknown_facts import UnknownFact, unknown_facts
from checklists.plan.records import Plan, Room
from checklists.plan.room_notes import ROOM_FACTS, RoomFact, say_of_room
from checklists.rules.read import RuleSet
from tests.references.random_schools import FIRST_DAY, write_random_school
from tests.schools import (
    MONDAY,
    REFERENCE_PLACES,
    a_lesson,
    a_part,
    a_room,
    an_item,
    reference_school,
    small_school,
)


def a_school(folder: Path, *tags: str, **changes: Any) -> tuple[Plan, RuleSet, State]:
    """The small school; 3-B does one part with these tags in Room 12, of which nothing is said."""
    lesson = a_lesson("any", [a_part("the part", [an_item("white-12x18")], tags=list(tags))])
    rooms = {"rooms": [a_room("12"), a_room("14")]}
    periods = {"id": "regular", "periods": [{"name": "P1", "start": "8:00", "end": "8:45"}]}
    school = {"name": "S", "first_day": MONDAY, "last_day": MONDAY.replace(month=12), "bells": [periods]}
    plan = {"lessons": [lesson], "teaching": {"3": ["any"]}, "school": {**school, **rooms}}
    plan["timetable"] = {"Mon": {"P1": "3-B"}}
    read = read_plan(small_school(folder, **{**plan, **changes}))
    assert read.plan is not None and read.rules is not None, read.problems
    return read.plan, read.rules, first_state(read.plan)


def asked(plan: Plan, rules: RuleSet, state: State) -> list[tuple[str, RoomFact]]:
    found = unknown_facts(plan, rules, state, day_on(plan, rules, state, MONDAY), None)
    return [(each.room, each.fact) for each in found]


def test_a_drawing_asks_nothing_of_the_room(tmp_path: Path) -> None:
    assert asked(*a_school(tmp_path, "drawing")) == []


def test_the_first_wet_part_in_a_room_asks_for_its_sink_floor_and_places_to_dry(tmp_path: Path) -> None:
    assert asked(*a_school(tmp_path, "watercolour")) == [("12", "sink"), ("12", "carpet"), ("12", "drying_places")]


def test_a_demonstration_asks_for_the_projector_only(tmp_path: Path) -> None:
    assert asked(*a_school(tmp_path, "demo")) == [("12", "projector")]


def test_a_rule_that_is_switched_off_asks_for_nothing(tmp_path: Path) -> None:
    read = read_plan(small_school(tmp_path))
    assert read.rules is not None
    of_projector = [each.id for each in read.rules.rules if {"projector", "no projector"} & set(each.when)]
    assert of_projector
    off = [{"rule": each, "reason": "tried"} for each in of_projector]
    assert asked(*a_school(tmp_path, "demo", rules={"off": off})) == []


@pytest.mark.parametrize("room", [[], [a_room("12")]])
def test_a_room_without_an_entry_is_asked_like_one_with_an_empty_one(tmp_path: Path, room: list[Any]) -> None:
    plan, rules, state = a_school(tmp_path, "demo")
    plan = structs.replace(plan, school=structs.replace(plan.school, rooms=tuple(Room(each["id"]) for each in room)))
    assert asked(plan, rules, state) == [("12", "projector")]


# ------------------------------------------------------------------------------------------------------------ laws


@lru_cache(maxsize=1)
def reference() -> tuple[Plan, RuleSet, State]:
    with TemporaryDirectory() as folder:
        read = read_plan(reference_school(Path(folder)))
    assert read.plan is not None and read.rules is not None
    places = {class_: Progress(lesson=lesson, part=part) for class_, (lesson, part) in REFERENCE_PLACES.items()}
    return read.plan, read.rules, structs.replace(first_state(read.plan), progress=places)


ROOMS = ("4", "9", "11", "12", "14", "21", "23")
some_rooms = st.tuples(
    *(
        st.builds(
            Room,
            id=st.just(room),
            sink=st.sampled_from([None, True, False]),
            carpet=st.sampled_from([None, True, False]),
            projector=st.sampled_from([None, True, False]),
            drying_places=st.sampled_from([None, 0, 12, 40]),
        )
        for room in ROOMS
    )
)


def with_rooms(rooms: tuple[Room, ...]) -> Plan:
    """The reference school, in which 3-B shows something and 5-H paints."""
    plan, _, _ = reference()
    tags = {"burlap-birds": ("needles", "demo"), "paper-masks": ("tempera", "cutting")}
    lessons = tuple(
        structs.replace(each, parts=tuple(structs.replace(part, tags=tags[each.id]) for part in each.parts))
        if each.id in tags
        else each
        for each in plan.lessons
    )
    return structs.replace(plan, lessons=lessons, school=structs.replace(plan.school, rooms=rooms))


def told_by(day: Day) -> object:
    """What is on a list, without the reasons, for each visit."""
    lines = [structs.replace(each, because=(), number=0) for each in day.lines]
    tasks = [(each.key, each.what) for each in day.tasks if each.for_date == day.date]
    checks = [(each.visit, each.key, each.critical) for each in day.checks]
    cautions = [(each.visit, each.key, each.critical) for each in day.cautions]
    return lines, tasks, checks, cautions, [each.key for each in day.decisions]


@settings(max_examples=20, deadline=None)
@given(rooms=some_rooms, at=st.integers(0, len(ROOMS) - 1))
def test_asked_is_exactly_what_makes_another_list_with_one_answer_than_with_the_other(
    rooms: tuple[Room, ...], at: int
) -> None:
    """Law, held against whole days made with either answer. What is known is never asked."""
    _, rules, state = reference()
    plan = with_rooms(rooms)
    found = set(asked(plan, rules, state))
    assert all(getattr(plan.room_by_id[room], fact) is None for room, fact in found)
    room = rooms[at]
    for fact in (each for each in ROOM_FACTS if getattr(room, each) is None):
        answers = (0, 500) if fact == "drying_places" else (True, False)
        schools = (say_of_room(plan.school, room.id, fact, each) for each in answers)
        lists = [told_by(day_on(structs.replace(plan, school=school), rules, state, MONDAY)) for school in schools]
        assert ((room.id, fact) in found) == (lists[0] != lists[1]), (room.id, fact)


def test_an_answer_is_not_asked_again_and_the_question_names_the_visit(tmp_path: Path) -> None:
    plan, rules, state = a_school(tmp_path, "watercolour")
    day = day_on(plan, rules, state, MONDAY)
    first: UnknownFact = unknown_facts(plan, rules, state, day, None)[0]
    assert (first.fact, first.visit.class_id) == ("sink", "3-B")
    plan = structs.replace(plan, school=say_of_room(plan.school, "12", "sink", False))
    assert ("12", "sink") not in asked(plan, rules, state)


@pytest.mark.parametrize("seed", [0])
def test_the_same_holds_in_schools_drawn_by_chance_with_rules_of_their_own(seed: int, tmp_path: Path) -> None:
    read = read_plan(write_random_school(tmp_path, seed))
    assert read.plan is not None and read.rules is not None
    plan, rules, state = read.plan, read.rules, first_state(read.plan)
    seen: set[bool] = set()
    for on in (FIRST_DAY + timedelta(n) for n in range(3)):
        day = day_on(plan, rules, state, on)
        found = {(each.room, each.fact) for each in unknown_facts(plan, rules, state, day, None)}
        for room in {visit.room for visit in day.visits}:
            known = plan.room_by_id.get(room, Room(room))
            for fact in (each for each in ROOM_FACTS if getattr(known, each) is None):
                answers = (0, 500) if fact == "drying_places" else (True, False)
                schools = (say_of_room(plan.school, room, fact, each) for each in answers)
                lists = [told_by(day_on(structs.replace(plan, school=each), rules, state, on)) for each in schools]
                assert ((room, fact) in found) == (lists[0] != lists[1]), (on, room, fact)
                seen.add((room, fact) in found)
    assert seen == {True, False}
