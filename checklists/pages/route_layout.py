"""The rows of a day's route laid out in lines, for the screen and as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.pages.plain import width_of, wrap
from checklists.pages.route_timeline import AFTER_SCHOOL, TimelineRow

MOST_BAR_CELLS = 16
ROOMY = 72
"""From this width on there is room to say what the load is counted in."""


def load_bar(load: int, holds: int, full: str, empty: str) -> str:
    """How full the cart is, a sign for a half slot, of a large cart for several. Something on it always shows."""
    cells = min(holds, MOST_BAR_CELLS)
    filled = min(cells, -(-load * cells // holds)) if holds else 0
    return full * filled + empty * (cells - filled)


def say_load(row: TimelineRow, width: int) -> str:
    """ "7 of 8 half slots", without what they are where there is little room."""
    return f"{row.load} of {row.holds}" + (" half slots" if width >= ROOMY else "")


def lay_out(rows: Sequence[TimelineRow], width: int, bar: tuple[str, str]) -> Iterator[tuple[TimelineRow, str]]:
    """Each row in lines of at most ``width`` columns, each line with the row it is of."""
    visits = [row for row in rows if row.kind == "visit"]
    is_narrow = any(width_of(row.text) + width_of(_right(row)) + 2 > width for row in visits)
    for row in rows:
        match row.kind:
            case "stop":
                right = f"{load_bar(row.load, row.holds, *bar)} {say_load(row, width)}" if row.holds else ""
                fits = width_of(row.text) + width_of(right) + 1 <= width
                for line in at_both_ends(row.text if fits or not row.short else row.short, right, width):
                    yield row, line
            case "visit":
                for line in at_both_ends(row.short if is_narrow else row.text, _right(row), width):
                    yield row, line
            case "note":
                for line in wrap(row.text, first="    ", indent=6, width=width):
                    yield row, line
            case "end":
                for line in wrap(row.text, indent=0 if row.key == AFTER_SCHOOL else 4, width=width):
                    yield row, line


def _right(row: TimelineRow) -> str:
    return f"{row.right}  {row.when:>4}" if row.when else f"{row.right}      "


def at_both_ends(left: str, right: str, width: int) -> Iterator[str]:
    """The two at the two ends of a line; where they do not fit, what is right stands on a line of its own."""
    gap = width - width_of(left) - width_of(right)
    if gap >= 1:
        yield f"{left}{' ' * gap}{right}".rstrip()
    else:
        yield from wrap(left, indent=0, width=width)
        right = right.strip()
        if width_of(right) <= width:
            yield f"{' ' * (width - width_of(right))}{right}"
        else:
            yield from wrap(right, indent=4, width=width)
