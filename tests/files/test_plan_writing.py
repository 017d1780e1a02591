"""Changes on screen written back to the plan files, one file at a time."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import msgspec
import pytest

from checklists.files.new_plan import write_new_plan
from checklists.files.plan_folder import read_plan
from checklists.files.plan_writing import write_school
from checklists.files.safely import NotSaved
from checklists.plan.plan_files import files_of
from checklists.plan.records import Lesson, Part, Plan
from checklists.rules.read import builtin_supplies
from tests.schools import reference_school, small_school

AT = datetime(2026, 10, 5, 7, 41)


def plan_of(folder: Path) -> Plan:
    read = read_plan(folder)
    assert read.plan is not None
    assert not read.from_last_good
    return read.plan


def test_a_plan_written_anew_reads_as_the_same_plan(tmp_path: Path) -> None:
    plan = plan_of(reference_school(tmp_path / "old"))
    write_new_plan(tmp_path / "new", files_of(plan, builtin_supplies()), AT)
    assert plan_of(tmp_path / "new") == plan
    with pytest.raises(NotSaved, match=r"There is a school\.toml already"):
        write_new_plan(tmp_path / "new", files_of(plan, builtin_supplies()), AT)


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
    folder = small_school(tmp_path / "old")
    write_new_plan(tmp_path / "new", files_of(plan_of(folder), builtin_supplies()), AT)
    assert "sponge" not in (tmp_path / "new" / "supplies.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("ident", ["../school", "a/b", ".hidden", "a\\b", "c:d"])
def test_a_lesson_never_gets_a_file_outside_its_folder(tmp_path: Path, ident: str) -> None:
    files = files_of(plan_of(small_school(tmp_path / "old")), builtin_supplies())
    lesson = Lesson(id=ident, title="x", parts=(Part(title="one"),))
    with pytest.raises(NotSaved, match=r"cannot be the name of a file|cannot stand in an id"):
        write_new_plan(tmp_path / "new", msgspec.structs.replace(files, lessons=(*files.lessons, lesson)), AT)
    assert not (tmp_path / "new").exists()
