"""Taking a thing out of the plan: in words what uses it, where something does."""

from __future__ import annotations

from checklists.forms.places import Place, kind_of, own_name, taken_out, value_at
from checklists.forms.typed import CannotBe
from checklists.plan.plan_files import PlanFiles
from checklists.plan.uses import say_uses, uses_of
from checklists.rules.records import RuleFile


def left_out(files: PlanFiles, own_rules: RuleFile, place: Place) -> PlanFiles:
    """The files without the entry at a place. Raises CannotBe while something names it."""
    record = value_at(files, place)
    kind, name = kind_of(record), own_name(record)
    uses = uses_of(files, own_rules, kind, name) if kind is not None and name is not None else ()
    if uses:
        raise CannotBe(f"It is used: {say_uses(uses)}. First take it out there.")
    return taken_out(files, place)
