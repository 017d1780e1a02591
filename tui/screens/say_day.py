"""Who comes on a day of the timetable that nobody has said anything of yet: the questions of the first start, again."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Any

from checklists.book import NotSaved
from checklists.files.set_up_file import forget_set_up
from checklists.first_start.asking_day import DaySaid, ask_day
from checklists.first_start.later_days import later_day_asked, say_day
from checklists.first_start.making import Made, with_day
from checklists.first_start.question import Asking, Question
from checklists.words import plural, say_date
from tui.screens.kept_answers import KeptAnswersScreen, to_the_list

if TYPE_CHECKING:
    from tui.app import TrundleApp


class SayDayScreen(KeptAnswersScreen):
    """Asks who comes on a date. ``done`` is called once it is in the plan; leaving keeps what was answered."""

    def __init__(self, on: date, done: Callable[[date], None], trundle: TrundleApp) -> None:
        self.date, self.done, self.trundle = on, done, trundle
        self.book = trundle.recorder.book
        self.day_name = self.book.day(on).day_name
        self.called = say_day(self.book.plan, self.day_name)
        super().__init__(self.book.folder)

    def asking(self) -> Asking[DaySaid]:
        return ask_day(later_day_asked(self.book.plan, self.day_name), self.choices)

    def heading(self) -> str:
        return f"Who comes on {self.called}: {plural(len(self.way.answered), 'answer')} so far"

    def last_question(self) -> Question[Any]:
        visits = plural(len(self.way.said.visits), "visit") if self.way.said.visits else "nobody comes"
        return to_the_list(
            f"That is all for {self.called}: {visits}.",
            "It is the same on every such day. One key takes it back: u.",
            f"the list of {say_date(self.date)}",
        )

    def finish(self, said: DaySaid) -> None:
        """Who comes, new classes, rooms and lessons: one step."""
        made, at = with_day(self.book.plan_files, said), self.trundle.now()
        told = f"who comes on {self.called}"

        def change() -> None:
            self.book.change_files(made.files, told, at)
            self.tell_places(made)

        def take_back() -> None:
            if made.begun:
                self.book.undo(self.date)
            self.book.take_files_back()

        problem = self.trundle.recorder.change_plan(change, take_back, told)
        if problem:
            self.alarm = problem
            return
        with contextlib.suppress(NotSaved):  # it does no harm beside a plan
            forget_set_up(self.book.folder)
        self.dismiss()
        self.done(self.date)

    def tell_places(self, made: Made) -> None:
        """Which classes are in the middle of a lesson. Where that cannot be kept, the plan is as it was, too."""
        entries = made.entries(self.trundle.now())
        if not entries:
            return
        try:
            self.book.do(self.date, *entries)
        except NotSaved:
            self.book.take_files_back()
            raise

    def action_stop(self) -> None:
        self.dismiss()
