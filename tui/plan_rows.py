"""Things of the plan as the rows their screens draw."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checklists.forms.fields import Field, fields_of_form
from checklists.forms.places import Step, step_to
from checklists.forms.said import name_of, say_name, say_one, say_value
from checklists.plan.records import Plan
from checklists.words import clean
from tui.columns import fit
from tui.rows import Row

NARROW = 72
"""Below so many columns names have less room."""
LABEL_CELLS, NARROW_LABEL_CELLS = 38, 26
NAME_CELLS, NARROW_NAME_CELLS, WIDE_NAME_CELLS = 30, 22, 46
WIDE = 96
"""From so many columns on names have more."""


def label_cells(width: int) -> int:
    """Room for what a field is called, in a window of so many columns."""
    return LABEL_CELLS if width >= NARROW else NARROW_LABEL_CELLS


def form_rows(plan: Plan, record: Any, width: int) -> list[Row]:
    """A row for each field of a record: what it is called, and what is so."""
    rows = []
    cells = label_cells(width)
    for field in fields_of_form(type(record)):
        if field.group:
            rows.append(Row("heading", f"heading {field.name}", field.group, tone="heading"))
        said = clean(say_value(plan, field, getattr(record, field.name)))
        rows.append(Row("matter", field.name, f"{fit(field.label, cells)} {said}"))
    return rows


def list_rows(plan: Plan, field: Field, value: Any, width: int) -> tuple[list[Row], dict[str, Step]]:
    """A row for each entry of a list or table, what is archived last; and the step that leads to each by its key."""
    cells = WIDE_NAME_CELLS if width >= WIDE else NAME_CELLS if width >= NARROW else NARROW_NAME_CELLS
    steps: dict[str, Step] = {}
    rows, archived = [], []
    if isinstance(value, Mapping):
        for name, count in value.items():
            steps[name] = name
            rows.append(Row("matter", name, f"{count:>4} {clean(say_name(plan, field.names, name))}"))
        return rows, steps
    for position, each in enumerate(value):
        if isinstance(each, str):
            key, said = f"{position} {each}", clean(say_name(plan, field.names, each))
            steps[key] = position
            rows.append(Row("matter", key, said, number=str(position + 1)))
            continue
        step = step_to(each, position)
        steps[str(step)] = step
        number = str(position + 1) if isinstance(step, int) else ""
        named = f"{fit(clean(name_of(plan, each)), cells)} {clean(say_one(plan, each))}"
        row = Row("matter", str(step), named, number=number, critical=getattr(each, "critical", False))
        if getattr(each, "archived", False):
            archived.append(row._replace(tone="quiet"))
        else:
            rows.append(row)
    if archived:
        rows += [Row("heading", "heading archive", "Archive", tone="heading"), *archived]
    return rows, steps
