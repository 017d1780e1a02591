"""Walks that nobody has said and the route depends on: worked out beside the screen, said by a number and Enter."""

from __future__ import annotations

from datetime import date

from textual.content import Content
from textual.worker import get_current_worker

from checklists.lines.records import Day
from checklists.pages.walks import say_way_between
from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Plan
from checklists.plan.walk_notes import put_walk_back, say_walk
from checklists.route.day_route import DayRoute
from checklists.route.unknown_walks import UnknownWalk, walks_to_ask
from checklists.walking import keep_walk
from checklists.walks import walks_of
from checklists.words import clean
from tui.route_rows import walk_key
from tui.screens.rows_screen import RowsScreen
from tui.widgets.message_line import MessageLine

MOST_DIGITS = 2


class WalksAsked(RowsScreen):
    """A screen over a day's route that asks for walks."""

    def __init__(self, on: date) -> None:
        super().__init__(on)
        self.typed = ""
        """Minutes as far as they are typed."""
        self._asked_for: DayRoute | None = None
        self._asked: tuple[UnknownWalk, ...] = ()

    def walks_asked(self, day: Day, route: DayRoute) -> tuple[UnknownWalk, ...]:
        """Those known to matter so far; for another route it is worked out anew, which takes several plans."""
        if self._asked_for is not route:
            self._asked_for, self._asked = route, ()
            plan = self.book.plan
            self.run_worker(lambda: self._look_for_walks(plan, day, route), thread=True, exclusive=True, group="walks")
        return self._asked

    def _look_for_walks(self, plan: Plan, day: Day, route: DayRoute) -> None:
        """In a thread of its own, from what was true when it began."""
        worker = get_current_worker()
        found = walks_to_ask(walks_of(plan, day), route.problem)
        if found and not worker.is_cancelled:
            self.app.call_from_thread(self._show_walks, route, found)

    def _show_walks(self, route: DayRoute, found: tuple[UnknownWalk, ...]) -> None:
        if self.is_attached and self._asked_for is route:
            self._asked = found
            self.reread()
            if not self.query_one(MessageLine).said:
                self.say("The route depends on walks nobody has said: NOT KNOWN, below the visits.")

    # ------------------------------------------------------------------------------------------------------- saying

    @property
    def walk_in_hand(self) -> UnknownWalk | None:
        return next((each for each in self._asked if walk_key(each) == self.key_in_hand), None)

    def may_leave_row(self) -> bool:
        return not self.typed

    def types_minutes(self, digit: str) -> bool:
        """Take a digit where a walk is in hand."""
        walk = self.walk_in_hand
        if walk is None:
            return False
        self.typed = (self.typed + digit)[:MOST_DIGITS]
        self.echo(walk)
        return True

    def echo(self, walk: UnknownWalk) -> None:
        said = f"min from {say_way_between(walk.start, walk.end)}, either way; Enter: it is so"
        self.query_one(MessageLine).put(
            Content.assemble((f"{self.typed}_", "bold $ask"), f" {clean(said)}"), alone=True
        )

    def action_erase(self) -> None:
        walk = self.walk_in_hand
        self.typed = self.typed[:-1]
        if self.typed and walk is not None:
            self.echo(walk)
        else:
            self.stop_typing()

    def stop_typing(self) -> None:
        self.typed = ""
        self.query_one(MessageLine).put(Content(""))

    def say_walk_in_hand(self) -> None:
        """The minutes typed, or with none those assumed, count as said from now on."""
        walk = self.walk_in_hand
        if walk is None:
            return
        minutes = int(self.typed) if self.typed else walk.assumed
        self.stop_typing()
        book, before = self.book, self.book.plan.school
        try:
            school = say_walk(book.plan, walk.start, walk.end, minutes)
        except CannotNote as problem:
            self.say(str(problem), alarm=True)
            return
        way = f"{say_way_between(walk.start, walk.end)}, {minutes} min"
        problem_words = self.trundle.recorder.change_plan(
            lambda: keep_walk(book, self.date, school, self.trundle.now()),
            lambda: book.change_school(put_walk_back(book.plan.school, before, walk.start, walk.end)),
            way,
        )
        self.reread()
        self.say(problem_words or f"Said: {way}, from now on and either way.", alarm=bool(problem_words))
