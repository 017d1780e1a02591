"""An open data folder: the plan, the rules and the daybook in one hand. Screens and commands do everything through it.

What she does is on disk when ``do`` returns. What can be computed is computed (``openings``), and remembered only until
something it depends on changes. A change of the plan (``keep_rule``, ``change_classes`` …) is on disk and in use when
it returns, or it raises NotSaved and nothing is changed; ticks stay as they are.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterable
from copy import copy
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import structs

from checklists.closings import Closings
from checklists.daybook.children import as_told
from checklists.daybook.doubting_the_date import Doubt, doubt_of_date
from checklists.daybook.entries import (
    AboutChildren,
    AnyEntry,
    Began,
    Changed,
    ClassPlace,
    Joined,
    Left,
    RouteKept,
    Sized,
    Stands,
    Testing,
)
from checklists.daybook.marks import FETCH, Marks
from checklists.daybook.state import State
from checklists.facts_asked import FactsAsked
from checklists.files.lock import LOCK_FILE, Lock, take_lock, why_not_writing
from checklists.files.plan_in_use import PlanInUse
from checklists.files.safely import NotSaved
from checklists.files.year_pending import finish_what_was_cut_off
from checklists.lines.day import calendar_for
from checklists.lines.records import Day
from checklists.openings import Openings
from checklists.plan.records import Plan
from checklists.problems import Problem
from checklists.rules.read import RuleSet
from checklists.told_days import ToldDays
from checklists.words import minute_of_day, plural, say_date, say_full_date

if TYPE_CHECKING:
    from checklists.daybook.minutes_left import LeaveBy
    from checklists.route.begun import RouteSoFar
    from checklists.route.day_route import DayRoute
    from checklists.route.departure import Departure

__all__ = ["Book", "CannotOpen", "NotSaved"]

WHAT_CHANGES_A_ROUTE = (Changed, Sized, Testing, Stands)
DAYS_UNDONE = 14
"""How far back a step is looked for that was made today about an earlier day."""
MOST_DAYS_AHEAD = 60
"""How far ``list_date`` looks for a day with visits: longer than any holiday."""


class CannotOpen(Exception):  # noqa: N818 - read as a sentence where it is caught
    """No plan can be used: none is there, or it does not read and no last good one is kept."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(str(problem) for problem in problems))
        self.problems = problems


def _open_elsewhere(computer: str) -> Problem:
    what = f"Trundle is open on another computer too ({computer}), or was not closed properly there."
    to_do = "Close it there first: what is said on both comes as two versions of a day."
    return Problem(LOCK_FILE, "", what, to_do, level="note")


class Book(FactsAsked):
    """One data folder, open. Close it with ``release``, or use it in a ``with`` statement."""

    def __init__(self, in_use: PlanInUse, lock: Lock | None, why_read_only: str, today: date | None) -> None:
        read = in_use.read
        if read.plan is None or read.rules is None:
            raise CannotOpen(read.problems)
        self.folder = in_use.folder
        self.why_read_only = why_read_only
        self._in_use = in_use
        self._lock = lock
        self._elsewhere = (_open_elsewhere(lock.other_computer),) if lock is not None and lock.other_computer else ()
        self._begin(read.plan, read.rules, today)

    def _begin(self, plan: Plan, rules: RuleSet, today: date | None) -> None:
        self._told = ToldDays(self.folder)
        self._told.go_by_names_of(plan)
        self._openings = Openings(plan, rules, self._told, today)
        self._closings = Closings(self._told, self._openings)
        self._routes: dict[date, tuple[Day, object, DayRoute]] = {}
        self._departures: dict[date, tuple[DayRoute, dict[object, Departure]]] = {}
        self._asked = {}

    @classmethod
    def open(cls, folder: Path, *, write: bool = True, today: date | None = None) -> Book:
        """Open a folder, for writing where no other window has it. Days from ``today`` on are looked past as planned.

        Raises CannotOpen with every problem where there is no plan to work with.
        """
        if unfinished := finish_what_was_cut_off(folder):
            raise CannotOpen(unfinished)
        in_use = PlanInUse(folder)
        read = in_use.read
        lock = take_lock(folder) if write and read.plan is not None and not read.newer_format else None
        why = "" if lock is not None else why_not_writing(folder, wanted=write, newer=read.newer_format)
        book = cls(in_use, lock, why, today)
        book._catch_up()
        return book

    def open_anew(self) -> None:
        """Take up all that now stands in the folder, plan and daybook, as a start does; the lock stays in this hand.

        Raises CannotOpen where no plan there can be used; then nothing is written any more.
        """
        in_use = PlanInUse(self.folder)
        read = in_use.read
        if read.newer_format or read.plan is None or read.rules is None:
            self.only_look(why_not_writing(self.folder, wanted=True, newer=read.newer_format))
        if read.plan is None or read.rules is None:
            raise CannotOpen(read.problems)
        self._in_use = in_use
        self.__dict__.pop("versions", None)
        self._begin(read.plan, read.rules, self.today)
        self._catch_up()

    def only_look(self, why: str) -> None:
        """Write nothing from now on, and say why."""
        self.why_read_only = why
        if self._lock is not None:
            self._lock.release()
            self._lock = None

    def _catch_up(self) -> None:
        """Let follow what follows from days whose journal an earlier start left behind."""
        if self.writable:
            cut_off = self._told.cut_off_days()
            self._closings.follow_from(cut_off)
            with contextlib.suppress(NotSaved):  # the class list cannot be written now: saying it once more does it
                self._follow_in_class_list([entry for day in cut_off for entry in self._told.record(day).entries])

    def __enter__(self) -> Book:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()

    # ------------------------------------------------------------------------------------------------ looking

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every problem of the plan and rule files, and of the days looked at so far."""
        return (*self._in_use.read.problems, *self._told.problems, *self._elsewhere)

    @property
    def writable(self) -> bool:
        """Whether this window writes."""
        return self._lock is not None

    @property
    def today(self) -> date:
        """The date from which unreported visits are still to come; by default that of the latest day with entries."""
        return self._openings.today

    @today.setter
    def today(self, day: date) -> None:
        self._openings.today = day

    @property
    def told_dates(self) -> frozenset[date]:
        """Days of which anything was said."""
        return frozenset(self._told.dates)

    def day(self, day: date) -> Day:
        """The list of a date."""
        return self._openings.day(day)

    def marks(self, day: date) -> Marks:
        """The newest word on everything of a date; kept up to date by ``do`` and ``undo``."""
        return self._told.marks(day)

    def route(self, day: date) -> DayRoute:
        """The best route of a date as it has come so far: the same until the list, or what stands where, changes."""
        from checklists.route.day_route import route_of

        plan, list_, marks = self._openings.plan_of(day), self.day(day), self.marks(day)
        let_go = frozenset(each for each in marks.let_go if each.startswith(FETCH))
        asked = (id(list_), marks.changes, dict(marks.places), marks.route, let_go)
        known = self._routes.get(day)
        if known is None or known[0] is not list_ or known[1] != asked:
            self._routes[day] = known = (list_, asked, route_of(plan, list_, marks))
        return known[2]

    def departure(self, day: date, minute: int | None = None) -> Departure:
        """What the route of a date asks of the stop that comes next: what is packed first, what is left ahead.

        ``minute`` is that of the clock where the date is today; None: as the day begins.
        """
        from checklists.route.departure import departure_of
        from checklists.taught_periods import bells_on

        plan, marks, list_, route = self._openings.plan_of(day), self.marks(day), self.day(day), self.route(day)
        if self._departures.get(day, (None,))[0] is not route:
            self._departures[day] = (route, {})
        known = self._departures[day][1]
        # It is another one only where a visit has begun, or she has left, since.
        left = marks.left.at if marks.left is not None else None
        begun = None if minute is None else sum(visit.start <= minute for visit in list_.visits)
        is_said = left is not None and minute is not None and minute_of_day(left) <= minute
        if (begun, left, is_said) not in known:
            bells = bells_on(plan, marks.changes)
            known[begun, left, is_said] = departure_of(plan, bells, list_, route, marks, minute)
        return known[begun, left, is_said]

    def leave_by(self, day: date) -> LeaveBy | None:
        """When to set out on a date, with what is to be fetched and left ahead before; None: no visits."""
        return self.departure(day).leave_by(self.day(day), self.marks(day))

    def say_too_short(self, day: date) -> str:
        """What is said where a locked store leaves too little time for packing what goes first; empty: it is enough."""
        from checklists.daybook.minutes_left import packing_minutes_left, say_too_short

        list_, marks, a_line = self.day(day), self.marks(day), self._openings.plan_of(day).school.habits.minutes_a_line
        packing = packing_minutes_left(list_, marks, a_line, self.departure(day).later)
        return say_too_short(list_, marks, self.leave_by(day), packing)

    def is_closed(self, day: date) -> bool:
        """Whether the day was closed."""
        return self._told.record(day).closing is not None

    def list_date(self, today: date) -> date:
        """The date to open on: today if it has visits, else the next day that has. Today is then taken as today."""
        self.today = today
        day = today
        for _ in range(MOST_DAYS_AHEAD):
            if self.day(day).visits:
                return day
            following = self.day(day).next_school_day
            if following is None:
                break
            day = following
        return today

    def doubt_of_date(self) -> Doubt | None:
        """What is to be asked where the date of the computer can hardly be right."""
        last_step = self._told.newest_step(max(self._told.dates, default=self.today), self.today)
        return doubt_of_date(self.today, last_step, calendar_for(self.plan, State(), self.today, None))

    def opening(self, day: date) -> State:
        """How things stand when ``day`` opens: the closing of the last closed day, and every day since gone through."""
        return self._openings.opening(day)

    def closing_of(self, day: date) -> State:
        """How things stand after a day as it is told so far, closed or not."""
        return self._openings.closing_of(day)

    def check_chain(self) -> tuple[Problem, ...]:
        """Whether every closed day opened with what the days before it had left. Empty: the chain holds."""
        return self._openings.check_chain()

    def with_rules(self, rules: RuleSet) -> Openings:
        """The same days as they would be with other rules; nothing of this book is changed."""
        return Openings(self.plan, rules, self._told, self.today)

    # ------------------------------------------------------------------------------------------------- doing

    def do(self, day: date, *entries: AnyEntry) -> None:
        """Put entries into a day, as one step that ``undo`` takes back. On disk when it returns; raises NotSaved."""
        self._must_write(day)
        at = self._later(entries[0].at)
        kept = self._route_so_far(day, entries)
        said = (*entries, kept.entry) if kept is not None else entries
        self._told.append(day, *(structs.replace(entry, at=at) for entry in said))  # at once, whatever comes between
        try:
            self._follow_in_class_list(entries)  # first: a closed day is worked out again with the class as it is then
        finally:
            self._after_change(day, entries)
        if kept is not None and not kept.is_needed(self._route_without(day, kept)):
            with contextlib.suppress(NotSaved):  # it does no harm where it stays
                self._told.take_back(day, 1)

    def undo(self, day: date) -> str | None:
        """Take back the newest step of the day, or of an earlier day if it was made after; what it was, in words.

        A closed day is opened again. None where nothing is left to take back. Raises NotSaved.
        """
        from checklists.daybook.said import say_entry
        from checklists.daybook.said_wishes import say_what_holds_again
        from checklists.route.pins import pins_on

        self._must_write(day)
        day = self._newest_step(day)
        record = self._told.record(day)
        newest = record.entries[-1].at if record.entries else None
        if record.closed_at is not None and (newest is None or newest <= record.closed_at):
            self._closings.open_again(day)
            return f"{say_date(day)} is open again"
        if newest is None:
            return None
        group = [entry for entry in record.entries if entry.at == newest]
        if all(isinstance(entry, RouteKept) and not entry.anew for entry in group):  # no step of hers: of the plan
            self._told.take_back(day, len(group))
            return self.undo(day)
        if any(isinstance(entry, Began) for entry in group):
            return None
        said = say_entry(group[0], self.day(day), self.plan)
        more = sum(not isinstance(entry, RouteKept) for entry in group) - 1
        if more > 0:
            said += f" and {plural(more, 'more')}".replace(" mores", " more")
        self._follow_in_class_list(group, undone=True)
        try:
            self._told.take_back(day, len(group))
        except NotSaved:
            self._follow_in_class_list(group)
            raise
        self._after_change(day, group)
        again = say_what_holds_again(
            group, pins_on(self._openings.plan_of(day), self.marks(day).changes), self.day(day)
        )
        return ". ".join((said, *again))

    def close(self, day: date, at: datetime) -> tuple[str, ...]:
        """Close a day: one atomic write of its file. What it did, in words. Raises NotSaved: then it is not closed."""
        from checklists.daybook.said_closing import say_closing

        self._must_write(day)
        opening, closing = self._closings.close(day, self._later(at))
        opening = as_told(self.plan, day, self.marks(day), opening)
        return say_closing(self.plan, self.day(day), opening, closing)

    def release(self) -> None:
        """Fold, and let another window write. A fold that fails leaves the journals, which hold everything."""
        try:
            if self.writable:
                self.fold()
        except NotSaved:
            pass
        finally:
            if self._lock is not None:
                self.only_look("This window was closed.")

    def _must_write(self, day: date) -> None:
        if not self.writable:
            raise NotSaved(self.why_read_only)
        self._told.must_be_writable(day)
        if self._openings.is_of_a_year_before(day):
            raise NotSaved(
                f"{say_full_date(day)} belongs to a school year that is over: it stays as it was. Say it on a day"
                " since; what you have is counted with trundle count."
            )

    def _route_without(self, day: date, kept: RouteSoFar) -> DayRoute:
        """The route of a day without the route that was just kept."""
        from checklists.route.day_route import route_of

        marks = copy(self.marks(day))
        marks.route = kept.earlier
        return route_of(self._openings.plan_of(day), self.day(day), marks)

    def _route_so_far(self, day: date, entries: tuple[AnyEntry, ...]) -> RouteSoFar | None:
        """The route she is going by, where what is said on the day itself may give it another one."""
        if not any(isinstance(entry, WHAT_CHANGES_A_ROUTE) for entry in entries):
            return None
        from checklists.route.begun import route_so_far

        return route_so_far(self.day(day), self.marks(day), self.route(day), entries)

    def plan_was_changed_last(self, day: date) -> bool:
        """Whether plan files were changed today after all that ``undo`` of a day would take back."""
        step = self.newest_files_step() if self.writable else None
        return step is not None and step.at.date() == self.today and self.newest_moment(day) <= step.at

    def newest_moment(self, day: date) -> datetime:
        """When the step was made that ``undo`` of this day would take back; long ago where there is none."""
        return self._told.made(self._newest_step(day))

    def _newest_step(self, day: date) -> date:
        """The day whose newest step was made last: this one, or an earlier one told about since."""
        told = [each for each in self._told.dates if day - timedelta(DAYS_UNDONE) <= each < day]
        earlier = [each for each in told if self._told.made(each).date() >= day and self._may_change(each)]
        return max((day, *earlier), key=self._told.made)

    def _may_change(self, day: date) -> bool:
        return not self._openings.is_of_a_year_before(day)

    def _later(self, at: datetime) -> datetime:
        """A moment after every step so far of today and the days looked at: the order of steps is their moments.

        Whatever the clock says: it may have been set back.
        """
        newest = self._told.newest_step(self.today)
        return newest + timedelta(microseconds=1) if newest >= at else at

    def _after_change(self, day: date, entries: tuple[AnyEntry, ...] | list[AnyEntry]) -> None:
        if any(isinstance(entry, Changed | AboutChildren | ClassPlace | Sized | Testing) for entry in entries):
            self._openings.forget_list(day)
        self._closings.follow_from((day,))

    def _follow_in_class_list(self, entries: Iterable[AnyEntry], *, undone: bool = False) -> None:
        """Make a class larger or smaller where a child has joined or left, or another number is to count from now on.

        Where this is cut off, or raises NotSaved, what was said stands: the next start does it, or saying it again.
        """
        if any(isinstance(entry, Joined | Left | Sized) for entry in entries):
            from checklists.daybook.class_list import list_after, list_before
            from checklists.plan.class_notes import classes_of

            before = classes_of(self.plan)
            after = list_before(before, entries) if undone else list_after(before, entries)
            if after != before:
                self.change_classes(after)
