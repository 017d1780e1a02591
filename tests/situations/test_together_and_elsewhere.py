"""Two classes taught together, guests, another room, no water: what comes along and what moves on. T13, R4, R10.

Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import EVERYWHERE, Changed, Guests, Interruption, Reported
from checklists.daybook.state import Progress
from checklists.lines.records import Day
from tests.days import (
    NEXT_DAY_A,
    TUESDAY,
    at,
    close,
    line_of,
    lines_of,
    needs_by_supply,
    opened,
    opened_again,
    reported,
    visit_of,
)
from tests.schools import MONDAY, a_class, in_the_evening, reference_school, reference_supplies
from tests.situations.changing import changed, coming

TOGETHER = {"3-B": "3-K"}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path / "school"))


def folders(day: Day) -> set[str]:
    return {line.supply for line in day.lines if line.supply.startswith("folder 3-")}


# ----------------------------------------------------------------------------------------- R10 taught together


def test_two_classes_taught_together_are_one_visit_with_both_folders(book: Book) -> None:
    with changed(book, joined=TOGETHER) as day:
        assert coming(day) == ["K-M", "1-P", "3-K", "2-R", "4-D", "5-H"]
        visit = visit_of(day, "3-K")
        assert (visit.students, [each.of for each in visit.joined], visit.go_on_too) == (49, ["3-B"], ("3-B",))
        assert folders(day) == {"folder 3-B", "folder 3-K"}
        assert line_of(day, "yarn-ball").need == 54  # 49 and 5: as many as apart
        assert line_of(day, "blunt-needle").need == 49 + 3  # all at one time: 49 and the larger of 1 and 5 %
        said = [each.what for each in day.cautions if "joined-classes" in each.key]
        assert said == [
            "49 children with 24 guests: where tools are short, share them in pairs or by table. Both folders come."
        ]


def test_a_class_at_the_same_part_moves_on_with_the_other_one(book: Book) -> None:
    with changed(book, joined=TOGETHER) as day:
        book.do(MONDAY, reported(visit_of(day, "3-K"), absent=(4,)))
        after = book.closing_of(MONDAY)
        assert (after.progress["3-K"].part, after.progress["3-B"].part) == (3, 3)
        assert [each.numbers for each in after.owed["3-K"]] == [(4,)]
        assert [(each.part, each.unknown) for each in after.owed["3-B"]] == [(2, True)]  # whose number 4 is nobody says
        book.undo(MONDAY)


def test_where_nobody_was_missing_it_holds_for_both(book: Book) -> None:
    with changed(book, joined=TOGETHER) as day:
        book.do(MONDAY, reported(visit_of(day, "3-K")))
        assert {"3-B", "3-K"}.isdisjoint(book.closing_of(MONDAY).owed)
        book.undo(MONDAY)


def test_where_nobody_has_told_one_question_asks_for_both(book: Book) -> None:
    book.do(MONDAY, Changed(at=at("6:10"), joined=TOGETHER))
    close(book)
    later = opened_again(book, today=TUESDAY)
    assert [each.class_id for each in later.day(NEXT_DAY_A).questions if each.class_id[0] == "3"] == ["3-K"]
    assert [step.part for step in visit_of(later.day(NEXT_DAY_A), "3-B").steps] == [2, 3]
    later.do(MONDAY, Reported(at=at("9:00"), visit="P4 3-K", outcome="done", absences_known=True))
    assert [step.part for step in visit_of(later.day(NEXT_DAY_A), "3-B").steps] == [3]


def test_a_class_at_another_part_stays_where_it_is(tmp_path: Path) -> None:
    ahead = in_the_evening(reference_school(tmp_path / "school"), progress={"3-B": Progress("burlap-birds", 3)})
    book = opened(ahead)
    with changed(book, joined=TOGETHER) as day:
        assert visit_of(day, "3-K").go_on_too == ()
        assert folders(day) == {"folder 3-K", "folder 3-B"}
        book.do(MONDAY, reported(visit_of(day, "3-K")))
        assert book.closing_of(MONDAY).progress["3-B"].part == 3
        book.undo(MONDAY)


def test_needs_and_what_is_avoided_count_of_both_classes(tmp_path: Path) -> None:
    classes = [
        a_class("3-B", room="12", students=24, needs=[{"need": "left-handed", "count": 2}], avoid=["wool"]),
        a_class("3-K", room="14", students=25, needs=[{"need": "left-handed", "count": 1}]),
    ]
    timetable = {"A": {"P3": "3-B", "P4": "3-K"}}
    supplies = [{**each, "marks": ["wool"]} if each["id"] == "yarn-ball" else each for each in reference_supplies()]
    book = opened(reference_school(tmp_path / "school", classes=classes, timetable=timetable, supplies=supplies))
    with changed(book, joined={"3-K": "3-B"}) as day:
        assert line_of(day, "scissors-left").need == 3
        assert line_of(day, "yarn-ball").forbidden
    with changed(book, joined=TOGETHER) as day:
        assert coming(day) == ["3-K"]
        assert line_of(day, "scissors-left").need == 3
        assert line_of(day, "yarn-ball").forbidden


def test_a_class_comes_by_itself_where_the_other_one_does_not_come(book: Book) -> None:
    with changed(book, joined=TOGETHER, away=("3-K",)) as day:
        assert coming(day) == ["K-M", "1-P", "3-B", "2-R", "4-D", "5-H"]
    with changed(book, joined=TOGETHER | {"3-K": "3-B"}) as day:
        assert coming(day) == ["K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]
    with changed(book, joined=TOGETHER):
        book.do(MONDAY, Changed(at=at("7:00"), joined={"3-B": ""}))
        assert "3-B" in coming(book.day(MONDAY))
        book.undo(MONDAY)


# --------------------------------------------------------------------------------------------- T13 two guests


def test_two_children_whose_class_is_on_a_trip_join_another_one(book: Book) -> None:
    with changed(book, away=("3-B",), guests=(Guests("3-B", "3-K", 2),)) as day:
        assert "3-B" not in coming(day)
        assert visit_of(day, "3-K").students == 27
        assert line_of(day, "yarn-ball").need == 30  # 27 and 3
        assert line_of(day, "blunt-needle").need == 29  # 27 and 2
        scissors = next(use.amount for use in line_of(day, "scissors").uses if use.visit == "P4 3-K")
        assert scissors == 15  # per pair 14, and 1
        folder = line_of(day, "folder 3-B")
        assert "2 children of 3-B with 3-K: take their work out of it" in [each.text for each in folder.because]
        book.do(MONDAY, reported(visit_of(day, "3-K")))
        assert book.closing_of(MONDAY).progress["3-B"].part == 2
        book.undo(MONDAY)


# ------------------------------------------------------------------------------------- R4 another room, no water


def test_in_another_room_all_that_hangs_on_the_room_goes_by_that_one(book: Book) -> None:
    """4-D has clay: room 21 has a sink, room 9 has none."""
    with changed(book, rooms={"P6 4-D": "9"}) as day:
        visit = visit_of(day, "4-D")
        assert (visit.room, visit.walk_before) == ("9", 2 + 1)  # from room 11 by the store
        assert {"water-jug", "dirty-water-bucket"} <= {line.supply for line in day.lines if "P6 4-D" in line.visits}
        assert any(each.visit == "P6 4-D" and "in Room 9 today" in each.what for each in day.checks)


def test_in_a_room_that_dries_less_more_of_the_wet_sheets_ride(book: Book) -> None:
    """Room 4 dries 12 of 20 sheets; what rides needs newsprint between. What room 21 dries nobody has said."""

    def between(day: Day) -> list[int]:
        return [line.need for line in lines_of(day, "newsprint") if "P1 K-M" in line.visits]

    assert between(book.day(MONDAY)) == [20]
    with changed(book, rooms={"P1 K-M": "21"}) as day:
        assert between(day) == []
    with changed(book, rooms={"P1 K-M": ""}) as day:
        assert between(day) == [20]


def test_without_water_a_room_with_a_sink_is_one_without(book: Book) -> None:
    def jugs(day: Day) -> set[str]:
        return {visit for line in lines_of(day, "water-jug") for visit in line.visits}

    usual = jugs(book.day(MONDAY))
    assert "P1 K-M" not in usual and "P5 2-R" in usual  # room 4 has a sink, room 11 has none
    with changed(book, water_off=("4",)) as day:
        assert jugs(day) == {*usual, "P1 K-M"}
    with changed(book, water_off=(EVERYWHERE,)) as day:
        assert jugs(day) == {*usual, "P1 K-M", "P6 4-D"}
    with changed(book, water_off=()) as day:
        assert jugs(day) == usual


def test_what_is_so_today_is_not_so_on_the_next_day(book: Book) -> None:
    before = book.day(NEXT_DAY_A)
    with changed(book, rooms={"P3 3-B": "9"}, water_off=(EVERYWHERE,), interruptions=(Interruption("8:00", "8:20"),)):
        after = book.day(NEXT_DAY_A)
        assert after.visits == before.visits
        assert needs_by_supply(after) == needs_by_supply(before)
