"""Filling containers for the rest of the week or of the cycle. Quantities are common practice, no source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from checklists.daybook.entries import Changed, Fill, Packed
from checklists.daybook.line_states import open_lines, state_of
from checklists.daybook.marks import marks_of
from checklists.daybook.state import Progress
from checklists.lines.records import Day
from tests.days import THURSDAY, at, day_of, line_of, lines_of, opened
from tests.schools import a_lesson, a_part, an_item, reference_school, reference_timetable, small_school

FOUR_PARTS = a_lesson(
    "paper-hills",
    [a_part(f"part {n}", [an_item("white-12x18"), an_item("scissors", per="pair", into="cart")]) for n in range(1, 5)],
)


def filled(tmp_path: Path, fill: Fill, **state: Any) -> Day:
    """Monday of the small school: 3-B (24) and 3-K (22) today, 3-B again on Thursday."""
    folder = small_school(tmp_path, lessons=[FOUR_PARTS], teaching={"3": ["paper-hills"]})
    return day_of(folder, change=Changed(at=at("7:30"), fill=fill), **state)


def test_for_the_week_consumed_things_add_up_and_the_spare_is_once_on_the_total(tmp_path: Path) -> None:
    paper = line_of(filled(tmp_path, "week"), "white-12x18")
    # Today 24 + 22 = 46 and 5 spare (10 %); with Thursday's 24 it is 70 and 7 spare.
    assert (paper.need, paper.ahead) == (51, 77 - 51)
    assert paper.add == 77
    assert paper.later == ("Thu 8 Oct P1 3-B",)


def test_what_comes_back_is_needed_for_the_largest_visit_however_long_the_span(tmp_path: Path) -> None:
    scissors = line_of(filled(tmp_path, "week"), "scissors")
    assert (scissors.need, scissors.ahead) == (13, 0)


def test_for_the_day_nothing_is_ahead(tmp_path: Path) -> None:
    assert all(line.ahead == 0 and not line.later for line in filled(tmp_path, "day").lines)


def test_in_a_school_of_weekdays_a_cycle_is_the_week(tmp_path: Path) -> None:
    week, cycle = filled(tmp_path / "week", "week"), filled(tmp_path / "cycle", "cycle")
    assert [(line.key, line.ahead) for line in week.lines] == [(line.key, line.ahead) for line in cycle.lines]


def test_a_cycle_is_filled_up_to_the_day_before_it_begins_again(tmp_path: Path) -> None:
    timetable = {**reference_timetable(), "C": {"P3": "3-B"}, "F": {"P4": "3-K"}}
    folder = reference_school(tmp_path, timetable=timetable)
    change = Changed(at=at("7:30"), fill="cycle")
    places = {"3-B": Progress("burlap-birds", 2), "3-K": Progress("burlap-birds", 2)}
    yarn = line_of(day_of(folder, change=change, progress=places), "yarn-ball")
    # Mon 5 Oct is A; C is Wed 7, F is Tue 13 Oct after a holiday, the next A is Wed 14: 24 + 25 + 24 + 25 = 98.
    assert yarn.later == ("Wed 7 Oct P3 3-B", "Tue 13 Oct P4 3-K")
    assert yarn.need + yarn.ahead == 98 + 10


def test_what_only_a_later_day_needs_stands_in_its_container_and_is_not_asked_for_on_leaving(tmp_path: Path) -> None:
    lessons = [
        a_lesson("paper-hills", [a_part("one", [an_item("white-12x18")]), a_part("two", [an_item("yarn-ball")])]),
    ]
    folder = small_school(tmp_path, lessons=lessons, teaching={"3": ["paper-hills"]})
    day = day_of(folder, change=Changed(at=at("7:30"), fill="week"))
    yarn = line_of(day, "yarn-ball")
    assert (yarn.container, yarn.need, yarn.ahead, yarn.visits, yarn.critical) == ("box-3", 0, 27, (), False)
    assert yarn.key not in {line.key for line in open_lines(day, marks_of(()))}
    assert yarn.later == ("Thu 8 Oct P1 3-B",)


def test_what_was_filled_ahead_is_still_in_the_box_on_the_later_day(tmp_path: Path) -> None:
    folder = small_school(tmp_path, lessons=[FOUR_PARTS], teaching={"3": ["paper-hills"]})
    book = opened(folder)
    book.do(book.today, Changed(at=at("7:30"), fill="week"))
    paper = line_of(book.day(book.today), "white-12x18")
    book.do(book.today, Packed(at=at("7:35"), line=paper.key, count=paper.need + paper.ahead))
    assert state_of(paper, book.marks(book.today)) == "packed"
    thursday = line_of(book.day(THURSDAY), "white-12x18")
    assert (thursday.need, thursday.in_it, thursday.add) == (27, 77 - 46, 0)


def test_filling_ahead_is_of_that_day_alone_and_undone_like_any_step(tmp_path: Path) -> None:
    folder = small_school(tmp_path, lessons=[FOUR_PARTS], teaching={"3": ["paper-hills"]})
    book = opened(folder)
    book.do(book.today, Changed(at=at("7:30"), fill="week"))
    assert book.day(book.today).fill == "week"
    assert book.day(THURSDAY).fill == "day"
    book.undo(book.today)
    assert book.day(book.today).fill == "day"


def test_folders_and_catch_up_are_for_the_day_they_are_needed_on(tmp_path: Path) -> None:
    day = filled(tmp_path, "week")
    assert all(line.ahead == 0 for line in day.lines if line.supply.startswith("folder") or line.catch_up_for)
    assert len(lines_of(day, "folder 3-B")) == 1
