"""Where every line of a day stands, worked out once after each step and then only looked up."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, NamedTuple

from checklists.daybook.fetching import to_fetch
from checklists.daybook.line_states import (
    LineState,
    is_critical,
    is_over,
    is_settled,
    is_to_fill,
    left_to_take,
    state_of,
)
from checklists.daybook.marks import Marks
from checklists.lines.records import Day, Line

if TYPE_CHECKING:
    from checklists.route.departure import Departure

OPEN: frozenset[LineState] = frozenset(("open", "part packed", "forbidden"))


class Counts(NamedTuple):
    """How much of something is open, how much of that is critical, and how much came up short."""

    open: int
    critical: int
    short: int = 0
    later: int = 0
    """Lines that today has enough of, and only later visits need more."""


class Tally(NamedTuple):
    states: dict[str, LineState]
    open_lines: frozenset[str]
    critical_lines: frozenset[str]
    settled: frozenset[str]
    """Tasks, checks, carried matters and things to take out that were seen to."""
    to_fill: frozenset[str] = frozenset()
    """Lines that only later visits, which the containers are filled for, need more of."""

    def is_open(self, line: Line) -> bool:
        return line.key in self.open_lines

    def count_lines(self, lines: Iterable[Line]) -> Counts:
        keys = [line.key for line in lines]
        return Counts(
            sum(key in self.open_lines for key in keys),
            sum(key in self.critical_lines for key in keys),
            sum(self.states[key] == "short" for key in keys),
            sum(key in self.to_fill for key in keys) if self.to_fill else 0,
        )


def tally_of(day: Day, marks: Marks, departure: Departure) -> Tally:
    """The states of all lines of a day."""
    states = {line.key: state_of(line, marks) for line in day.lines}
    open_lines = frozenset(key for key, state in states.items() if state in OPEN)
    critical = frozenset(line.key for line in day.lines if is_critical(line) and line.key in open_lines)
    over = {each.key for each in day.matters if is_over(each, day, marks)}
    keys = [task.key for task in day.tasks] + [check.key for check in day.checks] + [each.key for each in day.matters]
    settled = {key for key in keys if key in over or is_settled(key, marks)}
    settled |= {each.key for each in day.take_out if not left_to_take(each, marks)}
    settled |= {each.key for each in to_fetch(day, Marks())} - {each.key for each in to_fetch(day, marks)}
    settled |= {each.key for each in departure.to_leave if departure.is_left(each, marks)}
    ahead = (line for line in day.lines if line.ahead) if day.fill != "day" else ()
    to_fill = frozenset(line.key for line in ahead if is_to_fill(line, marks))
    return Tally(states, open_lines, critical, frozenset(settled), to_fill)
