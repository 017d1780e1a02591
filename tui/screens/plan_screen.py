"""What stands at one place of the plan, as rows; a change of it is one step, and what follows on the list is told."""

from __future__ import annotations

from datetime import date
from typing import Any

from msgspec import Struct
from rich.cells import cell_len
from textual import events
from textual.app import ComposeResult
from textual.content import Content

from checklists.files.plan_in_use import NOT_FITTING
from checklists.forms.fields import fields_of
from checklists.forms.places import Gone, Place, value_at
from checklists.forms.said import name_of
from checklists.forms.sense import what_makes_no_sense
from checklists.forms.typed import CannotBe
from checklists.lines.records import Day
from checklists.pages.what_follows import what_follows
from checklists.plan.plan_files import PlanFiles, as_written, with_what_holds
from checklists.rules.read import builtin_supplies
from checklists.rules.records import RuleFile
from checklists.words import clean, say_date
from tui.screens.plan_asking import PlanAskingScreen
from tui.widgets.follows import Follows
from tui.widgets.key_bar import KeyBar
from tui.widgets.line_list import LineList
from tui.widgets.message_line import MessageLine
from tui.widgets.question import Question
from tui.wording import sentence


class PlanScreen(PlanAskingScreen):
    """A form or a list of the plan. ``place`` leads to it from the plan files on."""

    place: Place = ()
    title = ""
    is_gone = False

    def __init__(self, on: date, place: Place, title: str) -> None:
        super().__init__(on)
        self.place = place
        self.title = title

    def compose(self) -> ComposeResult:
        yield Question()
        yield LineList()
        yield Follows()
        yield MessageLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        self.reread()

    @property
    def files(self) -> PlanFiles:
        """The plan files with what holds though no file says it; it is hers once she changes it."""
        return with_what_holds(self.book.plan_files, builtin_supplies())

    @property
    def value(self) -> Any:
        """What stands at the place. Raises Gone."""
        return value_at(self.files, self.place)

    def on_resize(self, event: events.Resize) -> None:
        """What a row has room for is another number of columns."""
        if self.query(LineList) and not self.is_gone:
            self.call_after_refresh(self.reread)

    def reread(self, key: str = "") -> None:
        """Show what stands there now; back where nothing does any more."""
        try:
            value = self.value
        except Gone:
            if not self.is_gone:
                self.is_gone = True
                self.dismiss()
            return
        self.show_value(value, key)
        title = last_part(clean(self.title), self.app.size.width - 2)
        self.query_one(Question).show(Content.assemble((title, "bold")), Content(clean(self.about(value))))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """No key is for what is gone meanwhile: the screen goes too."""
        try:
            value_at(self.files, self.place)
        except Gone:
            self.reread()
            return False
        return super().check_action(action, parameters)

    def show_value(self, value: Any, key: str) -> None:
        """Put the rows into the list, the cursor on ``key`` or where it was."""
        raise NotImplementedError

    def about(self, value: Any) -> str:
        """The line below the title."""
        raise NotImplementedError

    # ------------------------------------------------------------------------------------------------------ changing

    def change(
        self,
        files: PlanFiles,
        said: str,
        key: str = "",
        rules: RuleFile | None = None,
        called_now: str = "",
    ) -> None:
        """Change the plan as one step and tell what follows. Raises CannotBe where it does not fit.

        ``called_now`` is the new name of what stands here: then nothing else is different.
        """
        said = clean(said)
        if files == self.files:
            self.stop_asking("That is so already.")
            return
        if why := what_makes_no_sense(self.files, files, self.place):
            raise CannotBe(why)
        before, plan = self.trundle.recorder.day(self.date), self.book.plan
        openly = self.private_of() or said  # what is taken back is said on any screen
        files = as_written(files, self.book.plan_files, builtin_supplies())
        problem = self.trundle.recorder.change_files(files, openly, self.trundle.now(), rules)
        if problem:
            if self.book.plan is not plan:  # it was changed outside, and read again
                self.reread()
            raise CannotBe(problem.replace(f"Not saved: {NOT_FITTING}", ""))
        if called_now:
            self.place = (*self.place[:-1], called_now)
        self.stop_asking()
        self.reread(key)
        if self.is_gone:
            return
        self.say(f"{sentence(said)} u takes it back.")
        if not called_now:
            self.tell_what_follows(before)

    def private_of(self) -> str:
        """What is changed here, without a word of what it is, where it tells of a child; "" where it does not."""
        for length in range(1, len(self.place)):
            record = value_at(self.files, self.place[:length])
            name = self.place[length]
            if isinstance(record, Struct) and any(
                each.name == name and each.private for each in fields_of(type(record))
            ):
                return clean(f"a private note about {name_of(self.book.plan, record)}")
        return ""

    def tell_what_follows(self, before: Day) -> None:
        """What is different on the list of the day."""
        recorder = self.trundle.recorder
        after = recorder.day(self.date)
        is_private = bool(self.private_of())
        follows = what_follows(self.book.plan, before, after, recorder.marks(self.date), private=is_private)
        where = f"On the list of {say_date(self.date)}"
        self.query_one(Follows).tell(where if follows else f"{where} nothing is different.", follows)

    def tell_refusal(self, why: str) -> None:
        self.query_one(Follows).tell("That cannot be so" if why else "", (why,) if why else ())

    def action_undo(self) -> None:
        if self.asked is None:
            self.query_one(Follows).tell("", ())
            self.take_back()

    def action_quit(self) -> None:
        if self.asked is None:
            super().action_quit()


def last_part(title: str, width: int) -> str:
    """The way here, without its beginning where there is no room for all of it."""
    while cell_len(title) > width and " > " in title:
        title = f"… > {title.removeprefix('… > ').partition(' > ')[2]}"
        if title.count(" > ") == 1:
            break
    return title
