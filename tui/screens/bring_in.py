"""What is to be brought in, and from where: pasted rows, a file that lies in a usual folder, or one by its path."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.content import Content

from checklists.bringing_in.understood import Kind
from checklists.files.found_tables import (
    ENDINGS,
    CannotRead,
    files_found,
    is_there,
    looks_like_path,
    path_typed,
    read_file,
)
from checklists.words import clean, say_date
from tui.keys import BRING_FROM, BRING_IN, bindings_of
from tui.rows import Row
from tui.screens.choosing import ChoosingScreen
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question

KINDS: tuple[tuple[Kind, str, str], ...] = (
    ("classes", "Classes", "one row each: the class, how many children, its room"),
    ("timetable", "The timetable", "days along one side, periods along the other; or day, period, class"),
    ("supplies", "Supplies", "one row each: the name, how many there are, the shelf"),
    ("days-off", "Days off", "dates and reasons, or the school's calendar as an .ics file"),
)
LONGEST_PATH = 400


class BringInScreen(RowsScreen):
    """Four things that can be brought in, each with its digit."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BRING_IN)]
    KEYS = BRING_IN
    TITLE_OF_KEYS = "Bring in what exists"

    def on_mount(self) -> None:
        self.reread()

    def reread(self) -> None:
        self.query_one(Question).show(
            Content.assemble(("Bring in what exists: from a spreadsheet, a list, a web page", "bold")),
            Content("First it is told what was understood; nothing changes before you say so."),
        )
        rows: list[Row] = []
        for number, (kind, title, form) in enumerate(KINDS, 1):
            rows += [
                Row("todo", kind, f"{number}  {title}"),
                Row("text", f"{kind} form", f"       {form}", tone="quiet"),
            ]
        self.list.show(rows, key=self.key_in_hand)

    def action_digit(self, digit: str) -> None:
        if 1 <= int(digit) <= len(KINDS):
            self.open_kind(KINDS[int(digit) - 1][0])

    def action_accept(self) -> None:
        kind = next((kind for kind, _, _ in KINDS if kind == self.key_in_hand), None)
        if kind is not None:
            self.open_kind(kind)

    @on(LineList.Pointed)
    def open_pointed(self, event: LineList.Pointed) -> None:
        """A second click opens it."""
        if event.again:
            self.action_accept()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self.say("First choose what it is: 1 to 4. Then paste.", alarm=True)

    def action_undo(self) -> None:
        self.take_back()

    def open_kind(self, kind: Kind) -> None:
        self.app.push_screen(BringFromScreen(self.date, kind))


class BringFromScreen(ChoosingScreen):
    """From where: files found, the newest first, narrowed by letters; a path typed; or what is pasted."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BRING_FROM)]
    KEYS = BRING_FROM
    TITLE_OF_KEYS = "From where"
    closes = False
    longest_typed = LONGEST_PATH

    def __init__(self, on: date, kind: Kind, home: Path | None = None) -> None:
        self.kind = kind
        self.home = home or Path.home()
        self.form = next((title, form) for each, title, form in KINDS if each == kind)
        endings = (".ics", *ENDINGS) if kind == "days-off" else tuple(each for each in ENDINGS if each != ".ics")
        self.files = files_found(self.home, endings)
        super().__init__(on, self.form[0], self.rows_for, self.take_row, nothing="No file begins so.")

    def question(self) -> tuple[Content, ...]:
        title, form = self.form
        return (
            Content.assemble((f"{title}: paste the rows here, or choose a file", "bold")),
            Content(f"{form[:1].upper()}{form[1:]}."),
        )

    def rows_for(self, typed: str) -> list[Row]:
        """Files by the letters of their names; the path that was typed stands alone."""
        if looks_like_path(typed):
            path = path_typed(typed, self.home)
            if is_there(path):
                return [Row("todo", f"path {path}", clean(f"Read {path}"))]
            return [Row("text", "no path", "There is no such file (yet): go on typing, or paste the path.")]
        letters = typed.casefold()
        rows = [
            Row("todo", f"path {each.path}", clean(each.path.name), state="", gauge="", shelf=each.place)
            for each in self.files
            if letters in each.path.name.casefold()
        ]
        if not self.files:
            return [Row("text", "none", "No list was found in Downloads, Desktop or Documents: paste, or type a path.")]
        named = {f"path {each.path}": f"{each.place}, {say_date(each.changed.date())}" for each in self.files}
        return [row._replace(name=clean(f"{row.name}   ({named[row.key]})")) for row in rows]

    def take_row(self, key: str) -> None:
        path = Path(key.removeprefix("path "))
        try:
            content = read_file(path)
        except CannotRead as problem:
            self.say(str(problem), alarm=True)
            return
        self.open_understood(content, clean(path.name))

    def on_paste(self, event: events.Paste) -> None:
        """Rows, or the path of a file as it is copied or dropped."""
        event.stop()
        event.prevent_default()
        if looks_like_path(event.text):
            self.typed = clean(event.text.strip())[:LONGEST_PATH]
            self.show_offers()
            if self.list.row is not None and self.list.row.kind == "todo":
                self.action_accept()
        elif event.text.strip():
            self.open_understood(event.text, "what was pasted")
        else:
            self.say("There was nothing to paste.", alarm=True)

    def open_understood(self, content: bytes | str, source: str) -> None:
        from tui.screens.understood import UnderstoodScreen

        self.app.push_screen(UnderstoodScreen(self.date, self.kind, content, source), lambda _: self.begin_anew())

    def begin_anew(self) -> None:
        self.typed = ""
        self.query_one(MessageLine).say("")
        self.show_offers()
