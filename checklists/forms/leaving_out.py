"""Taking a thing of the plan out: into the archive first, from there for good; what has no name goes at once."""

from __future__ import annotations

from checklists.forms.places import Place, kind_of, own_name, taken_out, value_at
from checklists.forms.typed import CannotBe
from checklists.plan.archiving import archive, bring_back, remove
from checklists.plan.class_notes import CannotNote
from checklists.plan.plan_files import PlanFiles


def left_out(files: PlanFiles, place: Place) -> tuple[PlanFiles, str]:
    """The files without the entry at a place, and what was done in words that go behind its name. Raises CannotBe."""
    record = value_at(files, place)
    kind, name = kind_of(record), own_name(record)
    if kind is None or name is None or not hasattr(record, "archived"):
        return taken_out(files, place), "is taken out"
    try:
        if record.archived:
            return remove(files, kind, name), "is taken out for good"
        return archive(files, kind, name), "is in the archive"
    except CannotNote as why:
        raise CannotBe(str(why)) from None


def brought_back(files: PlanFiles, place: Place) -> tuple[PlanFiles, str]:
    """The files with the archived entry at a place in use again. Raises CannotBe."""
    record = value_at(files, place)
    kind, name = kind_of(record), own_name(record)
    if kind is None or name is None or not getattr(record, "archived", False):
        raise CannotBe("That is in use already.")
    try:
        return bring_back(files, kind, name), "is in use again"
    except CannotNote as why:
        raise CannotBe(str(why)) from None
