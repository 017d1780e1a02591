"""What a day leaves in the containers, in the stock, and where: packing adds, use subtracts, what is lost is gone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime
from math import inf

from msgspec import Struct

from checklists.class_places import parts_done_before
from checklists.daybook.cases import found_some
from checklists.daybook.entries import CountedSharps, Reported
from checklists.daybook.line_states import has_now, stands_in, state_of, told_at
from checklists.daybook.loans import counts_of, lent_by_supply, loans_after, moved, moves_of
from checklists.daybook.marks import Marks, place_of_line
from checklists.daybook.ordering import take_in_deliveries
from checklists.daybook.reports import counts_said, step_planned, steps_taught, students_who_came, was_over, was_taught
from checklists.daybook.state import Place, State
from checklists.lines.catch_up import part_of
from checklists.lines.containers import FOLDER, container_for, home_of
from checklists.lines.need import Need
from checklists.lines.needs import kept_in_work, need_of_extension, need_of_item
from checklists.lines.quantities import is_counted_anew, on_hand_of, round_up
from checklists.lines.records import Day, Line, Use, Visit
from checklists.lines.tied_up import tied_up
from checklists.plan.records import Item, Lesson, Plan
from checklists.walks import STORE

PAIL = "/pail "
"""What the key of a line ends with that is packed in a pail beside its container, before the pail's number."""
ALL_BACK = "places"
"""What is ticked when everything is back at the store."""
Contents = dict[str, dict[str, int]]


def contents_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported]
) -> tuple[Contents, dict[str, int]]:
    """What containers hold and what she has of each supply after the day, from what it opened with.

    Whatever happened before a supply, or a container, was last counted is in that count already.
    """
    held: Contents = {container: dict(supplies) for container, supplies in opening.contents.items()}
    on_hand = dict(opening.on_hand)
    for each in plan.supplies:
        known = on_hand_of(each, opening, day.date)
        if known is not None:
            on_hand[each.id] = known
    on_hand |= marks.counted
    take_in_deliveries(plan, marks, opening, held, on_hand)
    _pack(day, marks, opening, held, on_hand)
    _lend(marks, opening, held)
    _use(plan, day, marks, reports, held, on_hand)
    _lose_and_find(plan, day, marks, opening, held, on_hand)
    for supply, level in marks.levels.items():
        if level == "out" and supply in on_hand:  # none on the shelf: what containers hold is all there is
            in_work = sum(tied_up(plan, opening).get(supply, {}).values())
            lent = lent_by_supply(loans_after(marks.loans, opening.lent, day.date)).get(supply, 0)
            on_hand[supply] = in_work + lent + sum(inside.get(supply, 0) for inside in held.values())
    return {container: supplies for container, supplies in held.items() if any(supplies.values())}, on_hand


def _lend(marks: Marks, opening: State, held: Contents) -> None:
    """What was lent is out of its container, what was given back in it, as far as no later count has it already."""
    moves = moves_of(marks.loans, counts_of(opening.lent))
    for container, supply in dict.fromkeys((each.container, each.supply) for each in moves if each.container):
        more = moved(moves, container, supply, after=told_at(f"{container}/{supply}", marks))
        inside = held.setdefault(container, {})
        inside[supply] = max(0, inside.get(supply, 0) + more)


def _pack(day: Day, marks: Marks, opening: State, held: Contents, on_hand: dict[str, int]) -> None:
    for (container, supply), count in marks.contents.items():
        held.setdefault(container, {})[supply] = count
    moves = moves_of(marks.loans, counts_of(opening.lent))
    packed_into = {line.key: (stands_in(line), line.supply) for line in day.lines}
    for key, mark in marks.lines.items():
        container, supply = packed_into.get(key) or place_of_line(key)
        if mark.count is None or supply.startswith(FOLDER) or PAIL in key:
            continue
        held.setdefault(container, {})[supply] = mark.count
        short = mark.short if mark.remedy else None
        if short is not None and not _counted_since(short.at, marks, supply):
            before = opening.contents.get(container, {}).get(supply, 0) if short.thought is None else short.thought
            thought = max(0, before + moved(moves, container, supply, after=short.thought_at, until=short.at))
            _take(on_hand, supply, max(0, thought - short.count))  # the others are gone, not on the shelf

    for container, supply in dict.fromkeys((line.container, line.supply) for line in day.lines if line.pail):
        pails = [line for line in day.lines if line.pail and (line.container, line.supply) == (container, supply)]
        told = [(line, marks.lines[line.key]) for line in pails if line.key in marks.lines]
        for line, mark in told:
            if mark.remedy and mark.count is not None and not _counted_since(mark.at, marks, supply):
                _take(on_hand, supply, max(0, line.in_it - mark.count))
        if told:
            held.setdefault(container, {})[supply] = sum(has_now(line, marks) for line in pails)
    for (container, supply), count in _pails_packed_before(day, marks).items():
        inside = held.setdefault(container, {})
        inside[supply] = max(count, inside.get(supply, 0))


def _pails_packed_before(day: Day, marks: Marks) -> dict[tuple[str, str], int]:
    """What was packed in pails that are on the list no longer: the day was lost, or something else is taught."""
    listed = {line.key for line in day.lines}
    packed: dict[tuple[str, str], int] = {}
    for key, mark in marks.lines.items():
        if PAIL in key and key not in listed and mark.count is not None:
            what = place_of_line(key.partition(PAIL)[0])
            packed[what] = packed.get(what, 0) + mark.count
    return packed


def _use(
    plan: Plan, day: Day, marks: Marks, reports: Mapping[str, Reported], held: Contents, on_hand: dict[str, int]
) -> None:
    for line in day.lines:
        if line.comes_back or line.forbidden or _is_folder(line) or state_of(line, marks) == "not needed":
            continue
        where, mark = stands_in(line), marks.lines.get(line.key)
        looked, counted = marks.looked_at.get(f"{where}/{line.supply}"), marks.looked_at.get(line.supply)
        if mark is not None and mark.went_with is None:
            looked = None  # packed after the look
        since_look, since_count = _used_of(line, day, marks, reports, looked, counted)
        _take(held.setdefault(where, {}), line.supply, since_look)
        if not line.stays_in_work:
            _take(on_hand, line.supply, since_count)
    for visit in day.visits:
        for used in _used_beside_the_list(plan, visit, reports[visit.key]):
            if not was_over(visit, day, marks.looked_at.get(f"{used.container}/{used.supply}")):
                _take(held.get(used.container, {}), used.supply, used.amount)
            if not used.stays_in_work and not was_over(visit, day, marks.looked_at.get(used.supply)):
                _take(on_hand, used.supply, used.amount)


def _lose_and_find(plan: Plan, day: Day, marks: Marks, opening: State, held: Contents, on_hand: dict[str, int]) -> None:
    known = {case.key: case.count for case in opening.cases}
    found = {key for key, closed in marks.closed_cases.items() if closed.found}
    for key, tally in counts_said(day, marks):
        if key in found:
            continue
        missing = max(0, tally.out - tally.back) - known.get(key, 0)
        if key not in known:
            missing -= min(max(0, missing), found_some(key, marks))
        where = _where_counted(plan, day, tally)
        if not _counted_since(tally.at, marks, f"{where}/{tally.supply}"):
            _take(held.get(where, {}), tally.supply, missing)
        if not _counted_since(tally.at, marks, tally.supply):
            _take(on_hand, tally.supply, missing)
    for case in opening.cases:
        home, left = home_of(plan, case.supply), case.count
        for closed in (*marks.found_some.get(case.key, ()), *filter(None, [marks.closed_cases.get(case.key)])):
            count = min(left, case.count if closed.count is None else closed.count) if closed.found else 0
            left -= count
            if home is not None and not _counted_since(closed.at, marks, f"{home}/{case.supply}"):
                held.setdefault(home, {})[case.supply] = held.get(home, {}).get(case.supply, 0) + count
            if case.supply in on_hand and not _counted_since(closed.at, marks, case.supply):
                on_hand[case.supply] += count


def _counted_since(moment: datetime, marks: Marks, what: str) -> bool:
    """Whether a supply, or "container/supply", was counted after a moment."""
    looked = marks.looked_at.get(what)
    return looked is not None and looked > moment


def counted_after(plan: Plan, day: Day, marks: Marks, opening: State) -> dict[str, date]:
    """When each supply was last counted: by the daybook or, where that was later, by the plan."""
    counted = dict(opening.counted)
    for each in plan.supplies:
        if each.counted is not None and is_counted_anew(each, opening, day.date):
            counted[each.id] = each.counted
    return counted | dict.fromkeys(marks.counted, day.date)


def _is_folder(line: Line) -> bool:
    return line.supply.startswith(FOLDER)


def _take(counts: dict[str, int], supply: str, amount: int) -> None:
    """Take off what was used; an estimate never falls below nothing."""
    if supply in counts:
        counts[supply] = max(0, counts[supply] - amount)


def _where_counted(plan: Plan, day: Day, tally: CountedSharps) -> str:
    """The container that what is missing from a count was in: of today's visit the line's, else its home."""
    lines = (line for line in day.lines if line.supply == tally.supply and tally.visit in line.visits)
    line = next(lines, None) if tally.on is None else None
    return stands_in(line) if line is not None else home_of(plan, tally.supply) or ""


def _used_of(
    line: Line,
    day: Day,
    marks: Marks,
    reports: Mapping[str, Reported],
    looked: datetime | None,
    counted: datetime | None,
) -> tuple[int, int]:
    """How many of a line's supply those who came used up since she looked into the container, and since a stock count.

    Visits take in turn from what went along, as far as that was said, and after a look from what she found.
    """
    visits, mark = {visit.key: visit for visit in day.visits}, marks.lines.get(line.key)
    left = inf
    if mark is not None and mark.count is not None:
        left = mark.count if mark.went_with is None else mark.went_with
    since_look = since_count = 0.0
    has_looked = False
    for use in sorted(line.uses, key=lambda use: visits[use.visit].start):
        visit = visits[use.visit]
        if line.stays_in_work and not use.stays:
            continue  # what other classes only use comes back into the container
        if looked is not None and not has_looked and not was_over(visit, day, looked):
            has_looked = True
            left = mark.count if mark is not None and mark.count is not None else left
        used = min(left, _used_in(line, use, visit, marks, reports))
        left -= used
        since_look += used if not was_over(visit, day, looked) else 0
        since_count += used if not was_over(visit, day, counted) else 0
    return round_up(since_look), round_up(since_count)


def _used_in(line: Line, use: Use, visit: Visit, marks: Marks, reports: Mapping[str, Reported]) -> float:
    if line.catch_up_for:
        return use.amount if marks.handed_out.get(use.visit) else 0
    report = reports[use.visit]
    if not was_taught(report) or _was_another_part(visit, report):
        return 0  # what was packed for the part that was planned stays, but for what that other part uses
    return use.amount * (_share_that_came(visit, report) if use.per_student else 1)


def _share_that_came(visit: Visit, report: Reported) -> float:
    return students_who_came(visit, report) / visit.students if visit.students else 1


def _was_another_part(visit: Visit, report: Reported) -> bool:
    """Whether another part of the lesson was taught than the one that was packed for."""
    return report.outcome == "another part" and steps_taught(visit, report)[:1] not in ((), (step_planned(visit),))


class _Used(Struct, frozen=True):
    """So many of a supply that were used out of a container without being on the day's list."""

    container: str
    supply: str
    amount: int
    stays_in_work: bool = False
    """It left the container and not the stock."""


def _used_beside_the_list(plan: Plan, visit: Visit, report: Reported) -> Iterator[_Used]:
    """What a class used of parts beyond the planned one, or of the one that was taught in place of it.

    Only what the lesson says of a part is known here, not what rules would have added for it.
    """
    planned, taught = step_planned(visit), steps_taught(visit, report)
    if planned is None or not taught:
        return
    lesson = plan.lesson_by_id[planned.lesson]
    done = parts_done_before(visit, planned)
    for step in taught:
        part = part_of(plan, step.lesson, step.part)
        if step != planned and part is not None:
            kept = kept_in_work(plan, visit.class_id, lesson.id, done)
            items = [each for each in part.items if each.is_for(*visit.classes)]
            items = [each for each in items if not (each.stays_in_work and each.supply in kept)]
            needs = [need_of_item(plan, visit, lesson.id, each) for each in items]
            yield from _used_of_items(plan, visit, report, lesson, zip(items, needs, strict=True))
        done = (*done, step.part)
    if _was_another_part(visit, report):
        listed = (each for each in lesson.extension if each.is_for(*visit.classes))
        early = [(each, need_of_extension(plan, visit, each)) for each in listed]
        yield from _used_of_items(plan, visit, report, lesson, early)


def _used_of_items(
    plan: Plan, visit: Visit, report: Reported, lesson: Lesson, items: Iterable[tuple[Item, Need]]
) -> Iterator[_Used]:
    for item, need in items:
        supply = plan.supply_by_id.get(item.supply)
        if supply is not None and (item.stays_in_work or not supply.comes_back):
            share = _share_that_came(visit, report) if need.per_student else 1
            container = container_for(plan, item.supply, visit.grade, lesson, item.into)
            yield _Used(container, item.supply, round_up(need.amount * share), item.stays_in_work)


def places_after(day: Day, marks: Marks, opening: State) -> dict[str, Place]:
    """Where containers stay that are not at the store: where they were, unless she said otherwise."""
    places = dict(opening.places)
    for container, stands in marks.places.items():
        if stands.place == STORE:
            places.pop(container, None)
        else:
            places[container] = Place(stands.place, day.date, stands.period)
    return places


def at_store_after(day: Day, marks: Marks, opening: State) -> dict[str, date]:
    """When she last said of each container that it is at the store."""
    back = {container for container, stands in marks.places.items() if stands.place == STORE}
    if ALL_BACK in marks.seen_to:
        back |= {each.id for each in day.containers}
    away = {container for container, stands in marks.places.items() if stands.place != STORE}
    known = opening.at_store | dict.fromkeys(sorted(back), day.date)
    return {container: on for container, on in known.items() if container not in away}
