"""Tools: those that stay in unfinished work, and whether what goes out at the same time is more than she owns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from checklists.class_places import parts_done, progress_of
from checklists.daybook.state import State
from checklists.lines.quantities import on_hand_of, round_up, units_of
from checklists.lines.records import Line, Visit
from checklists.plan.records import Bells, Plan
from checklists.words import minute_of


def tied_up(plan: Plan, state: State) -> dict[str, dict[str, int]]:
    """Supply -> class -> how many are in the class's unfinished work, from the part that first lists it to the last.

    One for each child of the class, also where some were absent: theirs wait for them.
    """
    found: dict[str, dict[str, int]] = {}
    for class_ in plan.classes:
        progress = progress_of(plan, state, class_)
        done = parts_done(progress) if progress is not None else ()
        if progress is None or not done or progress.lesson not in plan.lessons_that_tie_up:
            continue
        for part in (plan.lesson_by_id[progress.lesson].parts[n - 1] for n in done):
            for item in part.items:
                if item.stays_in_work and item.is_for(class_.id):
                    count = round_up(item.count * units_of(item.per, class_.headcount, class_.tables))
                    by_class = found.setdefault(item.supply, {})
                    by_class[class_.id] = max(count, by_class.get(class_.id, 0))
    return found


class SameTime(Struct, frozen=True):
    """A tool of which more is wanted at one time than there is."""

    supply: str
    name: str
    wanted: int
    owned: int
    """What she has, less what is in other classes' work and what is lent."""
    in_work: int
    lent: int
    by_container: tuple[tuple[str, int], ...]
    visit: Visit
    """The last visit it is wanted for at that time."""
    critical: bool


def wanted_at_once(
    plan: Plan, state: State, bells: Bells, visits: Sequence[Visit], lines: Sequence[Line]
) -> Iterator[SameTime]:
    """Tools that come back and of which one leg, between two stops at the store, wants more than she owns.

    Every container that is out needs its own: what several visits take out of one of them in turn counts once.
    """
    in_work = tied_up(plan, state)
    said: set[str] = set()
    for leg in legs_of(bells, visits):
        by_supply: dict[str, dict[str, int]] = {}
        for line in lines:
            if line.comes_back and line.supply in plan.supply_by_id and not line.forbidden:
                out = max((round_up(use.amount) for use in line.uses if use.visit in leg), default=0)
                if out:
                    by_container = by_supply.setdefault(line.supply, {})
                    by_container[line.container] = by_container.get(line.container, 0) + out
        for supply_id, by_container in by_supply.items():
            supply = plan.supply_by_id[supply_id]
            on_hand = on_hand_of(supply, state)
            if on_hand is None or supply_id in said:
                continue
            tied = sum(in_work.get(supply_id, {}).values())
            lent = sum(loan.count for loan in state.lent if loan.supply == supply_id)
            wanted = sum(by_container.values())
            if wanted > max(0, on_hand - tied - lent):
                said.add(supply_id)
                mine = [line for line in lines if line.supply == supply_id]
                last = max((leg[use.visit] for line in mine for use in line.uses if use.visit in leg), key=_number)
                yield SameTime(
                    supply=supply_id,
                    name=supply.name,
                    wanted=wanted,
                    owned=max(0, on_hand - tied - lent),
                    in_work=tied,
                    lent=lent,
                    by_container=tuple(by_container.items()),
                    visit=last,
                    critical=any(line.critical for line in mine),
                )


def legs_of(bells: Bells, visits: Sequence[Visit]) -> tuple[Mapping[str, Visit], ...]:
    """The day's visits by key, cut where a break is spent at the store."""
    starts = sorted(minute_of(each.start) for each in bells.breaks)
    legs: dict[int, dict[str, Visit]] = {}
    for visit in visits:
        legs.setdefault(sum(start <= visit.start for start in starts), {})[visit.key] = visit
    return tuple(legs.values())


def _number(visit: Visit) -> int:
    return visit.number
