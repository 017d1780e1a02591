"""Backups as rows: those that were found, and what is in one of them, in an open book and before there is one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from checklists.backing_up import Usable
from checklists.backup.about import say_days, say_moment
from checklists.backup.difference import Found
from checklists.pages.backup import say_what_is_in_it, say_what_would_happen
from checklists.pages.plain import shorten, wrap
from checklists.words import clean
from tui.rows import Row, RowKind

LEAD = 5
"""Cells before a row's text, and the bar at its side."""
BELOW = 6
"""Cells that a text stands in below the row it belongs to."""
LONGEST_PLACE = 20
"""Cells, so that a moment has room beside it in a window of 60."""
LONGEST_PATH = 400
BACK = "back "
"""What the key of a backup's row begins with; its path follows."""
TO_DO = "y puts it back, Esc leaves all as it is."


def rows_of_texts(
    key: str, texts: Iterable[str], width: int, *, kind: RowKind = "reading", indent: int = 2
) -> Iterator[Row]:
    """Sentences, each in as many rows as a window of ``width`` cells needs."""
    rows = [row for each in texts for row in wrap(each, indent=indent, width=max(20, width - LEAD))]
    for number, text in enumerate(rows):
        yield Row(kind, f"{key} {number}", text)


def rows_of_backups(backups: Iterable[Found], width: int) -> Iterator[Row]:
    """Of when each is, with its place; below it whose and how many days, or why it cannot be used."""
    for each in backups:
        key = f"{BACK}{each.path}"
        if each.about is not None:
            yield Row("matter", key, say_moment(each.about.made), state=shorten(clean(each.place), LONGEST_PLACE))
            below = f"{each.about.school}: {say_days(each.about.days, each.about.newest)}"
        else:
            yield Row("matter", key, clean(Path(each.path).name), state="!")
            below = each.said
        yield from rows_of_texts(f"below {each.path}", (below,), width, kind="text", indent=BELOW)


def rows_of_backup(found: Usable, width: int, more: Iterable[str] = ()) -> Iterator[Row]:
    """What is in a backup, and what putting it back would do; ``more`` is said of that as well."""
    yield Row("heading", "heading in it", f"In {clean(found.backup.path.name)}", tone="heading")
    yield from rows_of_texts("in it", say_what_is_in_it(found), width)
    yield Row("heading", "heading would", "Put back, this would happen", tone="heading")
    yield from rows_of_texts("would", (*say_what_would_happen(found.difference), *more, TO_DO), width)
