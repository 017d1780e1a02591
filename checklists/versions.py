"""Second versions of the days of an open book, as a folder kept in step leaves them: looked at, merged on request."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from msgspec import Struct, structs

from checklists.closings import Closings
from checklists.daybook.children import as_told
from checklists.daybook.entries import AnyEntry
from checklists.daybook.marks import changes_of, marks_of
from checklists.daybook.state import DayRecord
from checklists.daybook.two_versions import Comparison, compare, merge_records, new_entries
from checklists.files.safely import NotSaved
from checklists.files.second_versions import Version, keep_unmerged, read_versions, set_merged_aside
from checklists.lines.day import day_on
from checklists.lines.records import Day
from checklists.openings import Openings
from checklists.told_days import ToldDays
from checklists.words import clean, join_words, plural, say_date


class Merged(Struct, frozen=True):
    """What merging a day did: entries that came in from the other versions, what is kept under which name."""

    day: date
    came_in: tuple[AnyEntry, ...]
    said: tuple[str, ...]
    """The whole of it in words."""
    set_aside: tuple[str, ...]
    kept: str
    """The day as it was here before; nothing reads this file."""


class SecondVersions:
    """The second versions in one data folder. What writes raises NotSaved, and then each version is as it was."""

    def __init__(self, folder: Path, told: ToldDays, openings: Openings, closings: Closings) -> None:
        self._folder = folder
        self._told = told
        self._openings = openings
        self._closings = closings

    def of(self, day: date) -> tuple[Version, ...]:
        """The second versions of a day, read now."""
        versions = read_versions(self._folder, self._told.as_there(self._told.record(day)))
        return tuple(
            each if each.record is None else structs.replace(each, record=self._told.as_now(each.record))
            for each in versions
        )

    def compared(self, version: Version) -> Comparison:
        """What the day as it is told here and a version that can be read have and have not."""
        assert version.record is not None, "a version without a record has nothing to compare"
        here = self._told.record(version.day)
        return compare(
            here, version.record, self._openings.day(version.day), self._day_there(version.record), self._openings.plan
        )

    def _day_there(self, record: DayRecord) -> Day:
        """The list as the other version has it; it may have changed the day."""
        plan, rules, opening = self._openings.plan, self._openings.rules, self._openings.opening(record.date)
        told = as_told(plan, record.date, marks_of(record.entries), opening)
        return day_on(plan, rules, told, record.date, changes_of(record.entries))

    def merge(self, day: date) -> Merged:
        """Make one of all versions of a day that can be read. Cut off anywhere, both are there still, or it is done.

        The day's file is written whole, only then are the others renamed; merged once more, they would bring nothing.
        """
        versions = self.of(day)
        readable = [each for each in versions if each.record is not None]
        if not readable:
            why = [str(problem) for each in versions for problem in each.problems]
            raise NotSaved(" ".join(why) or f"There is no second version of {say_date(day)}.")
        here = self._told.record(day)
        record, twice = here, list[str]()
        for version in readable:
            assert version.record is not None
            twice += self.compared(version).said_twice
            record = merge_records(record, version.record)
        came_in = new_entries(here.entries, record.entries)
        kept = keep_unmerged(self._folder, self._told.as_there(here))
        self._closings.put_in_place(record)
        aside = tuple(name for version in readable for name in set_merged_aside(self._folder, version))
        left = [each for each in versions if each.record is None]
        said = (*_say_merged(day, came_in, twice, aside, kept), *(str(why) for each in left for why in each.problems))
        return Merged(day, came_in, said, aside, kept)


def _say_merged(
    day: date, came_in: tuple[AnyEntry, ...], twice: list[str], aside: tuple[str, ...], kept: str
) -> tuple[str, ...]:
    what = f"{plural(len(came_in), 'thing')} came in" if came_in else "the other version had nothing new"
    said = [f"{say_date(day)} is one version again: {what}."]
    if twice:
        said.append(f"Said in both versions, and counted twice now: {join_words(twice)}. Take back what was one thing.")
    if aside:
        said.append(f"Set aside, not deleted: {clean(join_words(aside))}.")
    said.append(f"The day as it was here is kept as {kept}.")
    return tuple(said)
