"""The best route of a day: of a hundred days drawn by chance, and from the list of a day to the route that is told."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from random import Random

from msgspec import structs

from checklists.book import Book
from checklists.daybook.marks import Marks
from checklists.daybook.state import Progress, State
from checklists.lines.day import day_on
from checklists.route.day_route import route_of
from checklists.route.problem import RouteProblem
from checklists.route.solve import solve
from checklists.words import clock
from tests.benchmarks.measuring import Result, median, quantile
from tests.references.random_days_under_way import a_day_under_way
from tests.references.random_routes import a_random_day
from tests.references.test_route_by_solver import best_by_the_solver
from tests.schools import (
    MONDAY,
    a_class,
    a_kit,
    a_lesson,
    a_part,
    a_period,
    a_room,
    a_supply,
    an_item,
    write_evening,
    write_plan,
)

DAYS = 100
VISITS, CONTAINERS = 10, 14
BUDGET = "50 ms (20 ms)"

Doing = Callable[[], object]


def measure_routes(folder: Path) -> list[Result]:
    """Each of the days in turns by the solver, and by everything that is measured; processor time of one process."""
    chance = Random(1)
    problems = [a_random_day(chance, VISITS, CONTAINERS) for _ in range(DAYS)]
    measured: dict[str, list[Doing]] = {
        "the best route": [partial(solve, each) for each in problems],
        "a route under way after a change, as like the one before as it can be": list(changed_on_the_way(chance)),
        "from a day's list to its route": list(routes_of_a_school(folder, chance)),
    }
    yard, times = times_in_turns(problems, measured)
    what = f"of {DAYS} days with {VISITS} visits and up to {CONTAINERS} containers"
    return [as_row(f"{name}, {what}", found, yard) for name, found in times.items()]


def times_in_turns(
    problems: Sequence[RouteProblem], measured: dict[str, list[Doing]]
) -> tuple[list[float], dict[str, list[float]]]:
    """Milliseconds of the independent solver for each problem, and of each thing that is measured."""
    yard: list[float] = []
    times: dict[str, list[float]] = {name: [] for name in measured}
    for n, problem in enumerate(problems):
        yard.append(milliseconds(partial(best_by_the_solver, problem)))
        for name, doing in measured.items():
            times[name].append(milliseconds(doing[n]))
    return yard, times


def milliseconds(do: Doing) -> float:
    started = time.thread_time()
    do()
    return (time.thread_time() - started) * 1e3


def as_row(what: str, ours: Sequence[float], yard: Sequence[float]) -> Result:
    """The ratio is that of the sums: a single day is too short to be held against another."""
    return Result(
        what,
        f"{median(ours):.1f} ms, 99 of 100 within {quantile(ours, 0.99):.1f} ms",
        f"{sum(ours) / sum(yard):.3f} (clingo, the cost alone: {median(yard):.0f} ms)",
        BUDGET,
    )


def changed_on_the_way(chance: Random) -> Iterator[Doing]:
    """Days that have begun and are told otherwise: a visit falls out, is in another room, needs something else."""
    found = 0
    while found < DAYS:
        under_way = a_day_under_way(chance, VISITS, CONTAINERS)
        if under_way is not None:
            found += 1
            yield partial(solve, *under_way)


# ------------------------------------------------------------------------------------------------ a full school

GRADES = ("K", "1", "2", "3", "4", "5")
KITS = CONTAINERS - len(GRADES)
CYCLE = 20
CLASSES = 30
ROOMS = 12


def routes_of_a_school(folder: Path, chance: Random) -> Iterator[Doing]:
    """The route of each of so many days of a school with a box for each grade and eight kits, on carts of all sizes."""
    school_of_ten_visits(folder, chance)
    with Book.open(folder, write=False, today=MONDAY) as book:
        opening = book.opening(MONDAY)
        weekdays = [each for n in range(4 * CYCLE) if (each := MONDAY + timedelta(n)).weekday() < 5]
        days = [day_on(book.plan, book.rules, opening, each) for each in weekdays[:CYCLE]]
        for n in range(DAYS):
            cart = structs.replace(book.plan.school.cart, half_slots=chance.choice((6, 8, 10)))
            plan = structs.replace(book.plan, school=structs.replace(book.plan.school, cart=cart))
            day = days[n % CYCLE]
            assert len(day.visits) == VISITS
            yield partial(route_of, plan, day, Marks())


def school_of_ten_visits(folder: Path, chance: Random) -> None:
    """Ten periods a day, a lunch in the middle; each class has one of its grade's lessons, with up to two kits."""
    kits = [f"kit-{n}" for n in range(KITS)]
    lessons = {
        grade: [a_lesson_with(f"lesson-{grade}-{n}", chance.sample(kits, chance.choice((0, 1, 2)))) for n in range(5)]
        for grade in GRADES
    }
    classes = [
        a_class(f"{GRADES[n % len(GRADES)]}-{n}", room=str(chance.randint(1, ROOMS)), students=22)
        for n in range(CLASSES)
    ]
    periods = [f"P{n}" for n in range(1, VISITS + 1)]
    starts = [480 + 35 * n + (40 if n >= VISITS // 2 else 0) for n in range(VISITS)]
    places = ["store", *(str(n) for n in range(1, ROOMS + 1))]
    write_plan(
        folder,
        school={
            "name": "School of Ten Visits",
            "first_day": date(2026, 8, 31),
            "last_day": date(2027, 6, 11),
            "bells": [
                {
                    "id": "regular",
                    "periods": [
                        a_period(name, clock(start), clock(start + chance.choice((30, 32, 35))))
                        for name, start in zip(periods, starts, strict=True)
                    ],
                    "breaks": [{"name": "planning", "start": clock(starts[4] + 35), "end": clock(starts[5])}],
                }
            ],
            "rotation": {"kind": "cycle", "days": [f"D{n}" for n in range(CYCLE)], "lost_day": "fixed"},
            "rooms": [a_room(each) for each in places[1:]],
            "walks": [
                {"between": [one, other], "minutes": chance.randint(1, 4)}
                for n, one in enumerate(places)
                for other in places[n + 1 :]
            ],
        },
        classes=classes,
        timetable={
            f"D{n}": dict(zip(periods, chance.sample([each["id"] for each in classes], VISITS), strict=True))
            for n in range(CYCLE)
        },
        teaching={grade: [each["id"] for each in taught] for grade, taught in lessons.items()},
        supplies=[a_supply("paper", kind="paper"), *(a_supply(f"thing-of-{kit}", kind="tool") for kit in kits)],
        boxes=[{"grade": grade} for grade in GRADES],
        kits=[a_kit(kit, {f"thing-of-{kit}": 30}, may_be_left=chance.random() < 0.7) for kit in kits],
        lessons=[each for taught in lessons.values() for each in taught],
    )
    progress = {each["id"]: Progress(lesson=chance.choice(lessons[each["grade"]])["id"], part=1) for each in classes}
    write_evening(folder, MONDAY - timedelta(3), State(progress=progress))


def a_lesson_with(ident: str, kits: Sequence[str]) -> dict[str, object]:
    items = [an_item("paper"), *(an_item(f"thing-of-{kit}", critical=True) for kit in kits)]
    return a_lesson(ident, [a_part("make it", items)], kits=list(kits))
