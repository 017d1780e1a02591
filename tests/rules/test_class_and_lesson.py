"""Rules that speak of one class or one lesson. Common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.files.plan_folder import read_plan
from tests.days import day_of, lines_of
from tests.schools import small_school


def with_rule(folder: Path, *when: str) -> Path:
    rule = {"id": "own", "title": "Own", "when": list(when), "because": "why", "add": [{"supply": "yarn-ball"}]}
    return small_school(folder, rules={"rules": [rule]})


@pytest.mark.parametrize(
    ("when", "visits"),
    [
        (["class is 3-B"], [("P1 3-B",)]),
        (["not class is 3-B"], [("P2 3-K",)]),
        (["lesson is paper-hills"], [("P1 3-B", "P2 3-K")]),
        (["not lesson is paper-hills"], []),
        (["class is 3-B", "lesson is yarn-birds"], []),
    ],
)
def test_a_rule_for_one_class_or_one_lesson_counts_there_and_nowhere_else(
    tmp_path: Path, when: list[str], visits: list[tuple[str, ...]]
) -> None:
    day = day_of(with_rule(tmp_path, *when))
    assert [line.visits for line in lines_of(day, "yarn-ball")] == visits


@pytest.mark.parametrize(
    ("when", "fact"),
    [
        ("class is 3-B", "It is 3-B"),
        ("not class is 3-K", "It is not 3-K"),
        ("lesson is paper-hills", "The lesson is Paper Hills"),
    ],
)
def test_why_says_the_class_and_the_lesson(tmp_path: Path, when: str, fact: str) -> None:
    (line,) = lines_of(day_of(with_rule(tmp_path, when)), "yarn-ball")
    assert fact in {fact for because in line.because for fact in because.facts}


@pytest.mark.parametrize(
    ("when", "what", "to_do"),
    [
        ("class is 3-C", 'unknown class "3-C"', "Did you mean"),
        ("lesson is paper-hill", 'unknown lesson "paper-hill"', 'Did you mean "paper-hills"?'),
        ("not lesson is yarn-bird", 'unknown lesson "yarn-bird"', 'Did you mean "yarn-birds"?'),
    ],
)
def test_a_class_or_lesson_that_is_not_there_is_told_with_the_nearest(
    tmp_path: Path, when: str, what: str, to_do: str
) -> None:
    (problem,) = read_plan(with_rule(tmp_path, when)).problems
    assert (problem.entry, problem.what) == ("rule own", what)
    assert to_do in problem.to_do
