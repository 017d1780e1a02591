"""A timetable from a table: a grid with days along one side and periods along the other, or a list of three columns.

Days are those of the school's rotation, periods those of its bells; a period may be said by its number or its time.
What the table leaves empty stays as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from msgspec import structs

from checklists.bringing_in.columns import HEADINGS_WITHIN, filled, find_columns, say_columns, share_of
from checklists.bringing_in.known_words import folded, folded_whole, known_words
from checklists.bringing_in.table import Table, TableRow
from checklists.bringing_in.understood import Rows, Understood
from checklists.calendar import WEEKDAYS
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import School
from checklists.typed.class_names import ClassesKnown
from checklists.words import join_words, minute_of, nearest

NAMES = {"day": "the day", "period": "the period", "class": "the class"}
MOST_SUGGESTED = 40
"""For so many unknown classes the nearest known one is looked for; it is slow."""
_WEEKDAY_WORDS = {
    "Mon": ("m", "mo", "mon", "monday", "mondays"),
    "Tue": ("t", "tu", "tue", "tues", "tuesday", "tuesdays"),
    "Wed": ("w", "we", "wed", "weds", "wednesday", "wednesdays"),
    "Thu": ("th", "r", "thu", "thur", "thurs", "thursday", "thursdays"),
    "Fri": ("f", "fr", "fri", "friday", "fridays"),
}
_TIME = re.compile(r"(?<!\d)(\d{1,2})[:.h](\d\d)\s*([ap])?\.?m?", re.IGNORECASE)
_PERIOD_NUMBER = re.compile(
    r"^(?:p|pd|per|period|block|hour|slot)?\s*#?\s*(\d{1,2})(?:st|nd|rd|th)?(?:\s*(?:period|block|hour))?$"
)
_ROOM_BEHIND = re.compile(r"[\s,(/-]+(?:room|rm)\.?\s*#?\s*\S+\)?$|\s*\([^)]*\)$", re.IGNORECASE)


class Place(NamedTuple):
    """A cell with what its day and its period are called in the plan."""

    row: TableRow
    column: int
    day: str
    period: str
    text: str


def bring_in_timetable(table: Table, files: PlanFiles, rows: Rows) -> Understood:
    """What the table says of who comes when. Nothing is removed, and no class is made: those are brought in first."""
    reading = _Reading(files, rows)
    names = Names(files.school)
    grid = _Grid.find(table, names)
    if grid is not None:
        reading.read_all(grid.places(rows))
        notes: tuple[str, ...] = grid.notes()
    else:
        columns = find_columns(table, "timetable", lambda body: _guess(body, names, reading.known))
        notes = (say_columns(columns, NAMES),)
        if set(columns.at) >= set(NAMES):
            reading.read_all(_listed(columns.rows, columns.at, names, rows))
        else:
            notes = (_no_timetable(files.school),)
    return Understood("timetable", reading.files(), tuple(rows.read), notes)


def _no_timetable(school: School) -> str:
    days = join_words(Names(school).days[:3])
    return (
        f"No days were found. Write the days ({days} …) along the top and the periods down the side, or three columns:"
        " day, period, class."
    )


class Names:
    """What days and periods are called in the plan, and what people write for them."""

    def __init__(self, school: School) -> None:
        by_weekday = school.rotation.kind == "weekdays"
        self.days = WEEKDAYS if by_weekday else school.rotation.days
        self._days: dict[str, str] = {}
        for day in self.days:
            for word in (
                _WEEKDAY_WORDS[day] if by_weekday else (folded(day), f"day {folded(day)}", f"{folded(day)} day")
            ):
                self._days[word] = day
        self._periods = {folded(period.name): period.name for bells in school.bells for period in bells.periods}
        regular = school.bells[0].periods
        self.periods = tuple(dict.fromkeys(period.name for bells in school.bells for period in bells.periods))
        self._starts = {minute_of(period.start): period.name for period in regular}
        self._numbers: dict[int, str] = {}
        for name in self.periods:
            if found := re.search(r"(?<!\d)(\d{1,2})(?!\d)", name):
                self._numbers.setdefault(int(found[1]), name)

    def day(self, text: str) -> str:
        """The day of the timetable that a heading means; empty: none."""
        whole = folded(text)
        return self._days.get(whole) or self._days.get(whole.split(" ")[0] if " " in whole else "", "")

    def period(self, text: str) -> str:
        """The period that a heading means, by its name, its number or when it begins; empty: none."""
        whole = folded(text)
        if whole in self._periods:
            return self._periods[whole]
        times = list(_TIME.finditer(text))
        bare = folded_whole(_TIME.sub(" ", text).replace("–", " ").replace("-", " ")) if times else whole
        if bare and bare in self._periods:
            return self._periods[bare]
        number = _PERIOD_NUMBER.match(bare)
        if number and int(number[1]) in self._numbers:
            return self._numbers[int(number[1])]
        return self._at(times[0]) if times else ""

    def _at(self, time: re.Match[str]) -> str:
        minute = int(time[1]) % 24 * 60 + int(time[2])
        half = (time[3] or "").casefold()
        if half:
            minute = minute % 720 + (720 if half == "p" else 0)
        return self._starts.get(minute) or ("" if half else self._starts.get(minute + 720, ""))


class _Grid:
    """A table with days along one side and periods along the other."""

    def __init__(self, table: Table, names: Names, head: int, *, days_across: bool) -> None:
        self.names, self.days_across = names, days_across
        self.head, self.rows = table.rows[head], table.rows[head + 1 :]

    @classmethod
    def find(cls, table: Table, names: Names) -> _Grid | None:
        """The grid in a table: a row of days with periods beneath its first cell, or the other way round."""
        for head, row in enumerate(table.rows[:HEADINGS_WITHIN]):
            beneath = [each.cells[0] for each in table.rows[head + 1 :] if each.cells and each.cells[0]]
            across = [each for each in row.cells[1:] if each]
            if not across or not beneath:
                continue
            of_days = [names.day(each) for each in across]
            if len(set(of_days) - {""}) >= min(2, len(names.days)) and any(map(names.period, beneath)):
                return cls(table, names, head, days_across=True)
            if any(map(names.period, across)) and len({names.day(each) for each in beneath} - {""}) >= 1:
                of_periods = [each for each in map(names.period, across) if each]
                if len(of_periods) >= 2 or len(across) == 1:
                    return cls(table, names, head, days_across=False)
        return None

    def places(self, rows: Rows) -> Iterator[Place]:
        """Every cell with a text in it. A heading that is no day or period is told once."""
        name_head = self.names.day if self.days_across else self.names.period
        name_side = self.names.period if self.days_across else self.names.day
        heads = {column: name_head(cell) for column, cell in enumerate(self.head.cells) if column and cell}
        for column, name in heads.items():
            if not name:
                self._refuse(rows, self.head, self.head.cells[column], is_day=self.days_across, column=column + 1)
        before = ""
        for row in self.rows:
            side = name_side(row.cell(0)) if row.cell(0) else before
            texts = [(column, row.cell(column)) for column in heads if row.cell(column)]
            if not side:
                if any(folded(text) not in _no_class() for _, text in texts) and row.cell(0):
                    self._refuse(rows, row, row.cell(0), is_day=not self.days_across, column=1)
                continue
            before = side
            for column, text in texts:
                if heads[column]:
                    day, period = (heads[column], side) if self.days_across else (side, heads[column])
                    yield Place(row, column + 1, day, period, text)

    def _refuse(self, rows: Rows, row: TableRow, text: str, *, is_day: bool, column: int) -> None:
        _refuse_name(rows, self.names, row, text, is_day=is_day, column=column)

    def notes(self) -> tuple[str, ...]:
        along, down = ("days", "periods") if self.days_across else ("periods", "days")
        return (f"Read as a grid: {along} along the top in row {self.head.number}, {down} down the side.",)


def _refuse_name(rows: Rows, names: Names, row: TableRow, text: str, *, is_day: bool, column: int = 0) -> None:
    kind, known = ("day of the timetable", names.days) if is_day else ("period", names.periods)
    rows.refuse(row.number, text, f'"{text}" is no {kind}.', f"Write {join_words(known[:8], 'or')}.", column=column)


def _guess(rows: tuple[TableRow, ...], names: Names, known: ClassesKnown) -> dict[str, int]:
    """The columns of a list without headings: where most are days, periods, classes."""
    width = max((len(row.cells) for row in rows), default=0)
    at: dict[str, int] = {}
    for field, fits in (("day", names.day), ("class", known.find), ("period", names.period)):
        for column in range(width):
            if column not in at.values() and share_of(filled(rows, column), fits) >= 0.5:
                at[field] = column
                break
    return at


def _listed(body: tuple[TableRow, ...], at: dict[str, int], names: Names, rows: Rows) -> Iterator[Place]:
    day_before = ""
    for row in body:
        said_day, said_period, text = (row.cell(at[field]) for field in ("day", "period", "class"))
        day = names.day(said_day) if said_day else day_before
        day_before = day or day_before
        period = names.period(said_period)
        if not text:
            continue
        if not day:
            _refuse_name(rows, names, row, said_day or row.shown, is_day=True)
        elif not period:
            _refuse_name(rows, names, row, said_period or row.shown, is_day=False)
        else:
            yield Place(row, 0, day, period, text)


def _no_class() -> frozenset[str]:
    return frozenset(known_words()["timetable"]["no_class"])


class _Reading:
    """The cells read so far."""

    def __init__(self, files: PlanFiles, rows: Rows) -> None:
        self.before, self.rows = files, rows
        self.known = ClassesKnown(files.classes.classes)
        self.now = {day: dict(periods) for day, periods in files.classes.timetable.items()}
        self.said_in: dict[tuple[str, str], Place] = {}
        self.suggested = 0

    def read_all(self, places: Iterator[Place]) -> None:
        left = set[int]()
        for place in places:
            if place.row.number in self.rows.leave:
                if place.row.number not in left:
                    self.rows.is_left(place.row.number, place.row.shown)
                left.add(place.row.number)
            else:
                self.read(place)

    def read(self, place: Place) -> None:
        number, column, when = place.row.number, place.column, f"{place.day} {place.period}"
        if folded(place.text) in _no_class() or not re.search(r"\w", place.text):
            self.rows.add(number, place.text, "not taken", f"{when}: no class", column=column)
            return
        class_ = self.known.find(place.text) or self.known.find(_ROOM_BEHIND.sub("", place.text))
        if class_ is None:
            to_do = self._what_to_write(place.text)
            self.rows.refuse(number, place.text, f'{when}: there is no class "{place.text}".', to_do, column=column)
            return
        first = self.said_in.get((place.day, place.period))
        if first is not None and self.now[place.day][place.period] != class_.id:
            why = f"{when} has {self.now[place.day][place.period]} in row {first.row.number} already."
            self.rows.refuse(number, place.text, why, "Keep one of the two.", column=column)
            return
        self.said_in[place.day, place.period] = place
        was = self.now.get(place.day, {}).get(place.period)
        self.now.setdefault(place.day, {})[place.period] = class_.id
        entry = f"timetable {place.day}, {place.period}"
        if was == class_.id:
            self.rows.add(number, place.text, "there already", f"{when}: {class_.id}", column=column, entry=entry)
        elif was is None:
            self.rows.add(number, place.text, "adds", f"{when}: {class_.id}", column=column, entry=entry)
        else:
            said = f"{when}: {class_.id} instead of {was}"
            self.rows.add(number, place.text, "changes", said, column=column, entry=entry)

    def _what_to_write(self, text: str) -> str:
        near = None
        if self.suggested < MOST_SUGGESTED:
            self.suggested += 1
            near = nearest(text, self.known.by_id)
        return f"Is {near} meant?" if near else "Write a class of the plan, or bring in the classes first."

    def files(self) -> PlanFiles:
        before = self.before
        if self.now == before.classes.timetable:
            return before
        return structs.replace(before, classes=structs.replace(before.classes, timetable=self._in_order()))

    def _in_order(self) -> dict[str, dict[str, str]]:
        """Days and periods of the plan in its own order, new ones where they belong among them."""
        names = Names(self.before.school)
        days = {day: n for n, day in enumerate(names.days)}
        periods = {period: n for n, period in enumerate(names.periods)}
        last = len(days) + len(periods)
        return {
            day: dict(sorted(self.now[day].items(), key=lambda each: periods.get(each[0], last)))
            for day in sorted(self.now, key=lambda each: days.get(each, last))
        }
