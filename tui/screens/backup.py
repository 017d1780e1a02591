"""Is everything kept elsewhere too? Places to back up into, the backups there are, and putting one back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.binding import BindingType
from textual.content import Content

from checklists.backing_up import Usable, back_up, put_back_in_book, take_back_in_book, usable
from checklists.backup.about import CannotPutBack, say_about, say_moment
from checklists.backup.difference import Found
from checklists.book import CannotOpen, NotSaved
from checklists.files.backup_places import Place, backups_in, found_at, path_typed, places
from checklists.files.backup_reading import look_into
from checklists.pages.backup import say_made
from checklists.words import clean
from tui.keys import BACKUP, bindings_of
from tui.rows import Row
from tui.screens.backup_rows import BACK, LONGEST_PATH, TO_DO, rows_of_backup, rows_of_backups, rows_of_texts
from tui.screens.rows_screen import RowsScreen
from tui.widgets.line_list import LineList
from tui.widgets.question import Question

if TYPE_CHECKING:
    from tui.app import TrundleApp

INTO = "into "


class BackupScreen(RowsScreen):
    """Enter backs up into the place in hand, or shows what is in the backup in hand; ``y`` then puts that back."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BACKUP)]
    KEYS = BACKUP
    TITLE_OF_KEYS = "Backing up, and putting back"

    def __init__(self, on: date, go_to_day: Callable[[date], None], places: Callable[[], tuple[Place, ...]] = places):
        super().__init__(on)
        self.go_to_day = go_to_day
        self.ask_places = places
        self.places: tuple[Place, ...] = ()
        self.typed_places: tuple[Place, ...] = ()
        self.backups: tuple[Found, ...] = ()
        self.typing: str | None = None
        self.as_folder = False
        self.looked_at: Usable | None = None
        """The backup of which is shown what it holds."""
        self.done: tuple[str, ...] = ()
        """What was done last, in words."""
        self.is_other = False
        """Whether a backup was put back, or that was taken back, so that the list behind may be of another day."""

    def on_mount(self) -> None:
        self.look_around()

    def on_resize(self) -> None:
        self.reread()

    def look_around(self, key: str = "") -> None:
        """Ask the computer for places and look what is there: sticks come and go."""
        self.places = (*self.ask_places(), *self.typed_places)
        typed = tuple(each for each in self.backups if each.place == "typed")
        found = backups_in(self.places, self.book.folder)
        self.backups = (*typed, *(each for each in found if each.path not in {every.path for every in typed}))
        self.reread(key)

    def reread(self, key: str = "") -> None:
        if self.typing is not None:
            self.query_one(Question).show(self.asked(), Content.assemble("Where: ", (f"{clean(self.typing)}_", "bold")))
        else:
            self.query_one(Question).show(self.asked())
        found, width = self.looked_at, self.size.width
        rows = rows_of_backup(found, width) if found is not None else self.rows_of_places()
        self.list.show(list(rows), self.list.cursor, key=key or self.key_in_hand)

    def asked(self) -> Content:
        asked = "Put this backup back?" if self.looked_at is not None else "Back up everything, or put a backup back"
        return Content.assemble((asked, "bold"))

    def rows_of_places(self) -> Iterator[Row]:
        width = self.size.width
        yield from rows_of_texts("done", self.done, width)
        form = "a folder of files" if self.as_folder else "one file"
        yield Row("heading", "heading into", f"Back up into (as {form})", tone="heading")
        for place in self.places:
            yield Row("matter", f"{INTO}{place.path}", f"{clean(place.name)}  {clean(str(place.path))}")
        if not self.places:
            yield from rows_of_texts("no place", ("No place is offered here. t: type a folder.",), width)
        yield Row("heading", "heading back", "Put one back", tone="heading")
        yield from rows_of_backups(self.backups, width)
        if not self.backups:
            yield from rows_of_texts("no backup", ("None was found in these places. t: type where one is.",), width)

    # ---------------------------------------------------------------------------------------------------- typing

    def on_key(self, event: events.Key) -> None:
        """While a path is typed every sign is a sign of it."""
        if self.typing is not None and event.is_printable and event.character is not None:
            event.stop()
            self.typing = (self.typing + event.character)[:LONGEST_PATH]
            self.reread()

    def on_paste(self, event: events.Paste) -> None:
        """A pasted path is as if typed; so is a file that is dragged into the terminal."""
        if self.looked_at is None and event.text.strip():
            event.stop()
            self.typing = ((self.typing or "") + event.text.strip().splitlines()[0])[:LONGEST_PATH]
            self.reread()

    def action_type_path(self) -> None:
        if self.looked_at is None:
            self.typing = ""
            self.say("A folder to back up into, or where a backup is; Enter takes it.")
            self.reread()

    def action_digit(self, digit: str) -> None:
        """Digits come by ``on_key``."""

    def action_erase(self) -> None:
        if self.typing is not None:
            self.typing = self.typing[:-1] if self.typing else None
            self.reread()

    def may_leave_row(self) -> bool:
        return self.typing is None

    def take_path(self, typed: str) -> None:
        """A folder becomes a place, a backup one that can be put back."""
        self.typing = None
        path = path_typed(typed)
        if path is None:
            self.reread()
            self.say(f"There is no folder or file {typed}.", alarm=True)
            return
        found = found_at(path, "typed")
        if found.about is not None or not path.is_dir():
            self.backups = (found, *(each for each in self.backups if each.path != found.path))
            self.reread(f"{BACK}{found.path}")
            self.say(found.said, alarm=bool(found.said))
        else:
            self.typed_places = (*self.typed_places, Place("typed", path))
            self.look_around(f"{INTO}{path}")
            self.say("Enter backs up into it.")

    def tell_problem(self, what: str, why: str) -> None:
        """Say in full why something was not done: a line alone may not hold it."""
        self.done = (what, why)
        self.list.cursor = 0
        self.look_around()
        self.say(f"{what} Why is said above.", alarm=True)

    # -------------------------------------------------------------------------------------------------- backing up

    def action_as_folder(self) -> None:
        if self.looked_at is None:
            self.as_folder = not self.as_folder
            self.reread()

    def action_accept(self) -> None:
        key = self.key_in_hand
        if self.typing is not None:
            if self.typing.strip():
                self.take_path(self.typing.strip())
        elif self.looked_at is not None:
            self.say(TO_DO)
        elif key.startswith(INTO):
            self.back_up(Path(key.removeprefix(INTO)))
        elif key.startswith(BACK):
            self.look_at(Path(key.removeprefix(BACK)))

    @on(LineList.Pointed)
    def take_pointed(self, event: LineList.Pointed) -> None:
        """A second click does it; putting back is by its key alone."""
        if event.again and self.looked_at is None:
            self.action_accept()

    def back_up(self, place: Path) -> None:
        waiting = self.trundle.recorder.save_again()
        try:
            path = back_up(self.book, place, self.trundle.now(), as_folder=self.as_folder)
            self.done = say_made(path, look_into(path))
        except (NotSaved, CannotPutBack) as problem:
            self.tell_problem("Not backed up.", str(problem))
            return
        self.look_around(f"{INTO}{place}")
        self.say(waiting or f"Backed up: {path.name}", alarm=bool(waiting))

    # ------------------------------------------------------------------------------------------------ putting back

    def look_at(self, path: Path) -> None:
        self.trundle.fold_now()
        try:
            self.looked_at = usable(path, self.book.folder)
        except (CannotPutBack, NotSaved) as problem:
            self.tell_problem("This one cannot be put back.", str(problem))
            return
        self.list.cursor = 0
        self.reread()
        self.say("")

    def action_put_back(self) -> None:
        """Put back what is shown, as a step that undo takes back in this window."""
        found, trundle = self.looked_at, self.trundle
        if found is None:
            return
        kept: list[Path | None] = []
        recorder, book = trundle.recorder, trundle.recorder.book

        def bring_back() -> None:
            """What was there before, also when this screen was left since. Raises NotSaved."""
            take_back_in_book(book, kept[0], trundle.now())
            turn(trundle)

        problem = recorder.save_again()
        if not problem:
            try:
                problem = recorder.change_plan(
                    lambda: kept.append(put_back_in_book(book, found.backup, trundle.now())),
                    bring_back,
                    f"putting back the backup of {say_moment(found.backup.about.made)}",
                )
            except CannotOpen as wrong:
                problem = f"Put back, but it cannot be worked with: {wrong}"
        if problem:
            self.looked_at = None
            self.tell_problem("Not put back.", problem)
            return
        self.looked_at = None
        where = f"What was here before is kept: {clean(str(kept[0]))}" if kept[0] is not None else ""
        self.done = (f"Put back: {say_about(found.backup.about)}.", *((where,) if where else ()))
        turn(trundle)
        self.take_up()
        self.say("Put back. u takes it back.")

    def take_up(self) -> None:
        """Go on with what is in the folder now."""
        self.is_other = True
        self.date = self.trundle.opening_date
        self.look_around()

    def action_undo(self) -> None:
        if self.typing is not None:
            return
        self.looked_at, self.done = None, ()
        if said := self.take_back():
            self.take_up()
            self.say(f"Taken back: {said}.")

    def action_back(self) -> None:
        if self.typing is not None:
            self.typing = None
            self.reread()
        elif self.looked_at is not None:
            key, self.looked_at = f"{BACK}{self.looked_at.backup.path}", None
            self.reread(key)
            self.say("")
        elif self.is_other:
            self.dismiss()
            self.go_to_day(self.trundle.opening_date)
        else:
            super().action_back()


def turn(trundle: TrundleApp) -> None:
    """From now on she is at the day that suits what is in the folder now."""
    trundle.turn_to(trundle.recorder.book.list_date(trundle.now().date()))
