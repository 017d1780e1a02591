"""Something else at one place of the plan: everything else stays as it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.files.plan_folder import read_plan
from checklists.forms.places import Gone, moved, put, put_in, taken_out, value_at
from checklists.plan.plan_files import PlanFiles, files_of
from checklists.rules.read import builtin_supplies
from tests.schools import reference_school


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> PlanFiles:
    plan = read_plan(reference_school(Path(tmp_path_factory.mktemp("school")))).plan
    assert plan is not None
    return files_of(plan, builtin_supplies())


def test_a_class_is_found_by_its_name_wherever_it_stands(files: PlanFiles) -> None:
    place = ("classes", "classes", "3-B", "tables")
    changed = put(files, place, 9)
    assert value_at(changed, place) == 9
    assert put(changed, place, value_at(files, place)) == files
    last = moved(changed, place[:-1], len(files.classes.classes) - 1)
    assert value_at(last, place) == 9 and last.classes.classes[-1].id == "3-B"


def test_what_is_put_in_and_taken_out_again_leaves_all_as_it_was(files: PlanFiles) -> None:
    lesson = files.lessons[0]
    place = ("lessons", lesson.id, "parts", 0, "items")
    item = value_at(files, (*place, 0))
    assert taken_out(put_in(files, place, item, 1), (*place, 1)) == files
    day = next(iter(files.classes.timetable))
    period = next(iter(files.classes.timetable[day]))
    without = taken_out(files, ("classes", "timetable", day, period))
    assert period not in without.classes.timetable[day] and without.lessons == files.lessons


@pytest.mark.parametrize(
    "place",
    [("classes", "classes", "9-Z"), ("school", "bells", 99), ("classes", "timetable", "Sun"), ("school", "name", "x")],
)
def test_a_place_that_is_not_there_any_more_is_told(files: PlanFiles, place: tuple[str | int, ...]) -> None:
    with pytest.raises(Gone):
        value_at(files, place)
