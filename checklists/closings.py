"""Closing days and what follows from a change: the closings of later days are worked out again and written.

The journal of a changed day goes last, so that wherever this is cut off the next start finds it and goes on.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterable
from datetime import date, datetime

from msgspec import structs

from checklists.daybook.state import DayRecord, State
from checklists.files.safely import NotSaved
from checklists.openings import Openings
from checklists.told_days import ToldDays


class Closings:
    """The closed days of a book, kept true to what was told. What writes raises NotSaved unless it says otherwise."""

    def __init__(self, told: ToldDays, openings: Openings) -> None:
        self._told = told
        self._openings = openings
        self._changed: set[date] = set()
        """Days whose closing, or that of a day after, does not follow from their entries yet."""

    def close(self, day: date, at: datetime) -> tuple[State, State]:
        """Close a day with one atomic write of its file: its opening and its closing."""
        opening = self._openings.opening(day)
        closed = structs.replace(self._openings.closed_anew(day), closed_at=at)
        assert closed.closing is not None
        self._told.write(closed)
        self._openings.forget_begin()
        self._openings.forget_after(day)
        self._close_later_days_again(day)
        return opening, closed.closing

    def open_again(self, day: date) -> None:
        """Take the closing of a day back."""
        record = self._told.record(day)
        opening = record.opening if day == self._openings.begin() else None  # nothing else tells how it began
        self._told.write(structs.replace(record, closed_at=None, opening=opening, closing=None))
        self._openings.forget_begin()
        self._openings.forget_after(day)

    def put_in_place(self, record: DayRecord) -> None:
        """Take a day as it is told in another record, and let what follows from it follow. Raises NotSaved.

        Its own file is written last, and the journal that goes with it makes up for what was cut off before.
        """
        day, before = record.date, self._told.record(record.date)
        self._told.begin_journal(day)
        try:
            self._take(record)
            if record.closed_at is not None or record.closing is not None:
                self._told.keep(self._openings.closed_anew(day))
            self._close_later_days_again(day)
            self._told.write(self._told.record(day))
        except NotSaved:
            self._take(before)
            self.follow_from((day,))
            raise

    def _take(self, record: DayRecord) -> None:
        self._told.tell_anew(record)
        self._openings.forget_begin()
        self._openings.forget_list(record.date)
        self._openings.forget_after(record.date)

    def follow_from(self, days: Iterable[date]) -> None:
        """Let what follows from changed days follow. What cannot be written now is left to ``catch_up``."""
        self._changed.update(days)
        with contextlib.suppress(NotSaved):  # what was told is on the disk already
            self.catch_up()

    def catch_up(self) -> None:
        """What follows from changed days: the closings from each on, in order."""
        for day in sorted(self._changed):
            self._openings.forget_after(day)
            is_closed = self._told.record(day).closing is not None and not self._openings.is_of_a_year_before(day)
            if is_closed:
                self._told.keep(self._openings.closed_anew(day))
            self._close_later_days_again(day)
            if is_closed:
                self._told.write(self._told.record(day))
            self._changed.discard(day)

    def _close_later_days_again(self, day: date) -> None:
        """The closings after a day, in order, as far as anything is different."""
        for each in sorted(each for each in self._told.dates if each > day):
            before = self._told.record(each)
            if before.closing is None or self._told.is_of_newer_format(each):
                continue
            if self._openings.is_of_a_year_before(each):
                continue
            after = self._openings.closed_anew(each)
            if (before.opening, before.closing) == (after.opening, after.closing):
                return
            self._told.keep(after)
            self._told.write(after)
