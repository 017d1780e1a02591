"""The days of a data folder as they are told so far: read when first asked for, kept in step with the disk.

What she does is on the disk before it counts here, so that nothing that was shown can be lost.
"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from msgspec import Struct, structs

from checklists.daybook.entries import AnyEntry
from checklists.daybook.marks import Marks, add_to, marks_of
from checklists.daybook.state import DayRecord, State
from checklists.files import daybook_folder
from checklists.files.copied_days import FOLDER, days_with_copies
from checklists.files.safely import NotSaved
from checklists.plan.records import DaybookNames, Plan
from checklists.problems import Problem
from checklists.words import say_date

if TYPE_CHECKING:
    from checklists.daybook.names_there import NamesThere

FORMAT: Final = 1
NOTHING_RENAMED: Final = DaybookNames()
Of = TypeVar("Of", bound=Struct)


class ToldDays:
    """Every day that was told of, and an empty record of every other. What writes raises NotSaved."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.dates = set(daybook_folder.dates(folder))
        """Days that were told of."""
        self.unfolded: set[date] = set()
        """Days that are in journals only."""
        self._read: dict[date, daybook_folder.DayRead] = {}
        self._marks: dict[date, Marks] = {}
        self._copied: tuple[int, tuple[date, ...]] | None = None
        self._names: NamesThere | None = None

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every problem of the days looked at so far."""
        return tuple(problem for read in self._read.values() for problem in read.problems)

    @property
    def days_in_two_versions(self) -> tuple[date, ...]:
        """Days that have a second version now. The folder is gone through only when a name in it has changed."""
        try:
            changed = (self._folder / FOLDER).stat().st_mtime_ns
        except OSError:
            return ()
        if self._copied is None or self._copied[0] != changed:
            self._copied = changed, days_with_copies(self._folder)
        return self._copied[1]

    def record(self, day: date) -> DayRecord:
        """A day as it is told so far."""
        if day not in self._read:
            if day in self.dates:
                self._read[day] = self._by_names_of_now(daybook_folder.load(self._folder, day))
            else:
                self._read[day] = daybook_folder.DayRead(DayRecord(format=FORMAT, date=day))
        return self._read[day].record

    def marks(self, day: date) -> Marks:
        """The newest word on everything of a day."""
        if day not in self._marks:
            self._marks[day] = marks_of(self.record(day).entries)
        return self._marks[day]

    def is_of_newer_format(self, day: date) -> bool:
        """Whether a newer version of the program wrote the day, so that this one only looks at it."""
        self.record(day)
        return self._read[day].newer_format

    def must_be_writable(self, day: date) -> None:
        """Raises NotSaved where a newer version wrote the day."""
        if self.is_of_newer_format(day):
            raise NotSaved(f"{say_date(day)} was written by a newer version of Trundle: use that one for it.")

    def settled(self, day: date) -> State | None:
        """The closing of a closed day, without working anything out."""
        return self.record(day).closing if day in self.dates else None

    def made(self, day: date) -> datetime:
        """When the newest step of a day was made."""
        record = self.record(day)
        moments = [*(entry.at for entry in record.entries[-1:]), *([record.closed_at] if record.closed_at else [])]
        return max(moments, default=datetime.min)

    def newest_step(self, *days: date) -> datetime:
        """When the newest step was made of these days and of those looked at."""
        return max(self.made(day) for day in {*self._read, *days})

    # ------------------------------------------------------------------------------------------ names of now

    def go_by_names_of(self, plan: Plan) -> None:
        """Tell the days by the names a plan has. Where nothing was renamed they are those of the daybook."""
        names: NamesThere | None = None
        if plan.school.daybook_names != NOTHING_RENAMED:
            from checklists.daybook.names_there import NamesThere

            names = NamesThere(plan)
        if names == self._names:
            return
        told = {day: structs.replace(read, record=self.as_there(read.record)) for day, read in self._read.items()}
        self._names = names
        self._read = {day: self._by_names_of_now(read) for day, read in told.items()}
        self._marks.clear()

    def as_there(self, told: Of) -> Of:
        """A record or an entry as the disk has it."""
        return told if self._names is None else self._names.as_there(told)

    def as_now(self, told: Of) -> Of:
        """What was read from the disk otherwise, as it is told here."""
        return told if self._names is None else self._names.as_now(told)

    def _by_names_of_now(self, read: daybook_folder.DayRead) -> daybook_folder.DayRead:
        return read if self._names is None else structs.replace(read, record=self._names.as_now(read.record))

    # ------------------------------------------------------------------------------------------------ writing

    def append(self, day: date, *entries: AnyEntry) -> None:
        """Put entries behind those of a day."""
        record, marks = self.record(day), self.marks(day)
        daybook_folder.append(self._folder, day, *map(self.as_there, entries))
        self.dates.add(day)
        self.unfolded.add(day)
        self.keep(structs.replace(record, entries=(*record.entries, *entries)))
        for entry in entries:
            add_to(marks, entry)

    def take_back(self, day: date, count: int) -> None:
        """Take the newest ``count`` entries of a day away."""
        record = self.record(day)
        daybook_folder.append_undo(self._folder, day, record.entries[-1].at, count)
        self.unfolded.add(day)
        self.keep(structs.replace(record, entries=record.entries[:-count]))
        self._marks[day] = marks_of(self.record(day).entries)

    def write(self, record: DayRecord) -> None:
        """Write the file of a day whole."""
        daybook_folder.write_record(self._folder, self.as_there(record))
        self.dates.add(record.date)
        self.unfolded.discard(record.date)
        self.keep(record)

    def keep(self, record: DayRecord) -> None:
        """Take a record of a day as it is told from now on, for what is on the disk already or will be."""
        self.record(record.date)
        self._read[record.date] = structs.replace(self._read[record.date], record=record)

    def begin_journal(self, day: date) -> None:
        """See that the next start works out what follows from this day, wherever this is cut off."""
        daybook_folder.begin_journal(self._folder, day)
        self.unfolded.add(day)

    def tell_anew(self, record: DayRecord) -> None:
        """Take a record of a day in place of what was told, marks and all; it is not written here."""
        self.keep(record)
        self._marks.pop(record.date, None)

    def fold(self) -> None:
        """Write what is only in journals into the day files."""
        for day in sorted(self.unfolded):
            daybook_folder.fold(self._folder, day, self.as_there(self.record(day)))
            self.unfolded.discard(day)

    def cut_off_days(self) -> tuple[date, ...]:
        """Days with a journal that another start left behind; they are to be folded."""
        left = daybook_folder.dates_with_journal(self._folder)
        self.unfolded.update(left)
        return left
