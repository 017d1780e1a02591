"""Cart sheets of test schools, and HTML read the way a browser begins to."""

from __future__ import annotations

from datetime import date
from html.parser import HTMLParser
from pathlib import Path

from checklists.book import Book
from checklists.pages.cart_sheet_records import CartSheet, VisitBlock
from checklists.pages.cart_sheet_text import cart_sheet_pages
from checklists.pages.plain import width_of
from checklists.sheets import sheet_of
from tests.days import at
from tests.schools import MONDAY

NEVER_CLOSED = ("meta", "br", "hr", "img", "input", "link")


def monday_sheet(folder: Path, day: date = MONDAY, clock: str = "7:38") -> CartSheet:
    """The sheet of a day of the school in ``folder``; nothing is written."""
    with Book.open(folder, write=False, today=MONDAY) as book:
        return sheet_of(book, day, at(clock, day))


def block_of(sheet: CartSheet, class_id: str) -> VisitBlock:
    """What the sheet says of the visit of a class."""
    return next(block for block in sheet.visits if block.class_id == class_id)


def fits_on_paper(sheet: CartSheet) -> bool:
    """At most 80 columns and 60 rows a page."""
    pages = cart_sheet_pages(sheet)
    return all(len(page) <= 60 and all(width_of(row) <= 80 for row in page) for page in pages)


class Read(HTMLParser):
    """What stands in a page: its elements, attributes and text, and whether every element that opens is closed."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.mistakes: list[str] = []
        self.elements: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.said: list[str] = []
        self.feed(page)
        self.close()
        self.mistakes += [f"{each} is not closed" for each in self.open]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(tag)
        self.attributes += attrs
        if tag not in NEVER_CLOSED:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.mistakes.append(f"{tag} is closed and was not open")

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.said.append(data)

    @property
    def text(self) -> str:
        """All that is to be read, in one line."""
        return " ".join(" ".join(self.said).split())
