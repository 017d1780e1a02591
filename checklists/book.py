"""An open data folder: the plan, the rules and the daybook in one hand. Screens and commands do everything through it.

What she does is on disk when ``do`` returns. What can be computed is computed: a day's opening follows from the days
before it, the day's list from its opening, and both are remembered only until something they depend on changes.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Final

from msgspec import structs

from checklists.daybook.marks import Marks, add_to, changes_of, marks_of
from checklists.daybook.opening import first_state
from checklists.daybook.records import AnyEntry, Changed, DayRecord, State
from checklists.files import daybook_folder
from checklists.files.last_good import Stamp
from checklists.files.lock import Lock, take_lock, writer_of
from checklists.files.plan_folder import CLASSES, RULES, PlanRead, read_plan, stamps_of
from checklists.files.safely import NotSaved, can_be_written
from checklists.lines.day import calendar_for, day_on
from checklists.lines.records import Day
from checklists.plan.records import Classes, Habits, Plan
from checklists.problems import Problem
from checklists.rules.records import Rule, SwitchedOff
from checklists.words import plural, say_date

__all__ = ["Book", "CannotOpen", "NotSaved"]

FORMAT: Final = 1
DAYS_UNDONE = 14
"""How far back a step is looked for that was made today about an earlier day."""
MOST_DAYS_AHEAD = 60
"""How far ``list_date`` looks for a day with visits: longer than any holiday."""


class CannotOpen(Exception):  # noqa: N818 - read as a sentence where it is caught
    """No plan can be used: none is there, or it does not read and no last good one is kept."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(str(problem) for problem in problems))
        self.problems = problems


class Book:
    """One data folder, open. Close it with ``release``, or use it in a ``with`` statement."""

    def __init__(self, folder: Path, read: PlanRead, lock: Lock | None, why_read_only: str, today: date | None) -> None:
        if read.plan is None or read.rules is None:
            raise CannotOpen(read.problems)
        self.folder = folder
        self.plan: Plan = read.plan
        self.rules = read.rules
        self.own_rules = read.own_rules
        self.uses_last_good = read.from_last_good
        self.why_read_only = why_read_only
        self._plan_problems = read.problems
        self._stamps: tuple[Stamp, ...] = ()
        self._lock = lock
        self._dates = set(daybook_folder.dates(folder))
        self._records: dict[date, daybook_folder.DayRead] = {}
        self._marks: dict[date, Marks] = {}
        self._openings: dict[date, State] = {}
        self._days: dict[date, Day] = {}
        self._first: date | None = None
        self._unfolded: set[date] = set()
        self._changed: set[date] = set()
        """Days whose closing, or that of a day after, does not follow from their entries yet."""
        self._today = today

    @classmethod
    def open(cls, folder: Path, *, write: bool = True, today: date | None = None) -> Book:
        """Open a folder, for writing where no other window has it. Days from ``today`` on are looked past as planned.

        Raises CannotOpen with every problem where there is no plan to work with.
        """
        stamps = stamps_of(folder)
        read = read_plan(folder)
        lock = take_lock(folder) if write and read.plan is not None and not read.newer_format else None
        book = cls(folder, read, lock, _why_read_only(folder, read, lock, write), today)
        book._stamps = stamps
        book._take_up_what_was_cut_off()
        return book

    def __enter__(self) -> Book:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()

    # ------------------------------------------------------------------------------------------------ looking

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every problem of the plan and rule files, and of the days looked at so far."""
        return (*self._plan_problems, *(problem for read in self._records.values() for problem in read.problems))

    @property
    def writable(self) -> bool:
        """Whether this window writes."""
        return self._lock is not None

    @property
    def settings(self) -> Habits:
        """How she works."""
        return self.plan.school.habits

    @property
    def today(self) -> date:
        """The date from which unreported visits are still to come; by default that of the latest day with entries."""
        return self._today or max(self._dates, default=date.min)

    @today.setter
    def today(self, day: date) -> None:
        if day != self._today:
            self._today = day
            self._forget_after(date.min)

    def day(self, day: date) -> Day:
        """The list of a date."""
        if day not in self._days:
            change = changes_of(self._record(day).entries)
            told = as_told(self.plan, day, self.marks(day), self.opening(day))
            self._days[day] = day_on(self.plan, self.rules, told, day, change)
        return self._days[day]

    def marks(self, day: date) -> Marks:
        """The newest word on everything of a date; kept up to date by ``do`` and ``undo``."""
        if day not in self._marks:
            self._marks[day] = marks_of(self._record(day).entries)
        return self._marks[day]

    def is_closed(self, day: date) -> bool:
        """Whether the day was closed."""
        return self._record(day).closing is not None

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

    def opening(self, day: date) -> State:
        """How things stand when ``day`` opens: the closing of the last closed day, and every day since gone through."""
        if day not in self._openings:
            self._openings[day] = self._work_out_opening(day)
        return self._openings[day]

    def closing_of(self, day: date) -> State:
        """How things stand after a day as it is told so far, closed or not."""
        record = self._record(day)
        if record.closing is not None:
            return record.closing
        return self._work_out_closing(day, as_planned=day >= self.today)

    def _work_out_closing(self, day: date, *, as_planned: bool = False) -> State:
        from checklists.daybook.closing import close_day  # only here: a list is most often printed without closing

        return close_day(self.plan, self.day(day), self.marks(day), self.opening(day), as_planned=as_planned)

    def _work_out_opening(self, day: date) -> State:
        closed = self._newest_closed_before(day)
        if closed is not None and self._record(closed).opening is not None:
            begin: date | None = closed  # the daybook begins there or earlier; its first file need not be read
        else:
            begin = self._begin()
        if begin is None or day < begin:
            return first_state(self.plan)
        if day == begin:
            return self._record(day).opening or first_state(self.plan)
        days = {each for each in self._planned_days(begin, day) if each < day}
        days |= {each for each in self._dates if begin <= each < day}
        in_order = sorted(days)
        start = next((n for n in range(len(in_order) - 1, -1, -1) if self._settled(in_order[n]) is not None), None)
        state = None if start is None else self._settled(in_order[start])
        if state is None:
            state = self._record(begin).opening or first_state(self.plan)
        for each in in_order[0 if start is None else start + 1 :]:
            self._openings[each] = state
            state = self.closing_of(each)
        return state

    def _begin(self) -> date | None:
        """The day the daybook begins with: the first with an opening, or one before that was told of by its closing.

        That opening stands as it is. What somebody writes down later about a day before it does not make weeks of open
        questions.
        """
        if self._first is None or self._record(self._first).opening is None:
            in_order = sorted(self._dates)
            stands = next((day for day in in_order if self._record(day).opening is not None), None)
            closed_at = self._record(stands).closed_at if stands is not None else datetime.max
            told = (day for day in in_order if stands is None or day < stands)
            entries = ((day, self._record(day).entries) for day in told)
            before = (day for day, said in entries if said and closed_at is not None and said[0].at < closed_at)
            self._first = next(before, stands)
        return self._first

    def _opening_to_keep(self, day: date) -> State | None:
        """The opening that is written with a day's closing: none for a day before the daybook begins."""
        begin = self._begin()
        is_before = begin is not None and day < begin and self._record(begin).opening is not None
        return None if is_before else self.opening(day)

    def _newest_closed_before(self, day: date) -> date | None:
        earlier = sorted((each for each in self._dates if each < day), reverse=True)
        return next((each for each in earlier if self._settled(each) is not None), None)

    def _settled(self, day: date) -> State | None:
        """The closing of a closed day, without working anything out."""
        return self._record(day).closing if day in self._dates else None

    def _planned_days(self, first: date, last: date) -> list[date]:
        calendar = calendar_for(self.plan, State(), first, None)
        return [each for each in calendar.planned if first <= each <= last]

    def _record(self, day: date) -> DayRecord:
        if day not in self._records:
            if day in self._dates:
                self._records[day] = daybook_folder.load(self.folder, day)
            else:
                self._records[day] = daybook_folder.DayRead(DayRecord(format=FORMAT, date=day))
        return self._records[day].record

    # ------------------------------------------------------------------------------------------------- doing

    def do(self, day: date, *entries: AnyEntry) -> None:
        """Put entries into a day, as one step that ``undo`` takes back. On disk when it returns; raises NotSaved."""
        self._must_write(day)
        record = self._record(day)
        marks = self.marks(day)
        at = self._later(entries[0].at)
        stamped = tuple(structs.replace(entry, at=at) for entry in entries)
        daybook_folder.append(self.folder, day, *stamped)
        self._dates.add(day)
        self._unfolded.add(day)
        self._keep(structs.replace(record, entries=(*record.entries, *stamped)))
        for entry in stamped:
            add_to(marks, entry)
        self._after_change(day, entries)

    def undo(self, day: date) -> str | None:
        """Take back the newest step of the day, or of an earlier day if it was made after; what it was, in words.

        A closed day is opened again. None where nothing is left to take back. Raises NotSaved.
        """
        from checklists.daybook.said import say_entry

        self._must_write(day)
        day = self._newest_step(day)
        record = self._record(day)
        newest = record.entries[-1].at if record.entries else None
        if record.closed_at is not None and (newest is None or newest <= record.closed_at):
            return self._open_again(day)
        if newest is None:
            return None
        group = [entry for entry in record.entries if entry.at == newest]
        said = say_entry(group[0], self.day(day), self.plan)
        if len(group) > 1:
            said += f" and {plural(len(group) - 1, 'more')}".replace(" mores", " more")
        daybook_folder.append_undo(self.folder, day, newest, len(group))
        self._unfolded.add(day)
        self._keep(structs.replace(record, entries=record.entries[: -len(group)]))
        self._marks[day] = marks_of(self._record(day).entries)
        self._after_change(day, group)
        return said

    def close(self, day: date, at: datetime) -> tuple[str, ...]:
        """Close a day: one atomic write of its file. What it did, in words. Raises NotSaved: then it is not closed."""
        from checklists.daybook.said_closing import say_closing

        self._must_write(day)
        record = self._record(day)
        opening, closing = self.opening(day), self._work_out_closing(day)
        kept = self._opening_to_keep(day)
        closed = structs.replace(record, closed_at=self._later(at), opening=kept, closing=closing)
        daybook_folder.write_record(self.folder, closed)
        self._dates.add(day)
        self._unfolded.discard(day)
        self._keep(closed)
        self._first = None
        self._forget_after(day)
        self._close_later_days_again(day)
        return say_closing(self.plan, self.day(day), opening, closing)

    def fold(self) -> None:
        """Write what is only in journals into the day files. Raises NotSaved; nothing is lost then."""
        self._close_changed_days_again()
        for day in sorted(self._unfolded):
            daybook_folder.fold(self.folder, day, self._record(day))
            self._unfolded.discard(day)

    def release(self) -> None:
        """Fold, and let another window write. A fold that fails leaves the journals, which hold everything."""
        try:
            if self.writable:
                self.fold()
        except NotSaved:
            pass
        finally:
            if self._lock is not None:
                self._lock.release()
                self._lock = None
                self.why_read_only = "This window was closed."

    def _must_write(self, day: date) -> None:
        if not self.writable:
            raise NotSaved(self.why_read_only)
        self._record(day)
        if self._records[day].newer_format:
            raise NotSaved(f"{say_date(day)} was written by a newer version of Trundle: use that one for it.")

    def _keep(self, record: DayRecord) -> None:
        self._records[record.date] = structs.replace(self._records[record.date], record=record)

    def _newest_step(self, day: date) -> date:
        """The day whose newest step was made last: this one, or an earlier one told about since."""
        told = [each for each in self._dates if day - timedelta(DAYS_UNDONE) <= each < day]
        earlier = [each for each in told if _made(self._record(each)).date() >= day]
        return max((day, *earlier), key=lambda each: _made(self._record(each)))

    def _later(self, at: datetime) -> datetime:
        """A moment after every step so far of today and the days looked at: the order of steps is their moments.

        Whatever the clock says: it may have been set back.
        """
        newest = max(_made(self._record(each)) for each in {*self._records, self.today})
        return newest + timedelta(microseconds=1) if newest >= at else at

    def _open_again(self, day: date) -> str:
        opening = self._record(day).opening if day == self._begin() else None  # nothing else tells how it began
        record = structs.replace(self._record(day), closed_at=None, opening=opening, closing=None)
        daybook_folder.write_record(self.folder, record)
        self._keep(record)
        self._first = None
        self._forget_after(day)
        return f"{say_date(day)} is open again"

    def _after_change(self, day: date, entries: tuple[AnyEntry, ...] | list[AnyEntry]) -> None:
        if any(isinstance(entry, Changed) for entry in entries):
            self._days.pop(day, None)
        self._changed.add(day)
        with contextlib.suppress(NotSaved):  # the entries are on the disk; ``fold`` tries this part again
            self._close_changed_days_again()

    def _take_up_what_was_cut_off(self) -> None:
        """Where the program was stopped after an entry: what had to follow from it."""
        if self.writable:
            left = daybook_folder.dates_with_journal(self.folder)
            self._unfolded.update(left)
            self._changed.update(left)
            with contextlib.suppress(NotSaved):
                self._close_changed_days_again()

    def _classes_after(self, entries: Iterable[AnyEntry], *, undone: bool = False) -> Classes | None:
        """The file of classes after a child has joined or left, or after that was taken back; None where it stays."""
        if not any(isinstance(entry, Joined | Left) for entry in entries):
            return None
        from checklists.daybook.class_list import list_after, list_before
        from checklists.plan.class_notes import classes_of

        before = classes_of(self.plan)
        after = list_before(before, entries) if undone else list_after(before, entries)
        return after if after != before else None

    def _forget_after(self, day: date) -> None:
        """Forget what was worked out for later days."""
        for known in (self._openings, self._days):
            for each in [each for each in known if each > day]:
                del known[each]

    def _close_changed_days_again(self) -> None:
        """What follows from changed days: the closings from each on, in order.

        The journal of a changed day goes last, so that wherever this is cut off the next start finds it and goes on.
        """
        for day in sorted(self._changed):
            self._forget_after(day)
            if self._record(day).closing is not None:
                self._close_in_memory(day)
            self._close_later_days_again(day)
            if self._record(day).closing is not None:
                daybook_folder.write_record(self.folder, self._record(day))
                self._unfolded.discard(day)
            self._changed.discard(day)

    def _close_later_days_again(self, day: date) -> None:
        """What follows from a corrected day: the closings after it, in order, as far as anything is different."""
        for each in sorted(each for each in self._dates if each > day):
            if self._record(each).closing is not None and not self._records[each].newer_format:
                before = self._record(each).opening, self._record(each).closing
                self._close_in_memory(each)
                if before == (self._record(each).opening, self._record(each).closing):
                    return
                daybook_folder.write_record(self.folder, self._record(each))
                self._unfolded.discard(each)

    def _close_in_memory(self, day: date) -> None:
        opening, closing = self._opening_to_keep(day), self._work_out_closing(day)
        self._keep(structs.replace(self._record(day), opening=opening, closing=closing))

    # ------------------------------------------------------------------------------------- changing the plan

    def read_plan_again(self) -> None:
        """Take up what now stands in the plan files and forget what was worked out from before. Ticks stay.

        Where they do not read, the last good plan is used and ``problems`` says why; with none, all stays as it is.
        """
        stamps = stamps_of(self.folder)
        read = read_plan(self.folder)
        self._plan_problems = read.problems
        if read.plan is None or read.rules is None:
            return
        self.plan, self.rules, self.own_rules = read.plan, read.rules, read.own_rules
        self.uses_last_good = read.from_last_good
        self._stamps = stamps
        self._openings.clear()
        self._days.clear()

    def keep_rule(self, rule: Rule) -> None:
        """Add a rule of her own. Raises NotSaved, and then nothing is changed; so do the others here."""
        from checklists.files.rule_file import add_rule

        self._change_plan(RULES, lambda folder: add_rule(folder, rule))

    def take_rule_out(self, rule: str) -> None:
        """Take a rule of her own out again, by its id."""
        from checklists.files.rule_file import take_rule_out

        self._change_plan(RULES, lambda folder: take_rule_out(folder, rule))

    def switch_off(self, off: SwitchedOff) -> None:
        """Switch a rule off: for a class, a lesson, until a date, or for good."""
        from checklists.files.rule_file import add_switched_off

        self._change_plan(RULES, lambda folder: add_switched_off(folder, off))

    def switch_on(self, off: SwitchedOff) -> None:
        """Take back one switching off."""
        from checklists.files.rule_file import take_switched_off_out

        self._change_plan(RULES, lambda folder: take_switched_off_out(folder, off))

    def change_classes(self, classes: Classes) -> None:
        """Write the file of classes anew: who comes when, what is taught, needs, notes."""
        from checklists.files.plan_writing import write_classes

        self._change_plan(CLASSES, lambda folder: write_classes(folder, classes))

    def _change_plan(self, name: str, write: Callable[[Path], None]) -> None:
        """Write a plan file and take it up; where it does not read then, the file before is put back."""
        from checklists.files.plan_writing import put_back_as_it_was

        self._must_write_plan(name)
        try:
            with put_back_as_it_was(self.folder / name):
                write(self.folder)
                self.read_plan_again()
                if wrong := _grave(self._plan_problems):
                    raise NotSaved(f"That does not fit. {wrong}")
        except NotSaved:
            self.read_plan_again()
            raise

    def _must_write_plan(self, name: str) -> None:
        if not self.writable:
            raise NotSaved(self.why_read_only)
        if wrong := _grave(self._plan_problems):
            raise NotSaved(f"First put this right, then do it again. {wrong}")
        if name != RULES and _stamp_of(name, self._stamps) != _stamp_of(name, stamps_of(self.folder)):
            self.read_plan_again()
            raise NotSaved(f"{name} was changed outside this window and was read again. Look, then do it once more.")

    # ---------------------------------------------------------------------------------------------- proving

    def check_chain(self) -> tuple[Problem, ...]:
        """Whether every closed day opened with what the days before it had left. Empty: the chain holds."""
        found: list[Problem] = []
        for day in sorted(self._dates):
            record = self._record(day)
            if record.opening is None or day == self._begin():
                continue
            before = self._work_out_opening(day)
            if record.opening != before:
                what = f"does not open with what {self._say_before(day)} left"
                to_do = "Somebody changed a file by hand, or the plan changed while a day before stayed open."
                found.append(Problem(f"daybook/{day.isoformat()}.toml", "opening", what, to_do, level="note"))
        return tuple(found)

    def _say_before(self, day: date) -> str:
        before = max((each for each in self._dates if each < day), default=day - timedelta(1))
        return say_date(before)


def _grave(problems: Iterable[Problem]) -> Problem | None:
    return next((each for each in problems if each.level == "grave"), None)


def _stamp_of(name: str, stamps: Iterable[Stamp]) -> Stamp | None:
    return next((each for each in stamps if each.name == name), None)


def _made(record: DayRecord) -> datetime:
    """When the newest step of a day was made."""
    moments = [*(entry.at for entry in record.entries[-1:]), *([record.closed_at] if record.closed_at else [])]
    return max(moments, default=datetime.min)


def _why_read_only(folder: Path, read: PlanRead, lock: Lock | None, write: bool) -> str:
    if lock is not None:
        return ""
    if read.newer_format:
        return "These files were written by a newer version of Trundle: they can be looked at here, not changed."
    if not write:
        return "Opened for looking only."
    if not can_be_written(folder):
        return "This folder can only be read: nothing can be saved in it."
    writer = writer_of(folder)
    which = f" (process {writer})" if writer is not None else ""
    return f"Another window{which} writes here; this one only reads."
