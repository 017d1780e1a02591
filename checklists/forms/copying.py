"""One thing of the plan once more, as the beginning of another."""

from __future__ import annotations

from checklists.forms.places import Place, Step, kind_of, own_name, position_of, put_in, value_at
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.copying import copy_of
from checklists.plan.plan_files import PlanFiles

_ONCE_ONLY = {naming.PERIOD: "A period", naming.GRADE: "A grade's box"}
"""What has a name that cannot be made up."""


def copied(files: PlanFiles, place: Place) -> tuple[PlanFiles, Step]:
    """The files with a copy behind the entry at a place, under a name of its own where it has one; the step to it.

    Raises CannotBe.
    """
    record = value_at(files, place)
    kind = kind_of(record)
    if kind in _ONCE_ONLY:
        raise CannotBe(f"{_ONCE_ONLY[kind]} is there once only. a adds another one.")
    if kind is not None:
        return copy_of(files, kind, str(own_name(record)))
    position = position_of(value_at(files, place[:-1]), place[-1]) + 1
    return put_in(files, place[:-1], record, position), position
