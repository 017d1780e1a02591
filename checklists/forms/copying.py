"""One thing of the plan once more, as the beginning of another."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec import structs

from checklists.forms.places import Place, Step, kind_of, own_name, position_of, put_in, value_at
from checklists.forms.typed import CannotBe
from checklists.plan import naming
from checklists.plan.new_ids import free_name, new_id
from checklists.plan.plan_files import PlanFiles
from checklists.rules.read import builtin_supplies

_BY_NAME = (naming.BELLS, naming.CLASS, naming.ROOM)
"""Kinds of things that are known by their name itself."""
_BY_ID = {naming.KIT: "name", naming.LESSON: "title", naming.SUPPLY: "name"}
"""Kinds of things with an id, and the field that says what they are called."""


def copied(files: PlanFiles, place: Place) -> tuple[PlanFiles, Step]:
    """The files with a copy behind the entry at a place, under a name of its own where it has one; the step to it.

    Raises CannotBe.
    """
    entries, record = value_at(files, place[:-1]), value_at(files, place)
    kind = kind_of(record)
    position = position_of(entries, place[-1]) + 1
    if kind is None:
        return put_in(files, place[:-1], record, position), position
    if kind in _BY_NAME:
        name = free_name(str(own_name(record)), [each.id for each in entries])
        return put_in(files, place[:-1], structs.replace(record, id=name), position), name
    if kind in _BY_ID:
        copy = _with_id_of_its_own(entries, record, kind)
        return put_in(files, place[:-1], copy, position), copy.id
    noun = "A period" if kind == naming.PERIOD else "A grade's box"
    raise CannotBe(f"{noun} is there once only. a adds another one.")


def _with_id_of_its_own(entries: Sequence[Any], record: Any, kind: str) -> Any:
    field = _BY_ID[kind]
    called = free_name(getattr(record, field), [getattr(each, field) for each in entries])
    builtin = builtin_supplies() if kind == naming.SUPPLY else ()
    return structs.replace(
        record, id=new_id(called, [each.id for each in (*entries, *builtin)], kind), **{field: called}
    )
