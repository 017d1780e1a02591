"""The visits of a day as rows: class, room, tools out and back, outcome, absent, low, left in the room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from rich.cells import cell_len

from checklists.daybook.visit_rows import CountBack, VisitRow
from tui.columns import fit
from tui.rows import Row

ROOMY = 76
"""From this width on the room has a column of its own."""
MOST_COUNTS = 2
"""Counts of one visit that have room in their column."""
LEAD = 7
"""Cells before the text of a row: the cursor, a mark, the number."""


class Cells(NamedTuple):
    """Widths of the columns in cells; what is low or stayed has what is left."""

    class_id: int
    room: int
    tools: int
    outcome: int
    absent: int


TITLES = ("class", "room", "back", "reached", "absent", "low, left there")


def rows_of_visits(visits: Sequence[VisitRow], width: int) -> list[Row]:
    """A heading with the names of the columns, and a row for each visit."""
    cells = _cells(visits, width)
    rows = [Row("heading", "heading visits", " " * (LEAD - 3) + _in_columns(TITLES, cells, width), tone="heading")]
    for each in visits:
        waits = bool(each.waiting) and not all(count.later for count in each.waiting)
        rows.append(
            Row(
                kind="matter",
                key=each.visit.key,
                name=_in_columns(_texts(each), cells, width),
                number=each.visit.name,
                tone="quiet" if each.is_settled else "critical" if waits and each.is_told else "plain",
                critical=waits,
            )
        )
    return rows


def _cells(visits: Sequence[VisitRow], width: int) -> Cells:
    texts = [_texts(each) for each in visits]

    def widest(column: int, most: int) -> int:
        return min(most, max(len(TITLES[column]), *(cell_len(each[column]) for each in texts)) if texts else 0)

    roomy = width >= ROOMY
    return Cells(
        widest(0, 10),
        widest(1, 8) if roomy else 0,
        widest(2, 20 if roomy else 15),
        widest(3, 22 if roomy else 12),
        widest(4, 18 if roomy else 12),
    )


def _texts(row: VisitRow) -> tuple[str, str, str, str, str, str]:
    return (
        row.visit.class_id,
        row.visit.room,
        tools_text(row),
        row.outcome or "not told",
        row.absent.replace(" absent", "").replace("nobody missing", "nobody"),
        ", ".join((*row.low, *row.stayed)),
    )


def tools_text(row: VisitRow) -> str:
    """Each count of a visit; of more than two, how many are made and what is missing: the full text stands below."""
    if len(row.counts) <= MOST_COUNTS:
        return " ".join(count_text(each) for each in row.counts) or "-"
    counted = [each for each in row.counts if each.back is not None]
    missing = sum(max(0, each.out - (each.back or 0)) for each in counted)
    return (f"-{missing}! " if missing else "") + f"{len(counted)} of {len(row.counts)} counts"


def count_text(count: CountBack) -> str:
    """ "12/13!" where one is missing, "__/13" while nobody has counted, "later/13" where it has to wait."""
    if count.back is None:
        return f"{'later' if count.later else '__'}/{count.out}"
    return f"{count.back}/{count.out}{'' if count.back == count.out else '!'}"


def _in_columns(texts: Sequence[str], cells: Cells, width: int) -> str:
    """The texts in their columns; one of no width is left out."""
    columns = [fit(text, cell) for text, cell in zip(texts, cells, strict=False) if cell]
    used = sum(cell for cell in cells if cell) + 2 * len(columns)
    return "  ".join([*columns, fit(texts[-1], max(0, width - LEAD - used))]).rstrip()


def say_counts(row: VisitRow) -> str:
    """What was counted of a visit, in full: "scissors 12 of 13!, blunt needle 26 of 26"."""
    return ", ".join(f"{each.name} {count_text(each).replace('/', ' of ')}" for each in row.counts)


def say_waiting(row: VisitRow) -> str:
    """What is not counted back, in the order in which plain numbers are taken: "13 scissors (line 21)"."""
    return ", ".join(f"{each.out} {each.name} (line {each.number})" for each in row.waiting)
