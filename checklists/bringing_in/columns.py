"""Which column of a table is what: by headings in everyday words or, without any, by what stands in the columns."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from msgspec import Struct

from checklists.bringing_in.known_words import folded, known_words, says_any
from checklists.bringing_in.table import Table, TableRow
from checklists.words import join_words

HEADINGS_WITHIN = 8
"""Headings stand in one of the first so many rows; what is above them is a title."""
CHILDREN = "children"

Guess = Callable[[tuple[TableRow, ...]], dict[str, int]]
"""From rows without headings to field -> column."""


class Columns(Struct, frozen=True):
    """``at`` has field -> column, counted from 0; ``rows`` are those below the headings."""

    at: dict[str, int]
    rows: tuple[TableRow, ...]
    by_heading: bool
    unused: tuple[int, ...] = ()
    of_children: tuple[int, ...] = ()
    """Columns that tell of single children: nothing of them is read."""

    def cell(self, row: TableRow, field: str) -> str:
        """What stands in the column of a field; empty where there is no such column."""
        return row.cell(self.at.get(field))

    def shown(self, row: TableRow) -> str:
        """A row in short: what stands in the columns that are used, so that nothing of single children is shown."""
        used = TableRow(row.number, tuple(row.cell(column) for column in sorted(self.at.values())))
        return used.shown or (row.shown if not self.of_children else "")


def find_columns(table: Table, kind: str, guess: Guess) -> Columns:
    """The columns of a table of this kind. ``guess`` is asked where there are no headings."""
    words = {field: tuple(each) for field, each in known_words()["headings"][kind].items()}
    for index, row in enumerate(table.rows[:HEADINGS_WITHIN]):
        at, children = _fields_of(row, words)
        if len(at) + len(children) >= 2 or (at and len([each for each in row.cells if each]) == 1 and index == 0):
            rows = table.rows[index + 1 :]
            return Columns(at, rows, True, _unused(rows, at, children), children)
    at = guess(table.rows)
    return Columns(at, table.rows, False, _unused(table.rows, at, ()))


def _fields_of(row: TableRow, words: Mapping[str, tuple[str, ...]]) -> tuple[dict[str, int], tuple[int, ...]]:
    """Field -> column of a row of headings, and the columns that tell of single children."""
    at: dict[str, int] = {}
    children = []
    exact = {word: field for field in reversed(tuple(words)) for word in words[field]}
    of_children = tuple(known_words()["headings"][CHILDREN])
    rest = []
    for column, cell in enumerate(row.cells):
        heading = folded(cell)
        field = exact.get(heading)
        if field is not None:
            at.setdefault(field, column)
        elif heading in of_children:
            children.append(column)
        elif heading and not heading.replace(" ", "").isdigit():
            rest.append((column, heading))
    for column, heading in rest if at or children else ():
        if says_any(heading, of_children):
            children.append(column)
            continue
        near = ((field, says_any(heading, tuple(w for w in each if len(w) > 3))) for field, each in words.items())
        field = next((field for field, word in near if word and field not in at), None)
        if field is not None:
            at[field] = column
    return at, tuple(children)


def _unused(rows: tuple[TableRow, ...], at: Mapping[str, int], children: tuple[int, ...]) -> tuple[int, ...]:
    """Columns with something in them that nothing is made of."""
    filled = {column for row in rows for column, cell in enumerate(row.cells) if cell}
    return tuple(sorted(filled - set(at.values()) - set(children)))


def say_columns(columns: Columns, names: Mapping[str, str]) -> str:
    """ "Column 1 is the class, column 3 how many; column 4 was not used." """
    used = sorted((column, names[field]) for field, column in columns.at.items() if field in names)
    said = "No column was understood"
    if used:
        first, *more = used
        said = ", ".join([f"Column {first[0] + 1} is {first[1]}", *(f"column {n + 1} {what}" for n, what in more)])
    if columns.unused:
        numbers = join_words(str(each + 1) for each in columns.unused)
        is_one = len(columns.unused) == 1
        said += f"; column{'' if is_one else 's'} {numbers} {'was' if is_one else 'were'} not used"
    return f"{said}."


def say_children(columns: Columns) -> tuple[str, ...]:
    """That nothing of single children was read."""
    if not columns.of_children:
        return ()
    numbers = join_words(str(each + 1) for each in columns.of_children)
    which = f"Column {numbers} tells" if len(columns.of_children) == 1 else f"Columns {numbers} tell"
    return (f"{which} of single children: nothing of it was read, and nothing is kept. Trundle keeps no names.",)


def filled(rows: tuple[TableRow, ...], column: int) -> list[str]:
    """What stands in a column, the empty cells left out; of a long table its first part."""
    return [cell for row in rows[:200] if (cell := row.cell(column))]


def share_of(cells: list[str], fits: Callable[[str], object]) -> float:
    """Which share of the cells fits; nothing of nothing is 0."""
    return sum(bool(fits(each)) for each in cells) / len(cells) if cells else 0.0
