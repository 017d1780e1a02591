"""The rules: a thousand of them on the visits of a district, and one day of the demo school, nothing remembered."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from pathlib import Path

from checklists.book import Book
from checklists.demo import SCHOOL
from checklists.lines.day import day_on
from checklists.rules.fixpoint import derive
from tests.benchmarks.measuring import Result
from tests.benchmarks.schools import sample_school
from tests.rules.many_rules import judge_each, rules_of_studios, visits_of_schools

TURNS = 31
SCHOOLS, FEW_SCHOOLS = 40, 5
STUDIOS, FEW_STUDIOS = 100, 10
"""Ten rules each."""


def judge_a_district(folder: Path) -> list[Result]:
    """Forty schools against five, and a thousand rules against the hundred that concern the visits, in turns."""
    many, few = rules_of_studios(STUDIOS), rules_of_studios(FEW_STUDIOS)
    district, five = visits_of_schools(SCHOOLS, studios=STUDIOS), visits_of_schools(FEW_SCHOOLS, studios=STUDIOS)
    concerned = visits_of_schools(FEW_SCHOOLS, studios=FEW_STUDIOS)
    least = least_times(
        {
            "yard": parse_supplies(),
            "district": lambda: judge_each(many, district, STUDIOS),
            "five": lambda: judge_each(many, five, STUDIOS),
            "many rules": lambda: judge_each(many, concerned, STUDIOS),
            "few rules": lambda: judge_each(few, concerned, STUDIOS),
        }
    )
    each = least["district"] / len(district) * 1e3
    return [
        Result(
            f"1,000 rules on the {len(district)} visits of {SCHOOLS} schools",
            f"{least['district']:.0f} ms, {each:.0f} µs a visit (a supplies file parsed: {least['yard']:.1f} ms)",
            f"{least['district'] / least['yard']:.1f}",
            "20 (10)",
        ),
        Result(
            f"the same, a visit's share with {SCHOOLS} schools to that with {FEW_SCHOOLS}",
            "",
            f"{least['district'] / least['five'] / SCHOOLS * FEW_SCHOOLS:.2f}",
            "1.3 (1.0)",
        ),
        Result(
            "1,000 rules to the 100 of them that concern the visits",
            f"{least['many rules']:.1f} ms to {least['few rules']:.1f} ms",
            f"{least['many rules'] / least['few rules']:.2f}",
            "1.3 (1.0)",
        ),
    ]


def judge_a_day(folder: Path) -> Result:
    """The day the demo school opens on, with nothing remembered of what follows from which facts."""
    on = sample_school(folder)
    with Book.open(folder, write=False, today=on) as book:
        opening = book.opening(on)

        def build() -> None:
            derive.cache_clear()
            day_on(book.plan, book.rules, opening, on)

        least = least_times({"yard": parse_supplies(), "day": build})
        rules = len(book.rules.clauses)
    return Result(
        f"one day of the demo school built for the first time, {rules} rules",
        f"{least['day']:.1f} ms at least (its supplies file parsed by tomllib: {least['yard']:.1f} ms)",
        f"{least['day'] / least['yard']:.2f}",
        "20 ms (5 ms)",
    )


def measure_rules(folder: Path) -> list[Result]:
    return [*judge_a_district(folder), judge_a_day(folder)]


def parse_supplies() -> Callable[[], object]:
    text = (SCHOOL / "supplies.toml").read_text(encoding="utf-8")
    return lambda: tomllib.loads(text)


def least_times(measured: dict[str, Callable[[], object]], turns: int = TURNS) -> dict[str, float]:
    """The least milliseconds of each, run in turns. Processor time: nothing here waits for a disk or a screen."""
    least = dict.fromkeys(measured, float("inf"))
    for _ in range(turns):
        for name, do in measured.items():
            started = time.thread_time()
            do()
            least[name] = min(least[name], (time.thread_time() - started) * 1e3)
    return least
