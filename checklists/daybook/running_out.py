"""What runs out: the first school day on which what is on hand falls short of what the coming visits need."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date

from msgspec import Struct, structs

from checklists.daybook.line_states import has_now, state_of
from checklists.daybook.marks import Marks
from checklists.lines.containers import FOLDER
from checklists.lines.quantities import round_up
from checklists.lines.records import Day, Line


class RunsOut(Struct, frozen=True):
    """One supply over the days that were looked at."""

    on: date
    """The first day with too few."""
    missing: int
    """How many more it takes for the last of the days as well."""


def runs_out(days: Iterable[Day], on_hand: Mapping[str, int], told: Collection[str] = ()) -> dict[str, RunsOut]:
    """Supply -> when and by how many it falls short, if every day is taught as planned.

    ``days`` are in order, from the one of which ``on_hand`` is known; ``told`` are visits of that day whose use is
    taken off already. What comes back is needed on each day anew, the rest is used up.
    """
    used: dict[str, int] = {}
    found: dict[str, RunsOut] = {}
    for n, day in enumerate(days):
        over = told if n == 0 else ()
        needs, uses = _needs_of(day, over), _uses_of(day, over)
        for supply, need in needs.items():
            if supply not in on_hand:
                continue
            missing = need + used.get(supply, 0) - on_hand[supply]
            before = found.get(supply)
            if before is None and missing > 0:
                found[supply] = RunsOut(day.date, missing)
            elif before is not None and missing > before.missing:
                found[supply] = RunsOut(before.on, missing)
        for supply, count in uses.items():
            used[supply] = used.get(supply, 0) + count
    return found


def as_said(day: Day, marks: Marks) -> Day:
    """A day's list with what she has said of its lines: short ones need what there is, what is off needs none."""
    lines = (_as_said(line, marks) for line in day.lines if state_of(line, marks) != "not needed")
    return structs.replace(day, lines=tuple(lines))


def _as_said(line: Line, marks: Marks) -> Line:
    if state_of(line, marks) != "short" or not line.need:
        return line
    has = min(line.need, has_now(line, marks))
    uses = tuple(structs.replace(use, amount=use.amount * has / line.need) for use in line.uses)
    return structs.replace(line, need=has, uses=uses)


def _needs_of(day: Day, over: Collection[str]) -> dict[str, int]:
    """Supply -> how many have to be there on a day, in all containers together."""
    needs: dict[str, int] = {}
    for line in _packed_for(day):
        need = line.need if not any(use.visit in over for use in line.uses) else _rest_of(line, over)
        needs[line.supply] = needs.get(line.supply, 0) + need
    return needs


def _uses_of(day: Day, over: Collection[str]) -> dict[str, int]:
    uses: dict[str, int] = {}
    for line in _packed_for(day):
        if not line.comes_back:
            uses[line.supply] = uses.get(line.supply, 0) + _rest_of(line, over)
    return uses


def _packed_for(day: Day) -> Iterable[Line]:
    return (line for line in day.lines if not line.forbidden and not line.supply.startswith(FOLDER))


def _rest_of(line: Line, over: Collection[str]) -> int:
    """What the visits that are not over take of a line."""
    amounts = [use.amount for use in line.uses if use.visit not in over]
    return round_up(max(amounts, default=0) if line.comes_back else sum(amounts))
