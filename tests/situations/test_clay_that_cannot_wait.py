"""A holiday that makes wet clay too old, and a box of clay too heavy to lift. Situations T09 and T45.

Numbers are those of the reference school: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import trundle
from tests.days import FRIDAY
from tests.schools import MONDAY, a_class, a_lesson, a_part, an_item, reference_school, reference_supplies

LATER_E = "2026-10-20"
CLASSES = [a_class("4-E", room="21", students=26)]
OWLS = a_lesson(
    "owls",
    [
        a_part("build", [an_item("clay-portion")], tags=["clay"], wait={"at_most_days": 7, "why": "kept wet"}),
        a_part("add wings", [an_item("clay-portion")], tags=["clay"]),
    ],
)


@pytest.fixture
def on_day_e(tmp_path: Path) -> Path:
    """4-E comes on days E: Fri 9 and, after the holiday and a cycle of six days, Tue 20 Oct."""
    return reference_school(
        tmp_path, classes=CLASSES, timetable={"E": {"P1": "4-E"}}, teaching={"4": ["owls"]}, lessons=[OWLS]
    )


def morning(data: Path, on: str) -> dict[str, Any]:
    return trundle("morning", "--json", "--date", on, "--at", "7:41", data=data).fields


def test_on_the_day_it_is_built_the_eleven_days_until_the_wings_are_said(on_day_e: Path) -> None:
    said = [each["what"] for each in morning(on_day_e, FRIDAY.isoformat())["cautions"]]
    (late,) = [each for each in said if "Fri 16 Oct" in each or "7 days" in each]
    assert "Tue 20 Oct" in late


def test_taken_as_told_the_visit_itself_says_it_too(on_day_e: Path) -> None:
    for typed in (["report", "4-E", "--as-planned"], ["close"]):
        assert trundle(*typed, "--date", FRIDAY.isoformat(), "--at", "15:05", data=on_day_e).status in (0, 1)
    said = [each["what"] for each in morning(on_day_e, LATER_E)["cautions"]]
    assert any("Fri 16 Oct" in each or "7 days" in each for each in said)


def test_a_visit_before_the_clay_is_too_old_is_not_warned_of(tmp_path: Path) -> None:
    timetable = {"E": {"P1": "4-E"}, "A": {"P1": "4-E"}}  # Fri 9 and Wed 14
    data = reference_school(tmp_path, classes=CLASSES, timetable=timetable, teaching={"4": ["owls"]}, lessons=[OWLS])
    trundle("report", "4-E", "--outcome", "not-taught", "--date", MONDAY.isoformat(), "--at", "15:05", data=data)
    said = [each["what"] for each in morning(data, FRIDAY.isoformat())["cautions"]]
    assert not [each for each in said if "Fri 16 Oct" in each]


def test_a_box_of_clay_over_eleven_kilograms_is_two_pails_that_tick_apart(tmp_path: Path) -> None:
    """T45: 29 portions of 0.34 kg are 15 and 14 in two pails of 5.1 and 4.8 kg."""
    weighed = {"clay-portion": {"grams": 340}, "clay-mat": {"grams": 62}}
    supplies = [{**each, **weighed.get(each["id"], {})} for each in reference_supplies()]
    heavy = a_lesson(
        "pinch-owls",
        [a_part("pinch", [an_item("clay-portion", into="box"), an_item("clay-mat", into="box")], tags=["clay"])],
    )
    data = reference_school(
        tmp_path,
        supplies=supplies,
        classes=[a_class("4-D", room="21", students=26)],
        timetable={"A": {"P1": "4-D"}},
        teaching={"4": ["pinch-owls"]},
        lessons=[heavy],
    )
    pails = [each for each in morning(data, MONDAY.isoformat())["lines"] if each["supply"] == "clay-portion"]
    assert [each["need"] for each in pails] == [15, 14]
    first = str(pails[0]["number"])
    assert trundle("tick", first, "--date", MONDAY.isoformat(), "--at", "7:41", data=data).status == 0
    states = [each["state"] for each in morning(data, MONDAY.isoformat())["lines"] if each["supply"] == "clay-portion"]
    assert states == ["packed", "open"]
    trundle("undo", "--date", MONDAY.isoformat(), "--at", "7:42", data=data)
    states = [each["state"] for each in morning(data, MONDAY.isoformat())["lines"] if each["supply"] == "clay-portion"]
    assert states == ["open", "open"]
