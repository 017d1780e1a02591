"""The part of an open book that is its plan: what is in use, read again, and changed from inside a window.

Every change is on disk and in use when it returns; or it raises NotSaved, and then nothing is changed. Ticks stay as
they are, whatever the plan says now.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, Literal

from checklists.files.plan_in_use import PlanInUse
from checklists.files.safely import NotSaved
from checklists.openings import Openings
from checklists.plan.plan_files import PlanFiles, files_of
from checklists.plan.records import Classes, Habits, Plan, School
from checklists.rules.read import RuleSet, builtin_supplies
from checklists.rules.records import Rule, RuleFile, SwitchedOff
from checklists.told_days import ToldDays

if TYPE_CHECKING:
    from checklists.files.plan_steps import PlanStep


class PlanChanges:
    """The plan of a book. ``why_read_only`` is empty while this window writes."""

    why_read_only: str
    _in_use: PlanInUse
    _told: ToldDays
    _openings: Openings

    @property
    def plan(self) -> Plan:
        """The plan in use: what the files say, or the last good one."""
        return self._openings.plan

    @property
    def rules(self) -> RuleSet:
        """All rules in use, made ready."""
        return self._openings.rules

    @property
    def own_rules(self) -> RuleFile:
        """Her own rules, what she switched off and what she set, as in the file of the plan in use."""
        return self._in_use.read.own_rules

    @property
    def uses_last_good(self) -> bool:
        """Whether the files do not read, so that the last good plan is in use."""
        return self._in_use.read.from_last_good

    @property
    def settings(self) -> Habits:
        """How she works."""
        return self.plan.school.habits

    def read_plan_again(self) -> None:
        """Take up what now stands in the plan files and forget what was worked out from before.

        Where they do not read, the last good plan is used and ``problems`` says why; with none, all stays as it is.
        """
        self._in_use.read_again()
        self._take_up_plan()

    def keep_rule(self, rule: Rule) -> None:
        """Add a rule of her own."""
        self._change_plan(lambda plan: plan.keep_rule(rule))

    def take_rule_out(self, rule: str) -> None:
        """Take a rule of her own out again, by its id."""
        self._change_plan(lambda plan: plan.take_rule_out(rule))

    def switch_off(self, off: SwitchedOff) -> None:
        """Switch a rule off: for a class, a lesson, until a date, or for good."""
        self._change_plan(lambda plan: plan.switch_off(off))

    def switch_on(self, off: SwitchedOff) -> None:
        """Take back one switching off; a rule that comes switched off is used from now on."""
        self._change_plan(lambda plan: plan.switch_on(off))

    def set_setting(self, name: str, value: float | Literal["K", "PK"] | None) -> None:
        """Set a setting of the rules to her number; with None what is built in counts again."""
        self._change_plan(lambda plan: plan.set_setting(name, value))

    def change_classes(self, classes: Classes) -> None:
        """Write the file of classes anew: who comes when, what is taught, needs, notes."""
        self._change_plan(lambda plan: plan.change_classes(classes))

    def change_school(self, school: School) -> None:
        """Write the school's file anew: a walk that was said."""
        self._change_plan(lambda plan: plan.change_school(school))

    @property
    def plan_files(self) -> PlanFiles:
        """The plan in use as its files have it."""
        return files_of(self.plan, builtin_supplies())

    def change_files(self, files: PlanFiles, said: str, at: datetime, rules: RuleFile | None = None) -> None:
        """Write what is different of the plan files, all or nothing; ``take_files_back`` takes it back, also later on.

        ``said`` is what was changed, in words that go after "Taken back:". ``rules`` are her own where something they
        name was renamed.
        """
        self._change_plan(lambda plan: plan.change_files(files, said, at, rules))

    def newest_files_step(self) -> PlanStep | None:
        """The newest change that ``take_files_back`` would take back."""
        return self._in_use.newest_files_step()

    def take_files_back(self) -> str:
        """Take the newest step of ``change_files`` back, in this window or an earlier one; what it was."""
        said: list[str] = []
        self._change_plan(lambda plan: said.append(plan.take_files_back()))
        return said[0]

    def begin_year(self, school: School, classes: Classes) -> str:
        """Write school and classes of another year, both or neither. Gives where those of this one are kept."""
        kept: list[str] = []
        self._change_plan(lambda plan: kept.append(plan.begin_year(school, classes)))
        return kept[0]

    def take_year_back(self) -> None:
        """The school and the classes of the year before again, both or neither. Only while nothing is told in this."""
        from checklists.files.year_files import year_that_can_be_taken_back

        is_begun = year_that_can_be_taken_back(self._in_use.folder) is not None
        if is_begun and self._openings.is_told_in_this_year():
            raise NotSaved("Something was told in the new school year already. Nothing is undone.")
        self._change_plan(lambda plan: plan.take_year_back())

    def _change_plan(self, change: Callable[[PlanInUse], None]) -> None:
        if self.why_read_only:
            raise NotSaved(self.why_read_only)
        try:
            change(self._in_use)
        finally:
            self._take_up_plan()

    def _take_up_plan(self) -> None:
        read = self._in_use.read
        assert read.plan is not None and read.rules is not None, "a book is open only with a plan"
        self._told.go_by_names_of(read.plan)
        self._openings.take_up(read.plan, read.rules)
