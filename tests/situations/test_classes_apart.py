"""Two classes of a grade at different parts: one box serves both, and nothing is changed by itself.

Common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.state import Progress, State
from tests.commandline.running import trundle
from tests.days import THURSDAY_22, line_of, lines_of, opened, visit_of
from tests.schools import a_lesson, a_part, an_item, reference_school, write_evening, write_toml

WEDNESDAY_21 = date(2026, 10, 21)


@pytest.fixture
def apart(tmp_path: Path) -> Path:
    """Thu 22 Oct, a day A: 3-B is at part 2 of Burlap Birds, 3-K at part 4, which is mounted on card."""
    folder = reference_school(tmp_path, school={"habits": {"filler": "leaf-rubbings"}})
    sew = [an_item("yarn-ball", critical=True), an_item("blunt-needle", critical=True)]
    birds = a_lesson(
        "burlap-birds",
        [
            a_part("draw the bird", [an_item("white-9x12")]),
            a_part("stitch the outline", sew, tags=["stitching"]),
            a_part("fill the wings", sew, tags=["stitching"], optional=True),
            a_part("mount", [an_item("backing-12x18", critical=True), an_item("glue-stick")]),
        ],
        kits=["stitching"],
    )
    write_toml(folder / "lessons" / "burlap-birds.toml", birds)
    places = {"3-B": Progress("burlap-birds", 2), "3-K": Progress("burlap-birds", 4)}
    write_evening(folder, WEDNESDAY_21, State(progress=places))
    return folder


def a_day(folder: Path) -> Book:
    return opened(folder, THURSDAY_22)


def test_the_box_holds_both_parts_each_for_its_own_visit(apart: Path) -> None:
    day = a_day(apart).day(THURSDAY_22)
    slow, fast = visit_of(day, "3-B").key, visit_of(day, "3-K").key
    in_box = {line.supply: (line.need, line.visits) for line in day.lines if line.container == "box-3"}
    assert in_box["yarn-ball"] == (24 + 3, (slow,))
    assert in_box["backing-12x18"] == (25 + 3, (fast,))
    assert line_of(day, "blunt-needle").visits == (slow,)


def test_both_ways_to_meet_are_told_and_none_is_taken(apart: Path) -> None:
    book = a_day(apart)
    said = [each.what for each in book.day(THURSDAY_22).cautions if "/apart/" in each.key]
    assert said == [
        "3-B is at part 2, 3-K at part 4: Box 3 serves both."
        " 3-B can leave out part 3; 3-K can have Leaf Rubbings meanwhile."
    ]
    steps = {visit.class_id: visit.steps[0].part for visit in book.day(THURSDAY_22).visits if visit.grade == "3"}
    assert steps == {"3-B": 2, "3-K": 4}


def test_the_printed_morning_says_so(apart: Path) -> None:
    said = trundle("morning", "--date", THURSDAY_22.isoformat(), "--at", "7:40", data=apart).out
    assert "3-B is at part 2, 3-K at part 4" in " ".join(said.split())


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        ("litres = 0.7", None),  # 27 balls: 18.9 L of the 22.4 L a box of 28 L is filled to
        ("litres = 0.9", "Box 3 does not close: about 24 L for Burlap Birds, room for 22.4 L."),
        ("grams = 350", None),  # 9.5 kg, with the box 10.7 of 11 kg
        ("grams = 440", None),  # 11.9 kg and the box: too heavy, so the yarn goes into pails of at most 13 balls
    ],
)
def test_whether_both_fit_the_box_is_looked_at_by_room_and_by_weight(apart: Path, facts: str, said: str | None) -> None:
    supplies = (apart / "supplies.toml").read_text(encoding="utf-8")
    told = supplies.replace('id = "yarn-ball"', f'id = "yarn-ball"\n{facts}')
    (apart / "supplies.toml").write_text(told, encoding="utf-8")
    day = a_day(apart).day(THURSDAY_22)
    warned = [each.what for each in day.cautions if each.key.split("/")[3:5] in (["full", "box-3"], ["heavy", "box-3"])]
    assert warned == ([] if said is None else [said])
    assert len(lines_of(day, "yarn-ball")) == (3 if facts == "grams = 440" else 1)
