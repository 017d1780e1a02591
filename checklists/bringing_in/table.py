"""A table from text: what stands between the cells is found out, quotes are read, every cell is made harmless.

Rows are numbered as a spreadsheet numbers them: every line is one, an empty one too, and a cell may go over several.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from io import StringIO

from msgspec import Struct

from checklists.words import clean

SEPARATORS = {"\t": "tabs", ";": "semicolons", "|": "bars", ",": "commas"}
SPACES = "two or more spaces"
MOST_ROWS = 20_000
LONGEST_CELL = 400
SAMPLE_LINES = 200
"""So many lines are looked at to find out what stands between the cells."""
_LINE_END = re.compile(r"\r\n|\r|\n")
_GAP = re.compile(r" *\t *| {2,}|\u00a0{2,}")
_TIGHT_COMMA = re.compile(r",\S")
_END = "\x00"
"""A line of our own behind the last: it comes back as a row of its own unless a quotation mark swallowed it."""
_RULE = re.compile(r"[|:+=_\s-]*-{2,}[|:+=_\s-]*")
"""A line drawn below headings."""


class TableRow(Struct, frozen=True):
    """``number`` counts from 1; ``cells`` are cleaned and without white space at their ends."""

    number: int
    cells: tuple[str, ...]

    def cell(self, column: int | None) -> str:
        """What stands in a column, counted from 0; empty where there is none."""
        return self.cells[column] if column is not None and column < len(self.cells) else ""

    @property
    def shown(self) -> str:
        """The row in short, for telling which one it is."""
        text = " | ".join(each for each in self.cells if each)
        return text if len(text) <= 60 else text[:57].rstrip() + "..."


class Table(Struct, frozen=True):
    """Rows with something in them. ``separator`` in words; ``left_out``: rows beyond the most that are read."""

    rows: tuple[TableRow, ...]
    separator: str = ""
    left_out: int = 0
    open_quote: int = 0
    """Row with a quotation mark that nothing closes; 0: none."""

    @property
    def width(self) -> int:
        return max((len(each.cells) for each in self.rows), default=0)


def read_table(text: str) -> Table:
    """The table in a text. Never raises."""
    lines = _LINE_END.split(text)
    separator = _separator_of(lines)
    raw, open_quote = _cells(text, lines, separator)
    rows = list(_rows(raw))
    kept = rows[:MOST_ROWS]
    words = SEPARATORS.get(separator, SPACES if separator else "")
    return Table(tuple(kept), words, len(rows) - len(kept), open_quote)


def _rows(raw: Iterable[list[str]]) -> Iterator[TableRow]:
    for number, cells in enumerate(raw, 1):
        tidy = [_tidy(each) for each in cells]
        while tidy and not tidy[-1]:
            tidy.pop()
        if any(tidy) and not _RULE.fullmatch(" ".join(tidy)):
            yield TableRow(number, tuple(tidy))


def _tidy(cell: str) -> str:
    """One line of harmless text. What makes a text look like a formula stays: it is only text here."""
    if cell.isascii() and cell.isprintable():
        return cell.strip()[:LONGEST_CELL]
    return " ".join(clean(cell.replace("\u200b", "").replace("\ufeff", "")).split())[:LONGEST_CELL]


def _separator_of(lines: list[str]) -> str:
    """The sign between the cells, "  " for gaps, "" where every line is one cell.

    The one that gives most rows the same number of cells; of equals the one with most cells, then the rarest in text.
    """
    sample = [line for line in lines if line.strip()][:SAMPLE_LINES]
    best, best_score = "", (-len(sample), 0)
    for separator in SEPARATORS:
        if any(separator in line for line in sample):
            rows, _ = _quoted(sample, separator)
            widths = Counter(len(row) for row in rows if len(row) > 1)
            width, alike = max(widths.items(), key=lambda each: (each[1], each[0]), default=(0, 0))
            torn = sum(any('"' in cell for cell in row) for row in rows)  # of the wrong sign quotes stay in the cells
            if (alike - torn, width) > best_score:
                best, best_score = separator, (alike - torn, width)
    by_gaps = sum(len(_GAP.split(line.strip())) > 1 for line in sample)
    if best == "," and by_gaps >= best_score[0] and not any(_TIGHT_COMMA.search(line) for line in sample):
        return "  "  # commas of prose: "Nov 26, 2026   Thanksgiving"
    return best or ("  " if by_gaps else "")


def _quoted(lines: Iterable[str], separator: str) -> tuple[list[list[str]], int]:
    """Rows of cells. Where a quotation mark is never closed, its row, and then every line is read by itself."""
    kept = list(lines)
    try:
        rows = list(csv.reader((*kept, _END), delimiter=separator))
    except csv.Error:  # a cell longer than the csv module reads
        return [line.split(separator) for line in kept], 0
    if rows[-1] == [_END]:
        return rows[:-1], 0
    return [_quoted_line(line, separator) for line in kept], len(rows)


def _quoted_line(line: str, separator: str) -> list[str]:
    if line.count('"') % 2:
        return [each.strip().removeprefix('"') for each in line.rstrip("\r\n").split(separator)]
    return next(csv.reader([line], delimiter=separator), [])


def _cells(text: str, lines: list[str], separator: str) -> tuple[list[list[str]], int]:
    """Rows of cells, and the row of a quotation mark that is not closed."""
    if separator == "  ":
        return [_GAP.split(line.strip()) for line in lines], 0
    if separator == "":
        return [[_unquoted(line.strip())] for line in lines], 0
    return _quoted(StringIO(text, newline=""), separator)


def _unquoted(line: str) -> str:
    is_quoted = len(line) > 1 and line.startswith('"') and line.endswith('"')
    return line[1:-1].replace('""', '"') if is_quoted else line
