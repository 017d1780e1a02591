"""The part of an open book that asks for facts its lists turn on.

Where all of them are known it costs next to nothing.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from checklists.across_days import AcrossDays
from checklists.daybook.children import as_told
from checklists.daybook.marks import Marks
from checklists.daybook.state import State
from checklists.lines.records import Day

if TYPE_CHECKING:
    from checklists.asking import Asked


class FactsAsked(AcrossDays):
    """What nobody has said, asked when it matters."""

    today: date
    _asked: dict[date, tuple[Day, tuple[Asked, ...]]]

    def day(self, day: date) -> Day:
        raise NotImplementedError

    def marks(self, day: date) -> Marks:
        raise NotImplementedError

    def opening(self, day: date) -> State:
        raise NotImplementedError

    def facts_asked(self, day: date) -> tuple[Asked, ...]:
        """What nobody has said and the list of a date turns on, but for what was put off that day; () of the past."""
        if day < self.today or self._told.record(day).closing is not None or not self._may_ask(day):
            return ()
        list_ = self.day(day)
        known = self._asked.get(day)
        if known is None or known[0] is not list_:
            from checklists.asking import facts_to_ask

            plan, marks = self._openings.plan_of(day), self.marks(day)
            state = as_told(plan, day, marks, self.opening(day))
            self._asked[day] = known = (list_, facts_to_ask(plan, self.rules, state, list_, marks.changes))
        off = self.marks(day).let_go
        return tuple(each for each in known[1] if each.key not in off)

    def _may_ask(self, day: date) -> bool:
        """Whether anything about the rooms and classes of a date is not known at all."""
        for visit in self.day(day).visits:
            room = self.plan.room_by_id.get(visit.room)
            if visit.about or room is None or None in (room.sink, room.carpet, room.projector, room.drying_places):
                return True
        return False
