"""The first plan of a folder that has none."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from checklists.files.plan_check import parts_by_file, problems_in
from checklists.files.plan_folder import CLASSES, SCHOOL
from checklists.files.plan_steps import change
from checklists.files.plan_writing import as_file
from checklists.files.safely import NotSaved, make_folder
from checklists.plan.plan_files import PlanFiles


def write_new_plan(folder: Path, files: PlanFiles, at: datetime) -> None:
    """Write every plan file, all or none. Raises NotSaved where a plan is there already, or where it does not fit."""
    must_be_without_plan(folder)
    wrong = next((each for each in problems_in(files) if each.level == "grave"), None)
    if wrong is not None:
        raise NotSaved(f"That does not fit. {wrong}")
    make_folder(folder)
    contents: dict[str, bytes | None] = {name: as_file(each) for name, each in parts_by_file(files).items()}
    change(folder, contents, "the new plan", at, is_first=True)


def must_be_without_plan(folder: Path) -> None:
    """Raises NotSaved where there is a plan in a folder already."""
    for name in (SCHOOL, CLASSES):
        if (folder / name).exists():
            raise NotSaved(f"There is a {name} already in {folder}. Nothing was written over it.")
