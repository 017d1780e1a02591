"""The part of an open book that is about more than a day: its beginning, second versions of days, the school year."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from checklists.closings import Closings
from checklists.daybook.entries import AnyEntry, Sized
from checklists.plan.records import Classes, School
from checklists.plan_changes import PlanChanges
from checklists.told_days import ToldDays

if TYPE_CHECKING:
    from checklists.versions import Merged, SecondVersions


class AcrossDays(PlanChanges):
    """What a book has of days one to the next."""

    folder: Path
    _told: ToldDays
    _closings: Closings

    @property
    def begun(self) -> date | None:
        """The day the daybook begins with; None where nothing is told yet."""
        return self._openings.begin()

    @property
    def days_in_two_versions(self) -> tuple[date, ...]:
        """Days of which a folder kept in step has made a second version; ``versions`` tells of them."""
        return self._told.days_in_two_versions

    @cached_property
    def versions(self) -> SecondVersions:
        """Second versions of days."""
        from checklists.versions import SecondVersions

        return SecondVersions(self.folder, self._told, self._openings, self._closings)

    def merge_versions(self, day: date) -> Merged:
        """Make one of all versions of a day, at the request of somebody who has seen them; later days follow.

        The other version and the one that was here are kept under names that nothing reads. Raises NotSaved.
        """
        self._must_write(day)
        merged = self.versions.merge(day)
        sizes = {each.class_id: each for each in self._told.record(day).entries if isinstance(each, Sized)}
        came_in = [each for each in merged.came_in if not isinstance(each, Sized) or sizes[each.class_id] == each]
        self._follow_in_class_list(came_in)
        return merged

    def begin_year(self, school: School, classes: Classes) -> str:
        """Begin another school year, once all that follows from the days so far is worked out by this year's plan."""
        if not self.why_read_only:
            self.fold()
        return super().begin_year(school, classes)

    def days_not_closed(self) -> tuple[date, ...]:
        """Days with something told of them since the newest closed day."""
        return self._openings.days_not_closed()

    def fold(self) -> None:
        """Write what is only in journals into the day files. Raises NotSaved; nothing is lost then."""
        self._closings.catch_up()
        self._told.fold()

    def _must_write(self, day: date) -> None:
        raise NotImplementedError

    def _follow_in_class_list(self, entries: Iterable[AnyEntry], *, undone: bool = False) -> None:
        raise NotImplementedError
