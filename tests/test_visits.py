"""The visits of a date, and a class's way through parts and lessons."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.calendar import calendar_of
from checklists.class_places import advance, place_after, progress_of
from checklists.daybook.entries import Changed
from checklists.daybook.opening import first_state
from checklists.daybook.state import Progress, State, Unsure
from checklists.files.plan_folder import read_plan
from checklists.lines.records import Step, Visit
from checklists.plan.records import Plan
from checklists.visits import next_visit_of, steps_for, visits_on
from checklists.walks import walk_between
from tests.days import at
from tests.schools import MONDAY, a_lesson, a_part, an_item, reference_school, small_school, write_toml


def plan_in(folder: Path) -> Plan:
    plan = read_plan(folder).plan
    assert plan is not None
    return plan


def visits(plan: Plan, change: Changed | None = None, state: State | None = None) -> tuple[Visit, ...]:
    return visits_on(plan, state or first_state(plan), calendar_of(plan.school), MONDAY, change)


@pytest.fixture
def reference(tmp_path: Path) -> Plan:
    return plan_in(reference_school(tmp_path))


@pytest.fixture
def small(tmp_path: Path) -> Plan:
    return plan_in(small_school(tmp_path))


# ------------------------------------------------------------------------------------------------ the day's visits


def test_visits_are_numbered_in_time_order_and_keyed_by_period_and_class(reference: Plan) -> None:
    found = visits(reference)
    assert [(each.name, each.key) for each in found[:3]] == [("V1", "P1 K-M"), ("V2", "P2 1-P"), ("V3", "P3 3-B")]
    assert [each.is_first for each in found] == [True, *[False] * 6]
    assert [each.is_last for each in found] == [*[False] * 6, True]


def test_minutes_between_visits_and_by_way_of_the_store(reference: Plan) -> None:
    # Common practice, no source: a swap is the walk to the store, 2 minutes of handling and the walk to the room.
    by_class = {each.class_id: each for each in visits(reference)}
    assert (by_class["1-P"].gap_before, by_class["1-P"].walk_before, by_class["1-P"].swap_minutes_before) == (0, 1, 5)
    assert (by_class["3-K"].gap_before, by_class["3-K"].swap_minutes_before) == (5, 6)
    assert by_class["2-R"].gap_before == 80
    assert (by_class["K-M"].gap_before, by_class["K-M"].walk_before) == (35, 2)
    assert by_class["5-H"].gap_after == 24 * 60 - (14 * 60 + 50)


def test_a_walk_that_nobody_measured_goes_by_the_store(reference: Plan) -> None:
    assert walk_between(reference, "4", "4") == 0
    assert walk_between(reference, "4", "9") == 1
    assert walk_between(reference, "9", "4") == 1
    assert walk_between(reference, "4", "23") == 2 + 4
    assert walk_between(reference, "store", "a room nobody knows") == reference.school.habits.default_walk


def test_a_class_that_is_away_is_not_visited_and_the_others_move_up(small: Plan) -> None:
    found = visits(small, Changed(at=at(), away=("3-B",)))
    assert [(each.name, each.class_id) for each in found] == [("V1", "3-K")]


def test_bells_that_leave_a_period_out_leave_its_visit_out(reference: Plan) -> None:
    found = visits(reference, Changed(at=at(), bells="two hours later"))
    assert [each.period for each in found] == ["P3", "P4", "P5", "P6", "P7"]
    assert found[0].minutes == 30


def test_bells_that_nobody_knows_are_the_regular_ones(reference: Plan) -> None:
    assert len(visits(reference, Changed(at=at(), bells="half moon"))) == 7


def test_a_substitute_teaches_no_part(small: Plan) -> None:
    found = visits(small, Changed(at=at(), substitute=True))
    assert [(each.substitute, each.steps) for each in found] == [(True, ()), (True, ())]


def test_a_class_without_a_lesson_is_visited_all_the_same(tmp_path: Path) -> None:
    plan = plan_in(small_school(tmp_path, teaching={}))
    assert [each.steps for each in visits(plan)] == [(), ()]


def test_about_24_is_24_and_said_to_be_about(tmp_path: Path) -> None:
    visit = visits(plan_in(small_school(tmp_path, students="about 24")))[0]
    assert (visit.students, visit.about) == (24, True)


# ---------------------------------------------------------------------------------------- through parts and lessons


def test_a_class_goes_through_the_parts_and_on_to_the_next_lesson(small: Plan) -> None:
    class_ = small.class_by_id["3-B"]
    second = advance(small, class_, Progress("paper-hills", 1), MONDAY)
    assert second == Progress("paper-hills", 2, taught_on=MONDAY)
    third = advance(small, class_, second, MONDAY)
    assert third == Progress("yarn-birds", 1, lessons_done=("paper-hills",))
    assert third.taught_on is None  # nothing of the new lesson dries yet


def test_two_parts_in_one_visit_may_finish_a_lesson(small: Plan) -> None:
    class_ = small.class_by_id["3-B"]
    assert place_after(small, class_, Progress("paper-hills", 1), (1, 2), MONDAY).lesson == "yarn-birds"


def test_after_the_last_lesson_comes_the_filler(tmp_path: Path) -> None:
    folder = small_school(tmp_path)
    filler = a_lesson("crayon-drawing", [a_part("draw", [an_item("white-12x18")])])
    write_toml(folder / "lessons" / "crayon-drawing.toml", filler)
    with (folder / "school.toml").open("a", encoding="utf-8") as school:
        school.write('\n[habits]\nfiller = "crayon-drawing"\n')
    plan = plan_in(folder)
    class_ = plan.class_by_id["3-B"]
    progress = Progress("yarn-birds", 1, lessons_done=("paper-hills",))
    after = advance(plan, class_, progress, MONDAY)
    assert (after.lesson, after.part) == ("crayon-drawing", 1)
    assert advance(plan, class_, after, MONDAY).lesson == "crayon-drawing"


def test_after_the_last_lesson_without_a_filler_no_lesson_is_left(small: Plan) -> None:
    class_ = small.class_by_id["3-B"]
    after = advance(small, class_, Progress("yarn-birds", 1, lessons_done=("paper-hills",)), MONDAY)
    assert after.lessons_done == ("paper-hills", "yarn-birds")
    assert steps_for(small, State(progress={"3-B": after}), class_, MONDAY) == ()


def test_a_lesson_that_is_no_longer_in_the_plan_begins_with_the_first_one(small: Plan) -> None:
    state = State(progress={"3-B": Progress("a lesson of last year", 3)})
    assert progress_of(small, state, small.class_by_id["3-B"]) == Progress("paper-hills", 1)


@pytest.mark.parametrize(
    ("untold", "steps"),
    [
        (0, (Step("paper-hills", 1),)),
        (1, (Step("paper-hills", 1), Step("paper-hills", 2))),
        (2, (Step("paper-hills", 1), Step("paper-hills", 2), Step("yarn-birds", 1))),
        (5, (Step("paper-hills", 1), Step("paper-hills", 2), Step("yarn-birds", 1))),
    ],
)
def test_each_untold_visit_adds_the_part_it_might_be_up_to_three(
    small: Plan, untold: int, steps: tuple[Step, ...]
) -> None:
    questions = tuple(Unsure(date(2026, 9, 14 + n), "P1 3-B", "paper-hills", 1) for n in range(untold))
    state = State(unsure={"3-B": questions} if questions else {})
    assert steps_for(small, state, small.class_by_id["3-B"], MONDAY) == steps


def test_beyond_three_parts_nobody_finds_anything_in_the_box(reference: Plan) -> None:
    """Burlap Birds has four parts; after five visits that nobody told of, three of them are packed."""
    question = Unsure(date(2026, 9, 14), "P3 3-B", "burlap-birds", 1)
    state = State(unsure={"3-B": (question,) * 5})
    steps = steps_for(reference, state, reference.class_by_id["3-B"], MONDAY)
    assert [step.part for step in steps] == [1, 2, 3]


def test_the_next_visit_of_a_class_is_found_in_the_timetable(small: Plan, tmp_path: Path) -> None:
    calendar = calendar_of(small.school)
    assert next_visit_of(small, calendar, "3-B", MONDAY) == date(2026, 10, 8)
    assert next_visit_of(small, calendar, "3-K", MONDAY) == date(2026, 10, 12)
    assert next_visit_of(small, calendar, "9-Z", MONDAY) is None


def test_the_next_visit_of_a_class_slides_with_the_cycle(reference: Plan) -> None:
    calendar = calendar_of(reference.school)
    assert next_visit_of(reference, calendar, "4-D", MONDAY) == date(2026, 10, 14)
    slid = calendar_of(reference.school, lost=(date(2026, 10, 6),))
    assert next_visit_of(reference, slid, "4-D", MONDAY) == date(2026, 10, 15)
