"""What would be wrong with a plan if it were written, while nothing is."""

from __future__ import annotations

from pathlib import PurePath, PureWindowsPath

import msgspec

from checklists.files.plan_folder import CLASSES, KITS, LESSONS, SCHOOL, SUPPLIES, compiled_rules, words_of
from checklists.files.plan_writing import as_table
from checklists.files.typed import records_from
from checklists.plan.check import problems_of
from checklists.plan.file_names import told_of_name
from checklists.plan.plan_files import PlanFiles, plan_of
from checklists.plan.records import Supplies
from checklists.problems import Problem
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile

USE_PLAIN = "Use letters, digits and dashes."


def is_plain_name(name: str) -> bool:
    """Whether a name leads to a file in its own folder, and to none that is passed over when the folder is read."""
    return PurePath(name).name == name and PureWindowsPath(name).name == name and not name.startswith(".")


def parts_by_file(files: PlanFiles) -> dict[str, msgspec.Struct]:
    """The name of each plan file, and what stands in it."""
    named: dict[str, msgspec.Struct] = {
        SCHOOL: files.school,
        CLASSES: files.classes,
        SUPPLIES: Supplies(files.supplies),
        KITS: files.kits,
    }
    return named | {f"{LESSONS}/{each.id}.toml": each for each in files.lessons}


def problems_in(files: PlanFiles, own_rules: RuleFile = RuleFile()) -> tuple[Problem, ...]:  # noqa: B008 - frozen
    """Every problem that reading these files would tell, notes included; without line numbers."""
    wrong: list[Problem] = []
    stems = {each.id for each in files.lessons}
    for name, record in parts_by_file(files).items():
        lesson = getattr(record, "id", "") if name.startswith(LESSONS) else ""
        _, problems = records_from(
            as_table(record), type(record), file=name, entry=f"lesson {lesson}" if lesson else ""
        )
        wrong += problems
        if lesson and not is_plain_name(lesson):
            wrong.append(Problem(name, f"lesson {lesson}", "Its id cannot be the name of a file.", USE_PLAIN))
        wrong += told_of_name(name, stems) if lesson else ()
    if any(each.level == "grave" for each in wrong):
        return tuple(wrong)
    plan = plan_of(files, builtin_supplies())
    _, of_rules = compiled_rules(plan, own_rules)
    return (*wrong, *problems_of(plan, words_of(own_rules)), *of_rules)
