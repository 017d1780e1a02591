"""What looks wrong about rules though they can be used: said as notes. Common practice, no source."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.own_rules.doubts import doubts_about
from checklists.own_rules.off import off_entries, say_off
from tests.days import opened
from tests.schools import MONDAY, small_school


def doubts(folder: Path, *when: str, off: list[dict[str, Any]] | None = None, **more: Any) -> dict[str, str]:
    rule = {"id": "own", "title": "Own", "when": list(when), "because": "why", "add": [{"supply": "yarn-ball"}], **more}
    book = opened(small_school(folder, rules={"rules": [rule], "off": off or []}))
    found = doubts_about(book, MONDAY)
    assert all(each.level == "note" for each in found)
    return {each.entry: f"{each.what} {each.to_do}" for each in found}


@pytest.mark.parametrize(
    ("when", "why"),
    [
        (["sink", "not sink"], "contradict each other"),
        (["grade at most 1", "grade at least 3"], "contradict each other"),
        (["grade above 2", "grade below 3"], "contradict each other"),
        (["students is 20", "students above 20"], "contradict each other"),
        (["class is 3-B", "class is 3-K"], "no class is both 3-B and 3-K"),
        (["lesson is paper-hills", "lesson is yarn-birds"], "no lesson is both"),
        (["some item is glitter", "no item is glitter"], "contrary"),
        (["glaze"], 'no part is tagged "glaze"'),
        (["need one-handed"], "no class has the need one-handed"),
        (["avoid latex"], "no class avoids latex"),
        (["item is lead-glaze"], "no supply is lead-glaze"),
        (["grade is 5"], "no class is of such a grade"),
    ],
)
def test_a_rule_that_can_never_apply_is_said_with_why(tmp_path: Path, when: list[str], why: str) -> None:
    found = doubts(tmp_path, *when)
    assert list(found) == ["rule own"]
    assert "It can never apply" in found["rule own"]
    assert why in found["rule own"]


@pytest.mark.parametrize(
    "when",
    [
        [],
        ["not sink"],
        ["sink"],
        ["grade at least 3", "grade at most 3"],
        ["not glaze"],
        ["class is 3-K"],
        ["part is 2"],
    ],
)
def test_a_rule_that_adds_something_somewhere_is_not_doubted(tmp_path: Path, when: list[str]) -> None:
    more: dict[str, Any] = {} if when != ["not sink"] else {"on": False}  # both rooms have one
    assert doubts(tmp_path, *when, **more) == {}


def test_a_rule_that_applies_to_no_visit_of_the_year_is_said(tmp_path: Path) -> None:
    assert "applies to no visit of the year" in doubts(tmp_path, "students at least 300")["rule own"]


def test_a_rule_that_asks_for_what_is_there_anyway_is_said(tmp_path: Path) -> None:
    found = doubts(tmp_path, "lesson is yarn-birds", add=[{"supply": "yarn-ball", "count": 3}])
    assert "changes no list of the year" in found["rule own"]


def test_a_rule_that_only_gives_a_tag_or_is_off_is_not_doubted(tmp_path: Path) -> None:
    assert doubts(tmp_path / "tag", "sink", gives=["by the sink"], add=[]) == {}
    assert doubts(tmp_path / "off", "students at least 300", off=[{"rule": "own"}]) == {}


def test_a_switching_off_that_is_over_is_said_and_one_that_lasts_is_not(tmp_path: Path) -> None:
    off = [{"rule": "own", "until": date(2026, 10, 2)}, {"rule": "choice-bin", "until": date(2026, 10, 5)}]
    found = doubts(tmp_path, "class is 3-B", off=off)
    assert list(found) == ["off own"]
    assert "until Fri 2 Oct 2026" in found["off own"]


def test_everything_that_is_off_is_listed_with_for_whom_since_when_and_why(tmp_path: Path) -> None:
    off: list[dict[str, Any]] = [
        {"rule": "count-sharps", "class_id": "3-B", "reason": "the aide counts", "since": date(2026, 9, 30)},
        {"rule": "choice-bin", "lesson": "paper-hills", "until": date(2026, 10, 2)},
    ]
    book = opened(small_school(tmp_path, rules={"off": off}))
    hers = [each for each in off_entries(book, MONDAY) if not each.comes_off]
    assert [(each.entry.rule, each.for_whom, each.safety, each.is_over) for each in hers] == [
        ("count-sharps", "class 3-B", True, False),
        ("choice-bin", "the lesson Paper Hills", False, True),
    ]
    assert say_off(hers[0]).endswith("off since Wed 30 Sep 2026 for class 3-B; the aide counts")
    assert "over: it applies again" in say_off(hers[1])
    assert {each.entry.rule for each in off_entries(book, MONDAY) if each.comes_off} == {
        each.id for each in book.rules.rules if not each.on
    }
