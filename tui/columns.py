"""How a row of the list is laid out: what is to be added stands before the name, what is in it behind."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size

from tui.rows import Row

WIDE = 74
"""From this width on there is room to say the shelf and the visits."""
ROOMY = 100
"""From this width on a long shelf is cut later."""
STATE_CELLS = 7
MARK_CELLS = 4


class Columns(NamedTuple):
    """Widths in cells, as wide as the widest of them needs; the name has what is left."""

    add: int = 4
    amount: int = 7
    shelf: int = 5
    visits: int = 3

    def widened_by(self, row: Row) -> Columns:
        """Wide enough for one more row, and for the amount it has when it is packed."""
        if row.kind != "line":
            return self
        need = row.amount.rpartition(" of ")[2]
        amount = max(len(row.amount), len(need.lstrip("~")) + 4 + len(need))
        widest = Columns(len(row.add), amount, cell_len(row.shelf), cell_len(row.visits))
        return Columns(*(max(pair) for pair in zip(self, widest, strict=True)))


def columns_of(rows: Iterable[Row]) -> Columns:
    """Columns that hold every row."""
    columns = Columns()
    for row in rows:
        columns = columns.widened_by(row)
    return columns


def row_text(row: Row, columns: Columns, *, in_hand: bool, with_columns: bool, width: int) -> str:
    """A row in words."""
    sign = "▸" if in_hand and row.kind != "text" else " "
    if row.kind == "heading":
        tail = tail_text(row, columns, width) if with_columns else ""
        return fit(f"   {row.name}", max(8, width - cell_len(tail))) + tail
    if row.kind in ("fold", "text", "reading"):
        return fit(f"{sign}  {row.name}", width)
    tail = tail_text(row, columns, width)
    add = f"{row.add:>{columns.add}} " if row.kind == "line" else ""
    lead = f"{sign}{'!' if row.critical else ' '} {row.number:>3} {add}"
    mark = f" {row.mark:<{MARK_CELLS - 1}}" if row.mark else ""
    return lead + fit(row.name, max(4, width - cell_len(lead) - cell_len(tail) - len(mark))) + mark + tail


def fit(text: str, width: int) -> str:
    """The text in so many cells; what is cut off shows by three dots."""
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(set_cell_size(text, max(0, width - 1)).rstrip() + "…", width)


def tail_text(row: Row, columns: Columns, width: int) -> str:
    """What stands at the right end of a row."""
    state = f" {row.gauge or ' '} {set_cell_size(row.state, STATE_CELLS)}"
    if row.kind == "todo":
        return state
    if row.kind == "matter":
        return f"  {row.state}" if row.state else ""
    where = ""
    if width >= WIDE:
        shelf, visits = (16, 14) if width >= ROOMY else (10, 11)
        where = f" {fit(row.shelf, min(shelf, columns.shelf))} {fit(row.visits, min(visits, columns.visits))}"
    return f" {row.amount:>{columns.amount}}{where}{state}"
