"""Days off from a list or a calendar file, and the school as it would be. Days that are off already are told so.

Only Mondays to Fridays of the school year count, and a day is named by the first line that says it.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from msgspec import structs

from checklists.bringing_in.calendar_file import CalendarEvent, EventsRead
from checklists.bringing_in.columns import Columns, find_columns, say_columns
from checklists.bringing_in.dates import SchoolYear, Span, read_dates, say_span, school_days_in
from checklists.bringing_in.occurrences import days_of, starts_of
from checklists.bringing_in.table import Table, TableRow
from checklists.bringing_in.understood import NotReadable, RowRead, Rows, Understood
from checklists.bringing_in.which_days import meaning_of, why_not, why_not_in_a_list
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import DayOff
from checklists.words import plural, say_date

NAMES = {"first": "the date, or the first", "last": "the last day", "reason": "the reason"}
LONGEST_REASON = 200
TAKE_ALL_THE_SAME = "Take it all the same where your school is closed then."


def bring_in_days_off(table: Table, files: PlanFiles, rows: Rows) -> Understood:
    """What a list says of days off: a date or two, and the reason, in columns or in words."""
    columns = find_columns(table, "days-off", lambda _: {})
    reading = _Reading(files, rows)
    day_first = _is_day_first(columns, reading.year)
    notes = [say_columns(columns, NAMES)] if columns.by_heading and "first" in columns.at else []
    for row in columns.rows:
        reading.read_line(row, columns if notes else None, day_first=day_first)
    return Understood("days-off", reading.files(), tuple(rows.read), (*notes, *reading.notes(day_first)))


def bring_in_events(read: EventsRead, files: PlanFiles, rows: Rows) -> Understood:
    """The events of a calendar file that are days off; the others are told, each with its number."""
    reading = _Reading(files, rows)
    moved: dict[str, set[datetime]] = {}
    for event in read.events:
        if event.replaces is not None:
            moved.setdefault(event.uid, set()).add(event.replaces)
    for event in read.events:
        reading.read_event(event, moved.get(event.uid, set()) if event.replaces is None else set())
    notes = [f"An iCalendar file with {plural(len(read.events) + read.left_out, 'event')}."]
    if read.has_universal_times:
        notes.append("Some times are given as universal time, for no place: dates may be off by one. Look at them.")
    if reading.outside:
        notes.append(f"{plural(reading.outside, 'event')} of other school years or on no school day: not listed.")
    return Understood("days-off", reading.files(), tuple(rows.read), tuple(notes), is_calendar=True)


def _is_day_first(columns: Columns, year: SchoolYear) -> bool:
    """Whether some line can only be day before month: then every line is read so."""
    for row in columns.rows[:400]:
        try:
            if read_dates(" ".join(row.cells), year).day_first:
                return True
        except NotReadable:
            continue
    return False


class _Reading:
    """The days found so far."""

    def __init__(self, files: PlanFiles, rows: Rows) -> None:
        self.before, self.rows = files, rows
        school = files.school
        self.year = SchoolYear(school.first_day, school.last_day)
        self.off: dict[date, str] = {}
        for each in school.days_off:
            for day in school_days_in(Span(each.first, each.last or each.first), self.year):
                self.off.setdefault(day, each.reason)
        self.there = {(each.first, each.last or each.first): n for n, each in enumerate(school.days_off)}
        self.days_off = list(school.days_off)
        self.named: set[Span] = set()
        self.outside = 0
        self.by_strokes = False

    # ------------------------------------------------------------------------------------------------------- a list

    def read_line(self, row: TableRow, columns: Columns | None, *, day_first: bool) -> None:
        if self.rows.is_left(row.number, row.shown):
            return
        try:
            spans, reason = self._line(row, columns, day_first)
        except NotReadable as wrong:
            self.rows.refuse(row.number, row.shown, str(wrong), wrong.to_do)
            return
        why = "" if row.number in self.rows.take else why_not_in_a_list(meaning_of(reason))
        for span in spans:
            if why and school_days_in(span, self.year):
                said = f"{say_span(span)} {reason}: {why}."
                self.rows.read.append(RowRead(row.number, row.shown, "not taken", said, TAKE_ALL_THE_SAME))
            else:
                self.take(row.number, row.shown, span, reason)

    def _line(self, row: TableRow, columns: Columns | None, day_first: bool) -> tuple[tuple[Span, ...], str]:
        dated = " ".join(each for each in row.cells if each)
        reason = ""
        if columns is not None:
            first, last = columns.cell(row, "first"), columns.cell(row, "last")
            dated, reason = (f"{first} to {last}" if last else first), columns.cell(row, "reason")
        read = read_dates(dated, self.year, day_first=day_first)
        self.by_strokes |= read.by_strokes
        return read.spans, (reason or read.rest)[:LONGEST_REASON]

    def notes(self, day_first: bool) -> list[str]:
        if day_first:
            return ["Dates such as 7/9 were read day before month, 7 September, as some here can be read no other way."]
        return ["Dates such as 9/7 were read month before day: September 7."] if self.by_strokes else []

    # ----------------------------------------------------------------------------------------------------- a calendar

    def read_event(self, event: CalendarEvent, moved: set[datetime]) -> None:
        stood = event.summary or "an event without a title"
        if event.wrong or event.repeats is None:
            self.rows.refuse(event.number, stood, event.wrong, "Enter its date yourself if it is a day off.")
            return
        if event.is_cancelled:
            self.rows.add(event.number, stood, "not taken", f"{stood}: it is cancelled.")
            return
        try:
            spans = self._spans(event, moved)
        except NotReadable as wrong:
            self.rows.refuse(event.number, stood, str(wrong), wrong.to_do)
            return
        if not spans:
            self.outside += 1
            return
        meant = meaning_of(event.summary)
        why = "" if event.number in self.rows.take else why_not(meant, event.length)
        if event.number in self.rows.leave:
            why = "you left it out"
        if not why:
            for span in spans:
                self.take(event.number, stood, span, event.summary)
            return
        more = f" and {len(spans) - 1} more" if spans[1:] else ""
        said = f"{say_span(spans[0])}{more} {stood}: {why}."
        to_do = TAKE_ALL_THE_SAME if meant.meaning not in ("half", "other") else ""
        self.rows.read.append(RowRead(event.number, stood, "not taken", said, to_do))

    def _spans(self, event: CalendarEvent, moved: set[datetime]) -> list[Span]:
        """Every taking place that has a school day in it."""
        assert event.repeats is not None, "what could not be read was told before"
        found = []
        for start in starts_of(event.repeats, self.year.last):
            span = Span(*days_of(start, event.length))
            if start not in moved and school_days_in(span, self.year):
                found.append(span)
        return found

    # ----------------------------------------------------------------------------------------------------- taking it

    def take(self, number: int, stood: str, span: Span, reason: str) -> None:
        """Make the span a day off, unless all of it is already."""
        days = school_days_in(span, self.year)
        if not days:
            why = f"{say_span(span)}: {self._why_no_school_day(span)}."
            self.rows.add(number, stood, "not taken", why)
            return
        if (days[-1] - days[0]) > timedelta(120):
            self.rows.refuse(number, stood, f"{say_span(span)} is very long for a day off.", "Look at both dates.")
            return
        span = Span(days[0], days[-1])
        named = f"{say_span(span)} {reason}".strip()
        entry = f"day off {say_date(span.first)}"
        known = self.there.get(span)
        was = self.days_off[known].reason if known is not None else ""
        if known is not None and span not in self.named and reason and was != reason:
            self.days_off[known] = structs.replace(self.days_off[known], reason=reason)
            said = f"{say_span(span)}: {reason}" + (f" instead of {was}" if was else "")
            self.rows.add(number, stood, "changes", said, entry=entry)
        elif all(day in self.off for day in days):
            self.rows.add(number, stood, "there already", named, entry=entry)
        else:
            self.there[span] = len(self.days_off)
            self.days_off.append(DayOff(span.first, span.last if span.last != span.first else None, reason))
            self.rows.add(number, stood, "adds", named, entry=entry)
        self.named.add(span)
        for day in days:
            self.off.setdefault(day, reason)

    def _why_no_school_day(self, span: Span) -> str:
        if span.last < self.year.first or span.first > self.year.last:
            return "not within the school year"
        return "a weekend"

    def files(self) -> PlanFiles:
        before = self.before.school.days_off
        if tuple(self.days_off) == before:
            return self.before
        in_order = tuple(sorted(self.days_off, key=lambda each: each.first))
        return structs.replace(self.before, school=structs.replace(self.before.school, days_off=in_order))
