"""Closing a day: from how things stood in the morning and what happened, to how they stand overnight."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from checklists.daybook.carry_over import carried_after
from checklists.daybook.marks import Marks, state_of
from checklists.daybook.records import (
    Case,
    Changed,
    Owed,
    Place,
    Progress,
    Reported,
    State,
    StoreLevel,
    Unfinished,
    Unsure,
)
from checklists.daybook.reports import parts_taught, reports_of, step_taught, students_who_came, was_taught
from checklists.lines.catch_up import part_of
from checklists.lines.containers import catch_up_kit_of, folder_of, home_of
from checklists.lines.needs import need_of_item
from checklists.lines.quantities import round_up
from checklists.lines.records import Day, Line, Step, Visit
from checklists.plan.records import Plan
from checklists.visits import STORE, advance, progress_of

Contents = dict[str, dict[str, int]]
FOLDER = folder_of("")


def close_day(plan: Plan, day: Day, marks: Marks, opening: State, *, as_planned: bool = False) -> State:
    """The state after ``day``.

    A visit nobody reported is of unknown outcome: its class stays where it is, the question is kept, what was packed
    for it is taken as used and a reserve for its absences as owed. With ``as_planned`` (a day still to come, looked
    past) such visits are taken as done with nobody missing.
    """
    reports = reports_of(day, marks, as_planned=as_planned)
    contents, on_hand = _contents_after(plan, day, marks, opening, reports)
    progress = dict(opening.progress) | dict(_progress_of_visits(plan, day, opening, reports))
    return State(
        contents=contents,
        places=_places_after(day, marks, opening),
        progress=progress,
        unsure=_unsure_after(day, opening, reports),
        owed=_owed_after(plan, day, marks, opening, reports),
        unfinished=_unfinished_after(day, opening, reports),
        on_hand=on_hand,
        counted=opening.counted | dict.fromkeys(marks.counted, day.date),
        levels=_levels_after(marks, opening),
        carried=carried_after(plan, day, marks, opening, reports, as_planned=as_planned),
        cases=_cases_after(day, marks, opening),
        prepared=tuple(key for key in _done_preparations(marks, opening) if not _is_behind(key, "prep", progress)),
        cautioned=tuple(key for key in _shown_cautions(day, opening) if not _is_behind(key, "caution", progress)),
        lost_days=_lost_after(day.date, marks.changes, opening),
        announced=_announced_after(day.date, marks.changes, opening),
    )


# ------------------------------------------------------------------------------------------- contents and stock


def _contents_after(
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
            _take(on_hand, supply, max(0, inside.get(supply, 0) - mark.count))
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


def _levels_after(marks: Marks, opening: State) -> dict[str, StoreLevel]:
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


def _places_after(day: Day, marks: Marks, opening: State) -> dict[str, Place]:
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


# ----------------------------------------------------------------------------------------------------- classes


def _progress_of_visits(
    plan: Plan, day: Day, opening: State, reports: Mapping[str, Reported]
) -> Iterator[tuple[str, Progress]]:
    now: dict[str, Progress] = {}
    for visit in day.visits:
        class_ = plan.class_by_id[visit.class_id]
        report = reports[visit.key]
        progress = now.get(class_.id) or progress_of(plan, opening, class_)
        if progress is None:
            continue
        parts = parts_taught(visit, report)
        if parts:
            progress = advance(plan, class_, progress, day.date, parts)
        elif report.outcome == "about half" and not visit.substitute:
            progress = Progress(
                progress.lesson, progress.part, progress.taught_on, again=True, lessons_done=progress.lessons_done
            )
        now[class_.id] = progress
    yield from now.items()


def _unsure_after(day: Day, opening: State, reports: Mapping[str, Reported]) -> dict[str, tuple[Unsure, ...]]:
    unsure = dict(opening.unsure)
    for visit in day.visits:
        if reports[visit.key].outcome == "unknown" and visit.steps and not visit.substitute:
            question = Unsure(day.date, visit.key, visit.steps[0].lesson, visit.steps[0].part)
            unsure[visit.class_id] = (*unsure.get(visit.class_id, ()), question)
    return unsure


def _owed_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported]
) -> dict[str, tuple[Owed, ...]]:
    owed = dict(opening.owed)
    for visit in day.visits:
        report = reports[visit.key]
        left = list(owed.get(visit.class_id, ()))
        if marks.handed_out.get(visit.key):
            left = [each for was in left for each in _still_owed(was, report)]
        left.extend(_newly_owed(plan, day.date, visit, report))
        if left:
            owed[visit.class_id] = tuple(left)
        else:
            owed.pop(visit.class_id, None)
    return owed


def _still_owed(owed: Owed, report: Reported) -> Iterator[Owed]:
    """What stays owed after the catch-up kit was handed out: to those absent again, of counts the worst case."""
    numbers = tuple(number for number in owed.numbers if number in report.absent)
    others = min(owed.count, len(report.absent) - len(numbers))  # listed today, but only counted when they missed it
    came_or_not = len(owed.numbers) - len(numbers) + owed.count - others
    count = others + min(came_or_not, report.absent_count)
    if numbers or count:
        yield Owed(owed.lesson, owed.part, owed.since, numbers, count)


def _newly_owed(plan: Plan, day: date, visit: Visit, report: Reported) -> Iterator[Owed]:
    step = step_taught(visit, report)
    taught = max(parts_taught(visit, report), 1 if report.outcome == "unknown" else 0)
    if step is None:
        return
    for n in range(taught):
        part = part_of(plan, step.lesson, step.part + n)
        if part is None or part.catch_up == "none":
            continue
        if report.absent or report.absent_count:
            yield Owed(step.lesson, step.part + n, day, tuple(sorted(report.absent)), report.absent_count)
        elif not report.absences_known:
            yield Owed(step.lesson, step.part + n, day, unknown=True)


def _unfinished_after(day: Day, opening: State, reports: Mapping[str, Reported]) -> dict[str, tuple[Unfinished, ...]]:
    """Children not done with a part. The next visit that takes place is where they finish."""
    unfinished = dict(opening.unfinished)
    for visit in day.visits:
        report = reports[visit.key]
        if step_taught(visit, report) is None or report.outcome == "unknown":
            continue
        unfinished.pop(visit.class_id, None)
        if report.not_done:
            step = Step(visit.steps[0].lesson, visit.steps[0].part)
            unfinished[visit.class_id] = (Unfinished(step.lesson, step.part, report.not_done, day.date),)
    return unfinished


# ------------------------------------------------------------------------------- cases, preparation, the calendar


def _cases_after(day: Day, marks: Marks, opening: State) -> tuple[Case, ...]:
    cases = [case for case in opening.cases if case.key not in marks.closed_cases]
    visits = {visit.key: visit for visit in day.visits}
    for (key, supply), count in marks.sharps.items():
        visit = visits.get(key)
        case = f"{day.date.isoformat()}/{key}/{supply}"
        if visit is None or count.back >= count.out or case in marks.closed_cases:
            continue
        cases.append(
            Case(
                key=case,
                supply=supply,
                count=count.out - count.back,
                date=day.date,
                room=visit.room,
                period=visit.period,
                school_class=visit.class_id,
                out=count.out,
                back=count.back,
            )
        )
    return tuple(_with_report(case, marks) for case in cases)


def _with_report(case: Case, marks: Marks) -> Case:
    said = marks.reported_cases.get(case.key)
    if said is None:
        return case
    return Case(
        case.key,
        case.supply,
        case.count,
        case.date,
        case.room,
        case.period,
        case.school_class,
        case.out,
        case.back,
        said.to_whom,
        said.when or f"{said.at.date().isoformat()} {said.at:%H:%M}",
    )


def _done_preparations(marks: Marks, opening: State) -> tuple[str, ...]:
    settled = [key for key in (*marks.seen_to, *marks.let_go) if key.startswith("prep/")]
    return tuple(dict.fromkeys((*opening.prepared, *settled)))


def _shown_cautions(day: Day, opening: State) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*opening.cautioned, *(caution.key for caution in day.cautions))))


def _is_behind(key: str, word: str, progress: Mapping[str, Progress]) -> bool:
    """Whether a key "word/class/lesson/…" speaks of a lesson, or of a part, that the class has put behind it."""
    for class_id, now in progress.items():
        rest = key.removeprefix(f"{word}/{class_id}/")
        if rest == key:
            continue
        lesson, _, after = rest.partition("/")
        if lesson in now.lessons_done and lesson != now.lesson:
            return True
        part = after.partition("/")[0]
        return word == "prep" and lesson == now.lesson and part.isdigit() and int(part) < now.part
    return False


def _lost_after(day: date, changes: Changed | None, opening: State) -> tuple[date, ...]:
    lost = changes is not None and changes.no_school and day not in opening.lost_days
    return (*opening.lost_days, day) if lost else opening.lost_days


def _announced_after(day: date, changes: Changed | None, opening: State) -> dict[str, str]:
    if changes is None or not changes.day:
        return opening.announced
    return opening.announced | {day.isoformat(): changes.day}
