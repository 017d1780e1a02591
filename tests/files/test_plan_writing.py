"""Changes on screen written back to the plan files, one file at a time."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from checklists.files.plan_folder import read_plan
from checklists.files.plan_writing import (
    write_classes,
    write_kits,
    write_lesson,
    write_school,
    write_supplies,
)
from checklists.files.safely import NotSaved
from checklists.plan.records import Classes, Kits, Lesson, Part, Plan
from tests.schools import reference_school, small_school


def plan_of(folder: Path) -> Plan:
    read = read_plan(folder)
    assert read.plan is not None
    assert not read.from_last_good
    return read.plan


def test_a_plan_written_file_by_file_reads_as_the_same_plan(tmp_path: Path) -> None:
    plan = plan_of(reference_school(tmp_path / "old"))
    new = tmp_path / "new"
    new.mkdir()
    write_school(new, plan.school)
    write_classes(new, Classes(plan.classes, plan.timetable, plan.teaching))
    write_supplies(new, plan.supplies)
    write_kits(new, Kits(plan.boxes, plan.kits))
    for lesson in plan.lessons:
        write_lesson(new, lesson)
    assert plan_of(new) == plan


def test_only_the_file_of_the_changed_thing_is_written_and_it_says_what_is_lost(tmp_path: Path) -> None:
    folder = small_school(tmp_path)
    before = {path: path.read_bytes() for path in folder.rglob("*.toml")}
    plan = plan_of(folder)
    write_school(folder, msgspec.structs.replace(plan.school, name="New Name"))
    changed = [path.name for path, content in before.items() if path.read_bytes() != content]
    assert changed == ["school.toml"]
    assert "remarks typed into it are lost" in (folder / "school.toml").read_text(encoding="utf-8").splitlines()[0]
    assert (folder / "school.toml.before").read_bytes() == before[folder / "school.toml"]
    assert plan_of(folder).school.name == "New Name"


def test_supplies_that_come_with_the_program_are_not_copied_into_her_file(tmp_path: Path) -> None:
    folder = small_school(tmp_path)
    write_supplies(folder, plan_of(folder).supplies)
    assert "sponge" not in (folder / "supplies.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("ident", ["../school", "a/b", ".hidden"])
def test_a_lesson_never_gets_a_file_outside_its_folder(tmp_path: Path, ident: str) -> None:
    with pytest.raises(NotSaved, match="cannot be the name of a file"):
        write_lesson(tmp_path, Lesson(id=ident, title="x", parts=(Part(title="one"),)))
    assert not list(tmp_path.rglob("*.toml"))
