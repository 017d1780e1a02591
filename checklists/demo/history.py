"""What happened at a school before the day it is opened on, written down as deviations from the plan and gone through.

Everything a history does not mention was packed, taught with nobody missing, counted back and put right.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path

from msgspec import Struct, convert

from checklists.daybook import entries as book
from checklists.daybook.closing import close_day
from checklists.daybook.marks import Marks, case_key, marks_of
from checklists.daybook.opening import first_state
from checklists.daybook.reports import went_out
from checklists.daybook.state import DayRecord, Progress, State
from checklists.files.daybook_folder import write_record
from checklists.files.plan_folder import read_plan
from checklists.lines.day import calendar_for, day_on
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.walks import STORE


class Told(Struct, frozen=True, forbid_unknown_fields=True):
    """Base of what a history file says."""


class Where(Told, frozen=True):
    lesson: str
    part: int


class VisitTold(Told, frozen=True, rename={"class_id": "class"}):
    class_id: str
    outcome: book.OutcomeKind = "done"
    not_done: int = 0
    reached_part: int | None = None
    absent: tuple[int, ...] = ()
    absent_count: int = 0


class ShortTold(Told, frozen=True):
    container: str
    supply: str
    count: int
    remedy: book.Remedy = "go without"


class LeftTold(Told, frozen=True):
    container: str
    room: str


class SharpsTold(Told, frozen=True, rename={"class_id": "class"}):
    class_id: str
    supply: str
    out: int
    back: int


class MissingTold(Told, frozen=True, rename={"class_id": "class"}):
    class_id: str
    supply: str
    to_whom: str
    when: str = ""


class DayTold(Told, frozen=True):
    """What went otherwise on one day."""

    date: date
    visits: tuple[VisitTold, ...] = ()
    short: tuple[ShortTold, ...] = ()
    left: tuple[LeftTold, ...] = ()
    sharps: tuple[SharpsTold, ...] = ()
    reported: tuple[MissingTold, ...] = ()
    not_put_right: tuple[str, ...] = ()
    not_handed_out: tuple[str, ...] = ()
    low: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


class History(Told, frozen=True):
    opens_on: date
    starts_on: date
    places: dict[str, Where]
    days: tuple[DayTold, ...] = ()


def read_history(path: Path) -> History:
    """A history file, which comes with the program."""
    return convert(tomllib.loads(path.read_text(encoding="utf-8")), History)


def write_history(folder: Path, history: History) -> None:
    """Go through the days of a history in a plan folder and write each of them closed. Raises NotSaved, ValueError."""
    read = read_plan(folder)
    if read.plan is None or read.rules is None:
        raise ValueError("; ".join(str(problem) for problem in read.problems))
    plan, rules = read.plan, read.rules
    told = {each.date: each for each in history.days}
    places = {class_id: _progress(plan, class_id, each) for class_id, each in history.places.items()}
    start = first_state(plan)
    state = State(
        contents=start.contents,
        on_hand=start.on_hand,
        levels=start.levels,
        counted=start.counted,
        progress=places,
    )
    calendar = calendar_for(plan, state, history.starts_on, None)
    for each in calendar.planned:
        if history.starts_on <= each < history.opens_on:
            day = day_on(plan, rules, state, each)
            entries = tuple(_entries(day, told.get(each, DayTold(each))))
            closing = close_day(plan, day, marks_of(entries), state)
            closed_at = datetime.combine(each, time(15, 20))
            write_record(folder, DayRecord(1, each, entries, closed_at=closed_at, opening=state, closing=closing))
            state = closing


def _progress(plan: Plan, class_id: str, where: Where) -> Progress:
    """A class's place, with the lessons its grade is taught before as done."""
    lessons = plan.teaching.get(plan.class_by_id[class_id].grade, ())
    done = lessons[: lessons.index(where.lesson)] if where.lesson in lessons else ()
    return Progress(where.lesson, where.part, lessons_done=done)


def _entries(day: Day, told: DayTold) -> Iterator[book.AnyEntry]:
    """A day as planned, with what the history tells of it."""
    morning, evening = datetime.combine(day.date, time(7, 30)), datetime.combine(day.date, time(15, 5))
    short = {(each.container, each.supply): each for each in told.short}
    for line in day.lines:
        said = short.get((line.container, line.supply))
        if said is None:
            yield book.Packed(at=morning, line=line.key, count=max(line.need, line.in_it))
        else:
            yield book.CameUpShort(at=morning, line=line.key, count=said.count, remedy=said.remedy)
    for task in day.tasks:
        if task.due <= day.date:
            yield book.Ticked(at=morning, matter=task.key)
    yield from _of_visits(day, told, evening)
    for container in day.containers:
        if container.kind == "kit":
            yield book.PutRight(at=evening, container=container.id, done=container.id not in told.not_put_right)
    for matter in day.matters:
        if matter.kind in ("short", "not put right") and not matter.for_class:
            yield book.Ticked(at=evening, matter=matter.key)
    left = {each.container: each.room for each in told.left}
    for container in day.containers:
        if container.id in left or container.place != STORE:
            yield book.Stands(at=evening, container=container.id, place=left.get(container.id, STORE))
    for supply in told.low:
        yield book.FoundLevel(at=evening, supply=supply, level="low")


def _of_visits(day: Day, told: DayTold, at: datetime) -> Iterator[book.AnyEntry]:
    said = {each.class_id: each for each in told.visits}
    sharps = {(each.class_id, each.supply): each for each in told.sharps}
    reported = {(each.class_id, each.supply): each for each in told.reported}
    marks = Marks()
    for visit in day.visits:
        for supply, out in went_out(day, visit.key, marks).items():
            tally = sharps.get((visit.class_id, supply), SharpsTold(visit.class_id, supply, out, out))
            yield book.CountedSharps(at=at, visit=visit.key, supply=supply, out=tally.out, back=tally.back)
            missing = reported.get((visit.class_id, supply))
            if missing is not None:
                case = case_key(day.date, visit.key, supply)
                yield book.ReportedMissing(at=at, case=case, to_whom=missing.to_whom, when=missing.when)
        if visit.class_id in told.unknown:
            continue
        each = said.get(visit.class_id, VisitTold(visit.class_id))
        yield book.Reported(
            at=at,
            visit=visit.key,
            outcome=each.outcome,
            not_done=each.not_done,
            reached_part=each.reached_part,
            absent=each.absent,
            absent_count=each.absent_count,
            absences_known=True,
        )
        if any(line.catch_up_for == visit.class_id for line in day.lines):
            yield book.HandedOut(at=at, visit=visit.key, given=visit.class_id not in told.not_handed_out)
