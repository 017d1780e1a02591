"""The cart sheet of a day of an open book: made, and kept as files beside the daybook to be printed."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from checklists.book import Book, NotSaved
from checklists.daybook.children import as_told
from checklists.daybook.marks import Marks
from checklists.files.safely import make_folder, replace_file
from checklists.pages.cart_sheet import cart_sheet_of
from checklists.pages.cart_sheet_records import CartSheet

FOLDER = "sheets"
"""Inside the data folder. What is in it can be made again at any time."""


def sheet_of(book: Book, day: date, at: datetime, marks: Marks | None = None) -> CartSheet:
    """The sheet of a date as things stand, printed ``at``. ``marks`` where more was said than is on the disk."""
    marks = book.marks(day) if marks is None else marks
    state = as_told(book.plan, day, marks, book.opening(day))
    ahead = book.departure(day).minutes_left(marks)
    return cart_sheet_of(book.plan, book.rules, book.day(day), marks, state, at, book.route(day), ahead)


def keep_sheet(book: Book, sheet: CartSheet) -> Path:
    """Write a sheet as "sheets/DATE.html", and as text beside it; where the HTML is.

    Raises NotSaved: in a window that only reads, or where the disk refuses.
    """
    from checklists.pages.cart_sheet_html import cart_sheet_html
    from checklists.pages.cart_sheet_text import cart_sheet_text

    if not book.writable:
        raise NotSaved(book.why_read_only)
    path = book.folder / FOLDER / f"{sheet.date.isoformat()}.html"
    make_folder(path.parent)
    replace_file(path, cart_sheet_html(sheet).encode(), keep_before=False)
    replace_file(path.with_suffix(".txt"), cart_sheet_text(sheet).encode(), keep_before=False)
    return path
