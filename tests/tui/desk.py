"""The teacher at her desk: an opened screen, what it shows, and keys pressed on it."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime
from pathlib import Path

from textual.pilot import Pilot

from checklists.book import Book
from checklists.daybook.line_states import LineState, state_of
from checklists.files.daybook_folder import load
from tests.schools import MONDAY, reference_school
from tui.app import TrundleApp
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList

AT_7_41 = datetime(2026, 10, 5, 7, 41)


class Desk:
    """One opened screen over a folder."""

    def __init__(self, app: TrundleApp, pilot: Pilot[None]) -> None:
        self.app = app
        self.pilot = pilot

    async def press(self, keys: str) -> None:
        """Press keys, named and apart by spaces: "1 8 enter"."""
        await self.pilot.press(*keys.split())
        await self.pilot.pause()

    async def resize(self, columns: int, rows: int) -> None:
        """Make the window another size, and wait until the screen is laid out anew."""
        await self.pilot.resize_terminal(columns, rows)
        while self.app.screen.query_one(KeyBar).size.width != columns:
            await self.pilot.pause()
        await self.pilot.pause()

    @property
    def book(self) -> Book:
        return self.app.recorder.book

    @property
    def screen(self) -> str:
        """What is to be read on the screen, line by line."""
        return "\n".join(strip.text.rstrip() for strip in self.app.screen._compositor.render_strips())

    @property
    def in_hand(self) -> str:
        """The key of the row the cursor stands on."""
        row = self.app.screen.query_one(LineList).row
        return row.key if row is not None else ""

    @property
    def rows(self) -> list[str]:
        return [row.key for row in self.app.screen.query_one(LineList).rows]

    def states(self) -> dict[str, LineState]:
        marks = self.book.marks(MONDAY)
        return {line.key: state_of(line, marks) for line in self.book.day(MONDAY).lines}

    def state(self, key: str) -> LineState:
        return self.states()[key]

    def entries(self) -> int:
        """How many entries of Monday are on disk, in the day's file and its journal."""
        return len(load(self.book.folder, MONDAY).record.entries)

    async def open_page(self, words: str) -> None:
        """Press Tab, and the digit of the page that says these words; where it has none, go down to it."""
        await self.press("tab")
        row = next(row for row in self.app.screen.query_one(LineList).rows if words in row.name)
        if row.name[0].isdigit():
            await self.press(row.name[0])
            return
        while self.in_hand != row.key:
            await self.press("down")
        await self.press("enter")

    async def wait_for(self, text: str) -> None:
        """Until the screen shows a text that comes after a repaint; it is looked for so many times."""
        for _ in range(100):
            if text in self.screen:
                return
            await self.pilot.pause()
        raise AssertionError(f"The screen never showed {text!r}:\n{self.screen}")

    async def go_to(self, key: str) -> None:
        """Jump to a line by its number."""
        number = next(line.number for line in self.book.day(MONDAY).lines if line.key == key)
        await self.press(" ".join([*str(number), "j"]))
        assert self.in_hand == key


async def open_subject(desk: Desk, subject: str) -> None:
    """Behind Tab, the part of the plan with this name."""
    await desk.open_page("Set up and change")
    await go_to_row(desk, subject)
    await desk.press("enter")


async def go_to_row(desk: Desk, key: str) -> None:
    """With the arrow, from the row in hand."""
    keys = [row.key for row in desk.app.screen.query_one(LineList).rows if row.kind not in ("heading", "text")]
    assert key in keys, f"no row {key}"
    steps = keys.index(key) - keys.index(desk.in_hand)
    if steps:
        await desk.press(" ".join(["down" if steps > 0 else "up"] * abs(steps)))
    assert desk.in_hand == key


@asynccontextmanager
async def at_desk(folder: Path, *, size: tuple[int, int] = (80, 24), now: datetime = AT_7_41) -> AsyncIterator[Desk]:
    """Open the folder on screen; makes the reference school there if nothing is there yet."""
    if not (folder / "school.toml").exists():
        reference_school(folder)
    with Book.open(folder) as book:
        app = TrundleApp(book, lambda: now)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            yield Desk(app, pilot)
