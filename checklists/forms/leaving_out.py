"""Taking a thing out of the plan: into the archive first, and from there for good; what has no name goes at once."""

from __future__ import annotations

from checklists.forms.places import Place, kind_of, own_name, taken_out, value_at
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.archiving import ARCHIVED, CannotArchive, archive, bring_back, remove
from checklists.plan.plan_files import PlanFiles
from checklists.plan.uses import say_uses, uses_of
from checklists.rules.records import RuleFile


def left_out(
    files: PlanFiles, own_rules: RuleFile, place: Place, open_about: tuple[str, ...] = ()
) -> tuple[PlanFiles, str]:
    """The files without the entry at a place, and what was done, in words behind its name.

    ``open_about`` is what is not settled about it in the daybook. Raises CannotBe while something needs it.
    """
    record = value_at(files, place)
    kind, name = kind_of(record), own_name(record)
    if kind is None or name is None:
        return taken_out(files, place), "is taken out"
    try:
        if kind in ARCHIVED and not record.archived:
            return archive(files, kind, name), "is in the archive"
        if kind in (*ARCHIVED, naming.BELLS):
            return remove(files, own_rules, kind, name, open_about), "is taken out for good"
    except CannotArchive as why:
        raise CannotBe(str(why)) from None
    uses = uses_of(files, own_rules, kind, name) if kind == naming.PERIOD else ()
    if uses:
        raise CannotBe(f"It is used: {say_uses(uses)}. Change that first.")
    return taken_out(files, place), "is taken out"


def brought_back(files: PlanFiles, place: Place) -> tuple[PlanFiles, str]:
    """The files with the archived entry at a place in use again, and that in words. Raises CannotBe."""
    record = value_at(files, place)
    kind, name = kind_of(record), own_name(record)
    if kind not in ARCHIVED or name is None:
        raise CannotBe("That is in use already.")
    try:
        return bring_back(files, kind, name), "is in use again"
    except CannotArchive as why:
        raise CannotBe(str(why)) from None
