"""A day's route as rows of a list: each line of the timeline, what is over in a quieter tone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.pages.route_timeline import TimelineRow, lay_out
from tui.rows import Row, RowKind, Tone

BAR = ("█", "░")


def timeline_rows(rows: Sequence[TimelineRow], width: int) -> Iterator[Row]:
    """Stops and visits can be stood on, and what is fetched after school; what belongs to them is passed over."""
    before = None
    for n, (row, line) in enumerate(lay_out(rows, width, BAR)):
        is_first = row is not before
        before = row
        kind: RowKind = "reading" if is_first and row.kind != "note" else "text"
        yield Row(kind, row.key if is_first else f"{row.key}/{n}", line, tone=_tone(row))


def _tone(row: TimelineRow) -> Tone:
    if row.when == "over" or row.is_over:
        return "quiet"
    return "critical" if row.is_late else "plain"
