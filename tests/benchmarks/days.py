"""Days of the demo school: one day's list, and a whole year taught and closed day by day, on the disk."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Iterator
from datetime import date, datetime
from datetime import time as clock_time
from pathlib import Path

from checklists.book import Book
from checklists.daybook.entries import AnyEntry, CountedSharps, HandedOut, Packed, PutRight, Reported, Ticked
from checklists.daybook.state import State
from checklists.demo import SCHOOL
from checklists.lines.day import calendar_for, day_on
from checklists.lines.quantities import round_up
from checklists.lines.records import Day
from tests.benchmarks.measuring import Result, median
from tests.benchmarks.schools import sample_school, school_without_history

TURNS = 31
MILESTONES = (60, 120, 181)


def build_one_day(folder: Path) -> Result:
    """The day the demo school opens on, built anew each time, against parsing its supplies file; processor time."""
    on = sample_school(folder)
    text = (SCHOOL / "supplies.toml").read_text(encoding="utf-8")
    ours, yard = [], []
    with Book.open(folder, write=False, today=on) as book:
        opening = book.opening(on)
        for _ in range(TURNS):
            started = time.thread_time()
            day_on(book.plan, book.rules, opening, on)
            ours.append((time.thread_time() - started) * 1e3)
            started = time.thread_time()
            tomllib.loads(text)
            yard.append((time.thread_time() - started) * 1e3)
    return Result(
        "one day of the demo school built",
        f"{median(ours):.1f} ms (its supplies file parsed by tomllib: {median(yard):.1f} ms)",
        f"{median([a / b for a, b in zip(ours, yard, strict=True)]):.2f}",
        "20 ms (5 ms)",
    )


def teach_a_year(folder: Path) -> list[Result]:
    """Every school day packed, reported and closed through the book; the time so far after some numbers of days."""
    school_without_history(folder)
    text = (SCHOOL / "supplies.toml").read_text(encoding="utf-8")
    started = time.perf_counter()
    tomllib.loads(text)
    yard = time.perf_counter() - started
    taken: dict[int, float] = {}
    visits = lines = 0
    started = time.perf_counter()
    with Book.open(folder) as book:
        first = book.plan.school.first_day
        days = [each for each in calendar_for(book.plan, State(), first, None).planned if each >= first]
        for number, each in enumerate(days, start=1):
            book.today = each
            day = book.day(each)
            visits, lines = visits + len(day.visits), lines + len(day.lines)
            entries = tuple(all_went_as_planned(day))
            if entries:
                book.do(each, *entries)
            book.close(each, at(each, 15))
            if number in (*MILESTONES, len(days)):
                taken[number] = time.perf_counter() - started
    whole = taken[len(days)]
    results = [
        Result(
            f"a year of {len(days)} days with {visits} visits and {lines} lines, each day packed, reported and closed",
            f"{whole:.1f} s, {whole / len(days) * 1e3:.0f} ms a day",
            f"{whole / yard:.0f} (its supplies file parsed)",
            "15 s (5 s)",
        )
    ]
    base = taken[MILESTONES[0]] / MILESTONES[0]
    for number in MILESTONES[1:]:
        if number in taken:
            a_day = taken[number] / number
            what = f"a day's share after {number} days to that after {MILESTONES[0]}"
            results.append(Result(what, f"{taken[number]:.1f} s", f"{a_day / base:.2f}", "1.5 (1.1)"))
    return results


def at(day: date, hour: int) -> datetime:
    return datetime.combine(day, clock_time(hour))


def all_went_as_planned(day: Day) -> Iterator[AnyEntry]:
    """Everything packed and prepared, every visit done with nobody missing, all sharps back, all put right."""
    morning, evening = at(day.date, 7), at(day.date, 15)
    for line in day.lines:
        yield Packed(at=morning, line=line.key, count=max(line.need, line.in_it))
    for task in day.tasks:
        if task.due <= day.date:
            yield Ticked(at=morning, matter=task.key)
    for visit in day.visits:
        for line in day.lines:
            out = round_up(sum(use.amount for use in line.uses if use.visit == visit.key)) if line.counted else 0
            if out:
                yield CountedSharps(at=evening, visit=visit.key, supply=line.supply, out=out, back=out)
        yield Reported(at=evening, visit=visit.key, outcome="done", absences_known=True)
        if any(line.catch_up_for == visit.class_id for line in day.lines):
            yield HandedOut(at=evening, visit=visit.key, given=True)
    for container in day.containers:
        if container.kind == "kit":
            yield PutRight(at=evening, container=container.id, done=True)
