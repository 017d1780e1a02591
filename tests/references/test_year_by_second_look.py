"""A whole year's lines and preparation against a plain, slow second computation that shares no code with the product.

``second_look`` reads the same plan files with ``tomllib`` and works in fractions. Both are told the same of every
visit, drawn by chance: what each class reached, who missed it, what was handed out, days lost, bells late, classes
away. What containers hold and what is in stock is left out: no need depends on it.

SECOND_LOOK_SCHOOLS, SECOND_LOOK_DAYS and SECOND_LOOK_YEARS ask for more schools, days in each, and years. Of a year
visits and places are held together on every day, lines and preparation on one in three; SECOND_LOOK_EVERY=1 on all.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path
from random import Random
from shutil import copytree
from typing import Any

import pytest
from msgspec import structs

import checklists
from checklists.daybook.closing import close_day
from checklists.daybook.entries import AnyEntry, Changed, HandedOut, Reported
from checklists.daybook.marks import marks_of
from checklists.daybook.opening import first_state
from checklists.daybook.state import State
from checklists.files.plan_folder import read_plan
from checklists.lines.day import day_on
from checklists.lines.records import Day
from tests.references.random_schools import write_random_school
from tests.references.second_look.calendar import planned_days
from tests.references.second_look.lines import Lines, lines_for
from tests.references.second_look.places import after_report, places_at_the_start
from tests.references.second_look.plan import Table, read_school, students_of
from tests.references.second_look.tasks import Tasks, tasks_for
from tests.references.second_look.visits import visits_on

PACKAGE = Path(checklists.__file__).parent
BUILT_IN, DEMO = PACKAGE / "rules" / "builtin", PACKAGE / "demo" / "school"
SCHOOLS = int(os.environ.get("SECOND_LOOK_SCHOOLS", "6"))
DAYS = int(os.environ.get("SECOND_LOOK_DAYS", "30"))
EVERY = int(os.environ.get("SECOND_LOOK_EVERY", "3"))
YEARS = int(os.environ.get("SECOND_LOOK_YEARS", "1"))
FIRST_DAYS = 6
"""On the first days of the year what is due so many days before a visit would have been due in the holidays."""
ENOUGH = 12
"""So many differences tell what is the matter; the days after one are different for that reason alone."""


def a_change(chance: Random, plan: Table) -> Table:
    """What makes one day in seven not as planned."""
    drawn = chance.random()
    if drawn < 0.03:
        return {"no_school": True}
    if drawn < 0.07:
        return {"bells": chance.choice(plan["school"]["bells"])["id"]}
    if drawn < 0.14:
        return {"away": (chance.choice(sorted(plan["classes"])),)}
    return {}


def a_report(chance: Random, plan: Table, visit: Table, *, may_be_untold: bool) -> Table:
    """What became of a visit: outcome, who was absent by number, by count or nobody could say, catch-up handed out."""
    outcomes = {"done": 14, "done except": 3, "about half": 2, "not taught": 1, "went further": 2, "unknown": 2}
    if not may_be_untold:
        outcomes.pop("unknown")
    outcome = chance.choices(list(outcomes), list(outcomes.values()))[0]
    children = max(1, students_of(plan["classes"][visit["class"]]))
    told: Table = {"outcome": outcome, "not_done": 0, "reached": None, "absent": [], "count": 0, "known": True}
    if outcome == "done except":
        told["not_done"] = chance.randint(1, min(children, 12))
    if outcome == "went further":
        told["reached"] = (visit["steps"][0][1] if visit["steps"] else 1) + chance.randint(0, 2)
    drawn = chance.random()
    if drawn < 0.45:
        told["absent"] = sorted(chance.sample(range(1, children + 1), min(children, chance.randint(1, 3))))
    if 0.4 < drawn < 0.5:
        told["count"] = chance.randint(1, 3)
    if 0.5 < drawn < 0.6:
        told["known"] = False
    came = outcome not in ("not taught", "unknown")
    return {**told, "given": chance.choice([True, True, False, None]) if came else None}


def as_entries(visit: str, told: Table, day: date) -> Iterator[AnyEntry]:
    """The same for the product."""
    at = datetime.combine(day, time(15))
    yield Reported(
        at=at,
        visit=visit,
        outcome=told["outcome"],
        not_done=told["not_done"],
        reached_part=told["reached"],
        absent=tuple(told["absent"]),
        absent_count=told["count"],
        absences_known=told["known"],
    )
    if told["given"] is not None:
        yield HandedOut(at=at, visit=visit, given=told["given"])


# ------------------------------------------------------------------------------------------------------- held together


def lines_of_product(day: Day) -> Lines:
    """A line that is split into pails, as too heavy for its box, is one line here."""
    found: Lines = {}
    for line in day.lines:
        key = line.container, line.supply, line.catch_up_for
        before = found[key]["need"] if key in found else 0
        found[key] = {
            "need": before + line.need,
            "visits": list(line.visits),
            "critical": line.critical,
            "blocked": bool(line.forbidden),
        }
    return found


def tasks_of_product(day: Day) -> Tasks:
    """What is prepared for today's parts; the key of a task says class, lesson and part."""
    steps = {(visit.class_id, step.lesson, step.part) for visit in day.visits for step in visit.steps}
    found: Tasks = {}
    for task in day.tasks:
        _, class_id, lesson, part, *_ = [*task.key.split("/"), "", "", "0", ""]
        this = class_id, lesson, int(part) if part.isdigit() else 0
        if task.for_date == day.date and this in steps:
            found[this] = sorted([*found.get(this, []), (task.due, task.minutes)])
    return found


def said_of_line(line: Table | None) -> Any:
    return line and {each: line[each] for each in ("need", "visits", "critical", "blocked")}


def differences(day: date, product: dict[Any, Any], second: dict[Any, Any]) -> list[str]:
    return [
        f"{day} {key}: product {product.get(key)}, second computation {second.get(key)}"
        for key in dict.fromkeys([*product, *second])
        if product.get(key) != second.get(key)
    ]


def standing_in_product(state: State, classes: list[str]) -> Table:
    """Class -> its place, what it is owed, what is not finished."""
    found: Table = {}
    for class_id in classes:
        place = state.progress.get(class_id)
        owed = state.owed.get(class_id, ())
        found[class_id] = (
            place and (place.lesson, place.part, place.taught_on),
            sorted((each.lesson, each.part, each.numbers, each.count, each.unknown) for each in owed),
            [(each.lesson, each.part, each.count) for each in state.unfinished.get(class_id, ())],
        )
    return found


def standing(places: dict[str, Table], known: Table) -> Table:
    """The same. A class that was not visited yet has no place on record in the product."""
    return {
        class_id: (
            (place["lesson"], place["part"], place["taught on"]) if known[class_id][0] else None,
            sorted(
                (each["lesson"], each["part"], tuple(each["numbers"]), each["count"], each["unknown"])
                for each in place["owed"]
            ),
            [(each["lesson"], each["part"], each["count"]) for each in place["unfinished"]],
        )
        for class_id, place in places.items()
    }


def go_through(
    folder: Path, seed: int, days: int | None = None, *, may_be_untold: bool, every: int = 1
) -> tuple[int, list[str]]:
    """How many lines were held together on how many days, and every difference, until there are enough."""
    chance = Random(seed)
    read = read_plan(folder)
    assert read.plan is not None, read.problems
    assert read.rules is not None, read.problems
    state = structs.replace(first_state(read.plan), contents={})
    plan = read_school(folder, BUILT_IN)
    places = places_at_the_start(plan)
    lost: set[date] = set()
    record = {"lost": lost, "announced": {}}
    compared, found = 0, list[str]()
    for n, day in enumerate(planned_days(plan)[:days]):
        change = a_change(chance, plan)
        changed = Changed(at=datetime.combine(day, time(6)), **change) if change else None
        if change.get("no_school"):
            lost.add(day)
        theirs = day_on(read.plan, read.rules, state, day, changed)
        visits = visits_on(plan, places, day, change, record)
        planned = {
            each.key: ([(step.lesson, step.part) for step in each.steps], each.instead) for each in theirs.visits
        }
        found += differences(day, planned, {each["key"]: (each["steps"], each["instead"]) for each in visits})
        if (n + seed) % every == 0:
            ours = {key: said_of_line(line) for key, line in lines_for(plan, visits, day).items()}
            found += differences(day, lines_of_product(theirs), ours)
            compared += len(ours)
            if n >= FIRST_DAYS:
                found += differences(day, tasks_of_product(theirs), tasks_for(plan, visits, day, record))
        entries: list[AnyEntry] = [changed] if changed else []
        for visit in visits:
            once = sum(each["class"] == visit["class"] for each in visits) == 1
            told = a_report(chance, plan, visit, may_be_untold=may_be_untold and once)
            entries += as_entries(visit["key"], told, day)
            places = {**places, visit["class"]: after_report(plan, places[visit["class"]], visit, told, day)}
        state = structs.replace(close_day(read.plan, theirs, marks_of(entries), state), contents={})
        known = standing_in_product(state, list(places))
        found += differences(day, known, standing(places, known))
        if len(found) >= ENOUGH:
            break
    return compared, found


@pytest.mark.parametrize("seed", range(1, YEARS + 1))
def test_every_line_of_the_demo_schools_year_is_what_a_second_computation_finds(seed: int, tmp_path: Path) -> None:
    copytree(DEMO, tmp_path / "school")
    compared, found = go_through(tmp_path / "school", seed, may_be_untold=seed % 2 == 0, every=EVERY)
    assert not found, "\n".join(found)
    assert compared > 8_000 // EVERY


@pytest.mark.parametrize("seed", range(SCHOOLS))
def test_every_line_of_a_school_drawn_by_chance_is_what_a_second_computation_finds(seed: int, tmp_path: Path) -> None:
    compared, found = go_through(write_random_school(tmp_path, seed), seed, DAYS, may_be_untold=seed % 3 == 2)
    assert not found, "\n".join(found)
    assert compared > 100
