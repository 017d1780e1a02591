"""The README's list of JSON fields is the one that scripts get, and its examples of answers are understood."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.commandline.running import on_monday
from tests.schools import reference_school

README = Path(__file__).parents[2] / "README.md"
ALWAYS = {"format", "page", "date"}


def listed(page: str) -> set[str]:
    """The fields of a page in the README's table: what stands between its first backticks."""
    row = next(each for each in README.read_text(encoding="utf-8").splitlines() if each.startswith(f"| `{page}` |"))
    return set(re.findall("`([^`]*)`", row)[1].split())


@pytest.mark.parametrize("page", ["morning", "route", "sheet"])
def test_the_fields_of_a_page_are_those_listed(page: str, tmp_path: Path) -> None:
    assert set(on_monday(page, "--json", data=reference_school(tmp_path)).fields) - ALWAYS == listed(page)


def test_the_answer_for_what_is_left_ahead_is_the_one_shown(tmp_path: Path) -> None:
    shown = next(
        row for row in README.read_text(encoding="utf-8").splitlines() if row.startswith('trundle answer "leave ahead')
    )
    asked, said = re.findall('"([^"]*)"', shown)
    two_slots = {"cart": {"half_slots": 4, "standing": {"scissors": 30}}}
    data = reference_school(tmp_path, school=two_slots)  # Box K is left ahead in Room 4, common practice
    ran = on_monday("answer", asked.replace("box 3", "box k"), said, data=data)
    assert (ran.status, "Box K in Room 4" in ran.out) == (0, True)
