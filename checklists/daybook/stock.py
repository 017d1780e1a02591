"""What a day leaves in the containers, in the stock, and where: packing adds, use subtracts, what is lost is gone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from checklists.daybook.marks import Marks, state_of
from checklists.daybook.records import Place, Reported, State, StoreLevel
from checklists.daybook.reports import parts_taught, students_who_came, was_taught
from checklists.lines.catch_up import part_of
from checklists.lines.containers import catch_up_kit_of, folder_of, home_of
from checklists.lines.needs import need_of_item
from checklists.lines.quantities import round_up
from checklists.lines.records import Day, Line, Visit
from checklists.plan.records import Plan
from checklists.visits import STORE

Contents = dict[str, dict[str, int]]
FOLDER = folder_of("")


def contents_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported]
) -> tuple[Contents, dict[str, int]]:
    held: Contents = {container: dict(supplies) for container, supplies in opening.contents.items()}
    on_hand = dict(opening.on_hand) | marks.counted
    for (container, supply), count in marks.contents.items():
        held.setdefault(container, {})[supply] = count
    packed_into = {line.key: (_contents_key(line), line.supply) for line in day.lines}
    for key, mark in marks.lines.items():
        container, supply = packed_into.get(key) or _packed_before(key)
        if mark.count is None or supply.startswith(FOLDER):
            continue
        inside = held.setdefault(container, {})
        if mark.remedy:  # there were fewer than thought: the others are gone, not back on the shelf
            thought = opening.contents.get(container, {}).get(supply, 0)
            _take(on_hand, supply, max(0, thought - mark.count))
        inside[supply] = mark.count
    for line in day.lines:
        if state_of(line, marks) != "not needed":
            used = _used_of(line, day, marks, reports)
            _take(held.setdefault(_contents_key(line), {}), line.supply, used)
            _take(on_hand, line.supply, used)
    for visit in day.visits:
        for supply, amount in _used_further(plan, visit, reports[visit.key]):
            _take(on_hand, supply, amount)
    for tally in marks.sharps.values():
        missing = max(0, tally.out - tally.back)
        of_visit = (each for each in day.lines if each.supply == tally.supply and tally.visit in each.visits)
        for each in of_visit:
            _take(held.setdefault(_contents_key(each), {}), tally.supply, missing)
        _take(on_hand, tally.supply, missing)
    for case in opening.cases:
        closed = marks.closed_cases.get(case.key)
        if closed is not None and closed.found:
            home = home_of(plan, case.supply)
            if home is not None:
                held.setdefault(home, {})[case.supply] = held.get(home, {}).get(case.supply, 0) + case.count
            if case.supply in on_hand:
                on_hand[case.supply] += case.count
    for supply, level in marks.levels.items():
        if level == "out" and supply in on_hand:
            on_hand[supply] = 0
    return {container: supplies for container, supplies in held.items() if any(supplies.values())}, on_hand


def levels_after(marks: Marks, opening: State) -> dict[str, StoreLevel]:
    """Her newest glance at each supply; one that was out is so no longer once some were counted."""
    found = {supply for supply, count in marks.counted.items() if count}
    still = {supply: level for supply, level in opening.levels.items() if level != "out" or supply not in found}
    return still | marks.levels


def _contents_key(line: Line) -> str:
    return catch_up_kit_of(line.catch_up_for) if line.catch_up_for else line.container


def _packed_before(key: str) -> tuple[str, str]:
    """Container and supply of a line that was packed before the day changed, and is on its list no longer."""
    container, _, rest = key.partition("/")
    supply, _, catch_up_kit = rest.partition("/")
    return catch_up_kit or container, supply


def _is_folder(line: Line) -> bool:
    return line.supply.startswith(FOLDER)


def _take(counts: dict[str, int], supply: str, amount: int) -> None:
    """Take off what was used; an estimate never falls below nothing."""
    if supply in counts:
        counts[supply] = max(0, counts[supply] - amount)


def _used_of(line: Line, day: Day, marks: Marks, reports: Mapping[str, Reported]) -> int:
    """How many of a line's supply were used up, of what the children who came needed."""
    if line.comes_back or _is_folder(line):
        return 0
    visits = {visit.key: visit for visit in day.visits}
    used = 0.0
    for use in line.uses:
        if line.catch_up_for:
            used += use.amount if marks.handed_out.get(use.visit) else 0
        elif was_taught(reports[use.visit]):
            visit = visits[use.visit]
            came = students_who_came(visit, reports[use.visit]) / visit.students if visit.students else 1
            used += use.amount * (came if use.per_student else 1)
    mark = marks.lines.get(line.key)
    most = mark.count if mark is not None and mark.remedy and mark.count is not None else None
    return round_up(used) if most is None else min(round_up(used), most)


def _used_further(plan: Plan, visit: Visit, report: Reported) -> Iterator[tuple[str, int]]:
    """What a class that went further used of the parts beyond the planned one."""
    for n in range(1, parts_taught(visit, report)):
        step = visit.steps[0]
        part = part_of(plan, step.lesson, step.part + n)
        for item in part.items if part is not None else ():
            supply = plan.supply_by_id.get(item.supply)
            if supply is not None and not supply.comes_back:
                yield item.supply, round_up(need_of_item(plan, visit, step.lesson, item).amount)


def places_after(day: Day, marks: Marks, opening: State) -> dict[str, Place]:
    """Where containers stay that are not at the store; what nobody said anything of came back, or is where it was."""
    used = {container.id for container in day.containers}
    places = {container: place for container, place in opening.places.items() if container not in used}
    for container, place in opening.places.items():
        if container in used and container not in marks.places:
            places[container] = place
    for container, stands in marks.places.items():
        if stands.place == STORE:
            places.pop(container, None)
        else:
            places[container] = Place(stands.place, day.date, stands.period)
    return places
