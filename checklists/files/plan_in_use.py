"""The plan that is in use, and changing it: one file is written and the folder read again, or nothing is changed.

A change that does not fit the rest of the plan is taken back before anybody sees it, so that a file of hers never stops
being read because of what was done here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from msgspec import structs

from checklists.files.last_good import Stamp
from checklists.files.plan_folder import CLASSES, RULES, SCHOOL, PlanRead, read_plan, stamps_of
from checklists.files.safely import NotSaved
from checklists.files.year_pending import finish, is_changing
from checklists.plan.plan_files import PlanFiles, files_of, plan_of
from checklists.plan.records import Classes, Plan, School
from checklists.problems import Problem
from checklists.rules.read import builtin_supplies
from checklists.rules.records import Rule, RuleFile, SwitchedOff, SwitchedOn

if TYPE_CHECKING:
    from checklists.files.plan_steps import PlanStep


NOT_FITTING = "That does not fit. "


class PlanInUse:
    """The plan of a folder as it was read last. Methods that change it raise NotSaved, and then nothing is changed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._stamps = stamps_of(folder)
        """What was in the files when they were read."""
        self.read: PlanRead = read_plan(folder, self._stamps)

    def read_again(self) -> None:
        """Take up what stands in the files now. With nothing to work with, the plan stays and the problems are told."""
        self._stamps = stamps_of(self.folder)
        read = read_plan(self.folder, self._stamps)
        if read.plan is None or read.rules is None:
            read = structs.replace(self.read, problems=read.problems, from_last_good=True)
        self.read = read

    def keep_rule(self, rule: Rule) -> None:
        """Add a rule of her own."""
        from checklists.files.rule_file import add_rule

        self._change(RULES, lambda: add_rule(self.folder, rule))

    def take_rule_out(self, rule: str) -> None:
        """Take a rule of her own out, by its id."""
        from checklists.files.rule_file import take_rule_out

        self._change(RULES, lambda: take_rule_out(self.folder, rule))

    def switch_off(self, off: SwitchedOff) -> None:
        """Switch a rule off. One that comes switched off and is used everywhere is simply not used any more."""
        from checklists.files.rule_file import add_switched_off, take_switched_on_out

        used = SwitchedOn(off.rule)
        if used in self.read.own_rules.on and not off.class_id and not off.lesson and off.until is None:
            self._change(RULES, lambda: take_switched_on_out(self.folder, used))
        else:
            self._change(RULES, lambda: add_switched_off(self.folder, off))

    def switch_on(self, off: SwitchedOff) -> None:
        """Take an entry that switches a rule off out again, or use a rule that comes switched off."""
        from checklists.files.rule_file import add_switched_on, take_switched_off_out

        rules = self.read.rules.rules if self.read.rules is not None else ()
        comes_off = any(each.id == off.rule and not each.on for each in rules)
        if comes_off and off not in self.read.own_rules.off:
            self._change(RULES, lambda: add_switched_on(self.folder, SwitchedOn(off.rule)))
        else:
            self._change(RULES, lambda: take_switched_off_out(self.folder, off))

    def set_setting(self, name: str, value: float | Literal["K", "PK"] | None) -> None:
        """Set a setting of the rules; None: as built in."""
        from checklists.files.rule_file import put_setting

        self._change(RULES, lambda: put_setting(self.folder, name, value))

    def change_classes(self, classes: Classes) -> None:
        """Write the file of classes anew."""
        from checklists.files.plan_writing import write_classes

        self._change(CLASSES, lambda: write_classes(self.folder, classes))

    def change_school(self, school: School) -> None:
        """Write the file of the school anew."""
        from checklists.files.plan_writing import write_school

        self._change(SCHOOL, lambda: write_school(self.folder, school))

    def change_files(self, files: PlanFiles, said: str, at: datetime, rules: RuleFile | None = None) -> None:
        """Write what differs from the plan as read, as one step that can be taken back, also after a restart.

        ``rules`` are her own where something they name was renamed.
        """
        from checklists.files.plan_check import problems_in
        from checklists.files.plan_steps import change, newest_step, take_back

        if is_changing(self.folder):
            finish(self.folder)
            self.read_again()
            raise NotSaved("A change of before was finished only now. Look, then do it once more.")
        files = files_of(plan_of(files, builtin_supplies()), builtin_supplies())  # what is not hers is not written
        contents = self._what_differs(files)
        if rules is not None and rules != self.read.own_rules:
            from checklists.files.rule_file import text_with_names

            self._must_be_as_read(RULES)
            self._must_be_unchanged(RULES)  # the names are put into it by their places
            contents[RULES] = text_with_names(self.folder, rules).encode()
        for name in contents:
            self._must_be_as_read(name)
        if wrong := _grave(problems_in(files, self.read.own_rules if rules is None else rules)):
            where = f" In: {wrong.entry}." if wrong.entry else ""
            raise NotSaved(f"{NOT_FITTING}{wrong.what} {wrong.to_do}".strip() + where)
        if not contents:
            return
        step = change(self.folder, contents, said, at)
        self.read_again()
        if wrong := _grave(self.read.problems):
            kept = newest_step(self.folder)
            assert kept is not None and kept[1] == step
            take_back(self.folder, *kept)
            self.read_again()
            raise NotSaved(f"That does not fit. {wrong}")

    def newest_files_step(self) -> PlanStep | None:
        """The newest change of files that can be taken back."""
        from checklists.files.plan_steps import newest_step

        found = newest_step(self.folder)
        return found[1] if found is not None else None

    def take_files_back(self) -> str:
        """Take the newest change of files back; what it was."""
        from checklists.files.plan_steps import newest_step, take_back

        if is_changing(self.folder):  # the newest step is made and could not be put among the others yet
            finish(self.folder)
        found = newest_step(self.folder)
        if found is None:
            raise NotSaved("No change of the plan is left to take back.")
        try:
            take_back(self.folder, *found)
        finally:
            self.read_again()
        return found[1].said

    def _what_differs(self, files: PlanFiles) -> dict[str, bytes | None]:
        """The files that are not as the plan was read, with what is to stand in them; None: none is to be there."""
        from checklists.files.plan_check import parts_by_file
        from checklists.files.plan_writing import as_file

        assert self.read.plan is not None, "only a plan that was read is changed"
        now, new = parts_by_file(files_of(self.read.plan, builtin_supplies())), parts_by_file(files)
        different: dict[str, bytes | None] = {
            name: as_file(each) for name, each in new.items() if now.get(name) != each
        }
        return different | {name: None for name in now if name not in new}

    def begin_year(self, school: School, classes: Classes) -> str:
        """Write the files of the school and of its classes anew, both or neither. Gives where those before are kept."""
        from checklists.files.year_files import begin_year, take_year_back

        before = self._as_read(SCHOOL, CLASSES)
        try:
            kept = begin_year(self.folder, before.school, school, classes)
            self.read_again()
            if wrong := _grave(self.read.problems):
                take_year_back(self.folder, kept.rpartition("/")[2])
                raise NotSaved(f"That does not fit. {wrong}")
        except NotSaved:
            self.read_again()
            raise
        return kept

    def take_year_back(self) -> None:
        """Put the files of the year before in place again."""
        from checklists.files.year_files import take_year_back, year_that_can_be_taken_back

        self._as_read(SCHOOL, CLASSES)
        year = year_that_can_be_taken_back(self.folder)
        if year is None:
            raise NotSaved(
                "school.toml or classes.toml was changed since, or no new year was begun. Nothing is undone."
            )
        try:
            take_year_back(self.folder, year)
        finally:
            self.read_again()

    def _as_read(self, *names: str) -> Plan:
        for name in names:
            self._must_be_as_read(name)
        assert self.read.plan is not None, "a plan without a problem is there"
        return self.read.plan

    def _change(self, name: str, write: Callable[[], None]) -> None:
        """Write a file and read the folder again; where it does not read then, the file before is put back."""
        from checklists.files.plan_writing import put_back_as_it_was

        self._must_be_as_read(name)
        try:
            with put_back_as_it_was(self.folder / name):
                write()
                self.read_again()
                if wrong := _grave(self.read.problems):
                    raise NotSaved(f"That does not fit. {wrong}")
        except NotSaved:
            self.read_again()
            raise

    def _must_be_as_read(self, name: str) -> None:
        if wrong := _grave(self.read.problems):
            raise NotSaved(f"First put this right, then do it again. {wrong}")
        if name != RULES:
            self._must_be_unchanged(name)

    def _must_be_unchanged(self, name: str) -> None:
        if _stamp_of(name, self._stamps) != _stamp_of(name, stamps_of(self.folder)):
            self.read_again()
            raise NotSaved(f"{name} was changed outside this window and was read again. Look, then do it once more.")


def _grave(problems: Iterable[Problem]) -> Problem | None:
    return next((each for each in problems if each.level == "grave"), None)


def _stamp_of(name: str, stamps: Iterable[Stamp]) -> Stamp | None:
    return next((each for each in stamps if each.name == name), None)
