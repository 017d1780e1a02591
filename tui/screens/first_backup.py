"""Before there is any plan: a backup is found, or its path typed, looked into and put back into the empty folder."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.content import Content

from checklists.backing_up import Usable, put_back_in_folder, usable
from checklists.backup.about import CannotPutBack
from checklists.backup.difference import Found
from checklists.files.backup_places import Place, backups_in, found_at, path_typed, places
from checklists.files.safely import NotSaved
from checklists.files.set_up_file import read_set_up
from checklists.files.year_pending import is_changing
from checklists.words import clean, join_words, plural
from tui.keys import FIRST_BACKUP, bindings_of
from tui.rows import Row
from tui.screens.backup_rows import BACK, LONGEST_PATH, TO_DO, rows_of_backup, rows_of_backups, rows_of_texts
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question

AGAIN = "look again"
TYPED = "typed"
HOW = "Or type where it is, or drag it from its window into this one; Enter takes that."
WHERE = "Where: "


class FirstBackupScreen(RowsScreen):
    """Enter shows what is in the backup in hand, ``y`` then puts it back. In the list every sign typed is a path's."""

    BINDINGS: ClassVar[list[BindingType]] = [each for each in bindings_of(FIRST_BACKUP) if "digit" not in str(each)]
    KEYS = FIRST_BACKUP

    def __init__(
        self,
        folder: Path,
        now: datetime,
        *,
        stop: Callable[[], None],
        done: Callable[[], None],
        places: Callable[[], tuple[Place, ...]] = places,
    ) -> None:
        """``stop``: back to where to begin; ``done``: there is a plan now."""
        super().__init__(now.date())
        self.folder, self.now, self.stop, self.done, self.ask_places = folder, now, stop, done, places
        self.typed = ""
        self.typed_places: tuple[Place, ...] = ()
        self.typed_backups: tuple[Path, ...] = ()
        self.places: tuple[Place, ...] = ()
        self.backups: tuple[Found, ...] = ()
        self.looked_at: Usable | None = None
        """The backup of which is shown what it holds."""
        self.told: tuple[str, ...] = ()
        """Why the last one could not be put back."""

    def on_mount(self) -> None:
        self.look_around()

    def on_resize(self) -> None:
        self.reread()

    def look_around(self, key: str = "") -> None:
        """Ask the computer for places and look what is there: sticks come and go."""
        self.places = (*self.ask_places(), *self.typed_places)
        typed = tuple(found_at(each, TYPED) for each in self.typed_backups)
        known = {each.path: each for each in typed}
        for each in backups_in(self.places, self.folder):
            known.setdefault(each.path, each)
        self.backups = tuple(known.values())
        self.reread(key)

    # ---------------------------------------------------------------------------------------------------- showing

    def reread(self, key: str = "") -> None:
        asked = "Which backup is to be put back?" if self.looked_at is None else "Put this backup back?"
        lines = [Content.assemble((asked, "bold"))]
        if self.typed:
            lines.append(Content.assemble(WHERE, (self.end_of_typed(), "bold")))
        self.query_one(Question).show(*lines)
        rows = self.rows_of_list() if self.looked_at is None else self.rows_of_it(self.looked_at)
        self.list.show(list(rows), self.list.cursor, key=key or self.key_in_hand)

    def end_of_typed(self) -> str:
        """As much of what was typed as there is room for, its end always."""
        text, room = f"{clean(self.typed)}_", max(10, self.size.width - len(WHERE) - 2)
        while Content(text).cell_length > room:
            text = text[1:]
        return text

    def rows_of_list(self) -> Iterator[Row]:
        width = self.size.width
        yield from rows_of_texts("told", self.told, width)
        if self.backups:
            yield Row("heading", "heading found", "Found, the newest first", tone="heading")
            yield from rows_of_backups(self.backups, width)
        yield Row("heading", "heading else", "Another one" if self.backups else "None was found", tone="heading")
        looked = join_words([clean(each.name) for each in self.places])
        none = f"No backup is in {looked}." if looked else "No documents, desktop or stick was found to look in."
        yield from rows_of_texts("none", () if self.backups else (none,), width, kind="text")
        yield Row("matter", AGAIN, "Look again: a stick is plugged in now")
        yield from rows_of_texts("how", (HOW,), width, kind="text")

    def rows_of_it(self, found: Usable) -> Iterator[Row]:
        more = [f"It goes into {clean(str(self.folder))}."]
        if said := len(read_set_up(self.folder).said):
            more.insert(0, f"{plural(said, 'answer')} of setting up your own school are not used then.")
        yield from rows_of_backup(found, self.size.width, more)

    def tell_problem(self, what: str, why: str) -> None:
        """Say in full why something was not done: a line alone may not hold it."""
        self.looked_at, self.told = None, (what, why)
        self.list.cursor = 0
        self.look_around("told 0")
        self.say(f"{what} Why is said above.", alarm=True)

    # ----------------------------------------------------------------------------------------------------- typing

    def type_in(self, text: str) -> None:
        self.typed = (self.typed + text)[:LONGEST_PATH]
        self.say("Enter takes it.")
        self.reread()

    def on_key(self, event: events.Key) -> None:
        if self.looked_at is None and event.is_printable and event.character is not None:
            event.stop()
            if event.character != " " or self.typed:
                self.type_in(event.character)

    def on_paste(self, event: events.Paste) -> None:
        """A pasted path is as if typed; so is a file that is dragged into the terminal."""
        event.stop()
        if self.looked_at is None and event.text.strip():
            self.type_in(event.text.strip().splitlines()[0])

    def action_erase(self) -> None:
        self.typed = self.typed[:-1]
        self.reread()

    def may_leave_row(self) -> bool:
        return not self.typed

    def take_path(self, typed: str) -> None:
        """What is in a backup; a folder with backups in it becomes one more place."""
        self.typed = ""
        path = path_typed(typed)
        if path is None:
            self.reread()
            self.say(f"There is no folder or file {typed}.", alarm=True)
            return
        if path.is_dir() and found_at(path).about is None:
            place = Place(path.name or str(path), path)
            self.typed_places = (*(each for each in self.typed_places if each.path != path), place)
            self.look_around()
            inside = [each for each in self.backups if Path(each.path).parent == path]
            if inside:
                self.go_to(f"{BACK}{inside[0].path}")
                self.say("Enter shows what is in it.")
            else:
                self.say(f"No backup is in {place.name}.", alarm=True)
            return
        self.typed_backups = (path, *(each for each in self.typed_backups if each != path))
        self.look_around(f"{BACK}{path}")
        self.look_at(path)

    # ----------------------------------------------------------------------------------------------- putting back

    def action_accept(self) -> None:
        key = self.key_in_hand
        if self.looked_at is not None:
            self.say(TO_DO)
        elif self.typed.strip():
            self.take_path(self.typed.strip())
        elif key == AGAIN:
            self.told = ()
            self.look_around()
            self.go_to(f"{BACK}{self.backups[0].path}" if self.backups else AGAIN)
            self.say(f"{plural(len(self.backups), 'backup')} found." if self.backups else "None was found.")
        elif key.startswith(BACK):
            self.look_at(Path(key.removeprefix(BACK)))

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click does it; putting back is by its key alone."""
        if event.again and self.looked_at is None:
            self.action_accept()

    def look_at(self, path: Path) -> None:
        try:
            self.looked_at = usable(path, self.folder)
        except (CannotPutBack, NotSaved) as problem:
            self.tell_problem("This one cannot be put back.", str(problem))
            return
        self.told = ()
        self.list.cursor = 0
        self.reread("in it 0")
        self.say(TO_DO)

    def action_put_back(self) -> None:
        """Put back what is shown; then the list opens on it."""
        if self.looked_at is None:
            return
        try:
            put_back_in_folder(self.folder, self.looked_at.backup, self.now)
        except NotSaved as problem:
            cut_off = "Quit Trundle and start it again: it is finished then." if is_changing(self.folder) else ""
            self.tell_problem("Not put back.", f"{problem} {cut_off}".strip())
            return
        self.done()

    def action_back(self) -> None:
        """Leave a half-typed path alone; else from a backup to the list, and from there to where to begin."""
        if self.typed:
            self.typed = ""
            self.reread()
            self.say("")
        elif self.looked_at is not None:
            key, self.looked_at = f"{BACK}{self.looked_at.backup.path}", None
            self.reread(key)
            self.say("")
        else:
            self.stop()
