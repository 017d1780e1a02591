"""What is said besides when a count or a place was told: what is left for later visits, what too many may be, and
that sharps are not left in a room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checklists.daybook.cases import too_many_back
from checklists.daybook.counting_back import say_too_many
from checklists.daybook.entries import AnyEntry, CountedSharps, GivenBack, Lent, Stands
from checklists.daybook.fetching import warn_of_sharps
from checklists.daybook.marks import Marks
from checklists.daybook.state import State
from checklists.daybook.what_is_left import left_for_visits
from checklists.lines.containers import name_of
from checklists.lines.records import Day
from checklists.plan.records import Plan


def said_besides(
    plan: Plan, day: Day, marks: Marks, opening: State, entries: Iterable[AnyEntry], *, brief: bool = False
) -> tuple[str, ...]:
    """Sentences for entries that ``marks`` has already. ``brief``: of what is left only where it is too
    little, and nothing of what is asked as a question of its own.
    """
    said = (each for entry in entries for each in _besides(plan, day, marks, opening, entry, brief))
    return tuple(dict.fromkeys(said))


def _besides(plan: Plan, day: Day, marks: Marks, opening: State, entry: AnyEntry, brief: bool) -> Iterator[str]:
    match entry:
        case CountedSharps() if entry.back < entry.out:
            yield from _left(plan, day, marks, entry, brief)
        case CountedSharps() if entry.back > entry.out and not brief:
            for each in too_many_back(plan, day, marks):
                if (each.count.visit, each.count.supply, each.count.on) == (entry.visit, entry.supply, entry.on):
                    yield say_too_many(plan, day, each)
        case Lent() | GivenBack():
            yield from _left(plan, day, marks, entry, brief)
        case Stands():
            held = opening.contents.get(entry.container, {})
            warning = warn_of_sharps(plan, held, name_of(plan, entry.container), entry.place)
            if warning:
                yield warning


def _left(plan: Plan, day: Day, marks: Marks, entry: CountedSharps | Lent | GivenBack, brief: bool) -> Iterator[str]:
    after = entry.visit if isinstance(entry, CountedSharps) and entry.on is None else ""
    for left in left_for_visits(plan, day, marks, entry.supply, entry.at, after):
        if left.short or not brief:
            yield f"{left.words}."
