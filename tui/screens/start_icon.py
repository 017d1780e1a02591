"""Where shall the icon go that starts it? Places in rows; Enter puts it there and says what to do with it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.content import Content

from checklists.book import NotSaved
from checklists.files.backup_places import Place
from checklists.files.start_files import icon_places, put_icon, start_of, system_here
from checklists.pages.icon import say_icon
from checklists.pages.plain import wrap
from checklists.words import clean
from tui.columns import fit
from tui.keys import START_ICON, bindings_of
from tui.rows import Row
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question

LEAD = 5
"""Cells before a row's text, and the bar at its side."""
NAME_CELLS = 11


class StartIconScreen(RowsScreen):
    """What was written stands below the places. The file is no part of the plan: undo is for the plan and the day."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(START_ICON)]
    KEYS = START_ICON
    TITLE_OF_KEYS = "An icon to start it with"

    def __init__(self, on: date, places: Callable[[], tuple[Place, ...]] = icon_places) -> None:
        super().__init__(on)
        self.places = places()
        self.done: tuple[str, ...] = ()
        """What was done last, in words."""

    def on_mount(self) -> None:
        self.reread()

    def on_resize(self) -> None:
        self.reread()

    def reread(self) -> None:
        rows = [
            Row("matter", str(each.path), f"{fit(clean(each.name), NAME_CELLS)} {clean(str(each.path))}", number=str(n))
            for n, each in enumerate(self.places, 1)
        ]
        texts = self.done or (() if rows else ("No desktop is found here. trundle icon FOLDER takes any folder.",))
        width = max(20, self.size.width - LEAD)
        for number, text in enumerate(row for each in texts for row in wrap(each, indent=2, width=width)):
            rows.append(Row("reading", f"said {number}", text))
        self.list.show(rows, self.list.cursor, key=self.key_in_hand)
        self.query_one(Question).show(
            Content.assemble(("An icon to start Trundle with: where to?", "bold")),
            Content("A double click on it starts this school, without a terminal."),
        )

    def action_digit(self, digit: str) -> None:
        if 1 <= int(digit) <= len(self.places):
            self.put(self.places[int(digit) - 1].path)

    def action_accept(self) -> None:
        for each in self.places:
            if str(each.path) == self.key_in_hand:
                self.put(each.path)

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click does it."""
        if event.again:
            self.action_accept()

    def put(self, place: Path) -> None:
        """Write it and say where it is."""
        try:
            start = start_of(self.book.folder)
            icon = put_icon(place, start)
        except NotSaved as problem:
            self.done = ("Not written.", str(problem))
            self.reread()
            self.say("Not written. Why is said in the list.", alarm=True)
            return
        self.done = say_icon(icon, start, system_here())
        self.reread()
        self.say(f"{'There already' if icon.was_there else 'Written'}: {clean(icon.paths[0].name)}")
