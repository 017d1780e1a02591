"""What was understood of something brought in, as rows of a list: what asks to be looked at first."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.bringing_in.understood import RowRead, Understood
from checklists.pages.bringing_in import SECTIONS, say_place, say_problems, say_row
from checklists.pages.plain import wrap
from checklists.words import plural
from tui.rows import Row, Tone

LEAD = 4
"""Cells before a row's text, and the bar at its side."""
MOST_IN_FULL = 2000
"""Rows of a section beyond which each is one line, cut at the edge: wrapping thousands would be felt."""
SIGNS = {"not understood": "?", "not taken": "-", "changes": "~", "adds": "+", "there already": "="}
TONES: dict[str, Tone] = {"not understood": "critical", "not taken": "plain", "there already": "quiet"}


def key_of(row: RowRead, n: int) -> str:
    """The key of a row of the list; several cells of a table's row differ by ``n``."""
    return f"row {row.number} {n}"


def number_in(key: str) -> int | None:
    """The number of the file's row, or of the event, that a row of the list is about; None: it is about none."""
    word, _, rest = key.partition(" ")
    number = rest.split(" ")[0] if word == "row" else ""
    return int(number) if number.isdigit() else None


def understood_rows(understood: Understood, width: int) -> Iterator[Row]:
    """All rows: what would be wrong, then by what they do, then how it was read."""
    for n, problem in enumerate(say_problems(understood)):
        yield from _texts(f"problem {n}", problem, width, "critical")
    for does, title in SECTIONS:
        found = understood.those_that(does)
        if found:
            name = f"{title}: {plural(len(found), 'event' if understood.is_calendar else 'row')}"
            yield Row("heading", f"heading {does}", name, tone="heading")
        for n, each in enumerate(found):
            text = f"{SIGNS[does]} {say_place(each, understood)}  {say_row(each)}"
            yield from _texts(key_of(each, n), text, width if n < MOST_IN_FULL else 0, TONES.get(does, "plain"))
    if understood.notes:
        yield Row("heading", "heading notes", "How it was read", tone="heading")
    for n, note in enumerate(understood.notes):
        yield from _texts(f"note {n}", note, width, "plain")


def _texts(key: str, text: str, width: int, tone: Tone) -> Iterator[Row]:
    """A text on as many lines as it needs; the cursor stands on the first."""
    lines = wrap(text, indent=2, width=max(20, width - LEAD)) if width else [text]
    yield Row("reading", key, lines[0].lstrip(), tone=tone)
    for n, line in enumerate(lines[1:], 1):
        yield Row("text", f"{key}, {n}", line, tone=tone)
