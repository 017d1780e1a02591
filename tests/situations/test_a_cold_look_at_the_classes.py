"""Faults that a cold look found in where classes stand and what they are owed.

On the small school, its lessons and timetable changed; common practice, no source.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import Reported, Ticked
from checklists.daybook.state import Owed
from tests.days import (
    NEXT_MONDAY,
    NEXT_THURSDAY,
    THURSDAY,
    TUESDAY,
    at,
    close,
    line_of,
    needs_by_supply,
    opened,
    opened_again,
    packed,
    reported,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import MONDAY, a_lesson, a_part, a_supply, an_item, small_school, write_toml

SCISSORS = a_supply("scissors", kind="tool", sharp=True)


# ---------------------------------------------------------------------------------- a lesson that is shortened


@pytest.fixture
def in_part_two(tmp_path: Path) -> Path:
    """Both classes have had part 1 of Paper Hills; Monday is closed."""
    book = opened(small_school(tmp_path))
    teach(book, MONDAY, "3-B", absent=(4,))
    teach(book, MONDAY, "3-K")
    close(book)
    book.release()
    return tmp_path


def shorten(folder: Path) -> None:
    file = folder / "lessons" / "paper-hills.toml"
    lesson = tomllib.loads(file.read_text())
    write_toml(file, {**lesson, "parts": lesson["parts"][:1]})


def remove(folder: Path) -> None:
    (folder / "lessons" / "paper-hills.toml").unlink()
    file = folder / "classes.toml"
    write_toml(file, {**tomllib.loads(file.read_text()), "teaching": {"3": ["yarn-birds"]}})


@pytest.mark.parametrize("change", [shorten, remove])
def test_a_class_goes_on_where_its_lesson_was_shortened_or_removed(in_part_two: Path, change: Any) -> None:
    change(in_part_two)
    book = opened(in_part_two, THURSDAY)
    day = book.day(THURSDAY)
    assert [(step.lesson, step.part) for step in visit_of(day, "3-B").steps] == [("yarn-birds", 1)]
    assert needs_by_supply(day)["yarn-ball"] == 27
    assert book.day(THURSDAY).questions == ()
    teach_all(book, THURSDAY)
    close(book, THURSDAY)
    assert "yarn-birds" in book.opening(NEXT_MONDAY).progress["3-B"].lessons_done
    assert visit_of(book.day(NEXT_MONDAY), "3-K").steps[0].lesson == "yarn-birds"


@pytest.mark.parametrize("change", [shorten, remove])
def test_a_question_about_a_part_that_is_gone_can_still_be_answered(tmp_path: Path, change: Any) -> None:
    book = opened(small_school(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    book.do(THURSDAY, packed(line_of(book.day(THURSDAY), "glue-stick"), day=THURSDAY))
    book.release()
    change(tmp_path)
    book = opened(tmp_path, NEXT_MONDAY)
    (question,) = book.day(NEXT_MONDAY).questions
    assert (question.date, question.class_id) == (THURSDAY, "3-B")
    teach(book, THURSDAY, "3-B")
    assert book.day(NEXT_MONDAY).questions == ()


# --------------------------------------------------------------------------- two visits of one class on a day


def twice_on_monday(folder: Path) -> Book:
    """3-B comes in P1 and P2 of Mon 5 Oct, with a lesson of five parts, each with a thing of its own."""
    lesson = a_lesson("five", [a_part(f"part {n}", [an_item(f"s{n}")]) for n in range(1, 6)])
    school = small_school(
        folder,
        timetable={"Mon": {"P1": "3-B", "P2": "3-B"}, "Thu": {"P1": "3-B"}},
        teaching={"3": ["five"]},
        lessons=[lesson],
        supplies=[*(a_supply(f"s{n}", on_hand=200) for n in range(1, 6)), SCISSORS],
    )
    return opened(school)


def test_the_second_visit_is_packed_for_the_part_after_the_first_ones(tmp_path: Path) -> None:
    book = twice_on_monday(tmp_path)
    first, second = book.day(MONDAY).visits
    assert [step.part for step in (*first.steps, *second.steps)] == [1, 2]
    needs = needs_by_supply(book.day(MONDAY))
    assert (needs["s1"], needs["s2"]) == (27, 27)
    assert "s3" not in needs


@pytest.mark.parametrize(
    ("first", "second", "next_part", "missed_in_the_second"),
    [
        ({"outcome": "done"}, {"outcome": "done"}, 3, [2]),
        ({"outcome": "done"}, {"outcome": "went further", "reached_part": 3}, 4, [2, 3]),
        ({"outcome": "done"}, {"outcome": "not taught"}, 2, []),
        ({"outcome": "not taught"}, {"outcome": "done"}, 2, [1]),
        ({"outcome": "about half"}, {"outcome": "done"}, 2, [1]),
        ({"outcome": "not taught"}, {"outcome": "went further", "reached_part": 3}, 4, [1, 2, 3]),
        ({"outcome": "went further", "reached_part": 2}, {"outcome": "done"}, 4, [3]),
        ({"outcome": "not taught"}, {"outcome": "not taught"}, 1, []),
    ],
)
def test_the_second_visit_begins_where_the_first_left_the_class(
    tmp_path: Path, first: dict[str, Any], second: dict[str, Any], next_part: int, missed_in_the_second: list[int]
) -> None:
    book = twice_on_monday(tmp_path)
    visits = book.day(MONDAY).visits
    book.do(MONDAY, reported(visits[0], **first))
    book.do(MONDAY, reported(visits[1], **second, absent=(4,)))
    state = book.closing_of(MONDAY)
    assert state.progress["3-B"].part == next_part
    assert [each.part for each in state.owed.get("3-B", ())] == missed_in_the_second


def test_of_two_untold_visits_the_next_is_packed_for_three_answers(tmp_path: Path) -> None:
    book = twice_on_monday(tmp_path)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "s1")))
    book.today = THURSDAY
    assert [step.part for step in visit_of(book.day(THURSDAY), "3-B").steps] == [1, 2, 3]
    assert len(book.day(THURSDAY).questions) == 2
    for visit in book.day(MONDAY).visits:
        book.do(MONDAY, reported(visit))
    assert [step.part for step in visit_of(book.day(THURSDAY), "3-B").steps] == [3]


# -------------------------------------------------------------------------------------------- what is owed


def test_catch_up_of_a_thing_for_two_is_one_for_two_children(tmp_path: Path) -> None:
    parts = [a_part("one", [an_item("cup", per="pair"), an_item("jar", per="table")]), a_part("two", [an_item("s1")])]
    supplies = [a_supply("cup"), a_supply("jar"), a_supply("s1"), SCISSORS]
    book = opened(
        small_school(tmp_path, lessons=[a_lesson("cups", parts)], teaching={"3": ["cups"]}, supplies=supplies)
    )
    teach(book, MONDAY, "3-B", absent=tuple(range(1, 12)))
    teach(book, MONDAY, "3-K")
    close(book)
    assert needs_by_supply(book.day(THURSDAY), "3-B") == {"cup": 6, "jar": 1}  # 11 children, at one table


def test_a_child_absent_when_a_part_is_taught_again_is_owed_it_once(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    teach(book, MONDAY, "3-B", "about half", absent=(4,))
    teach(book, MONDAY, "3-K")
    close(book)
    book.today = THURSDAY
    teach(book, THURSDAY, "3-B", absent=(4, 9))
    close(book, THURSDAY)
    assert book.opening(TUESDAY).progress["3-B"].again
    assert [(each.part, each.numbers) for each in book.opening(NEXT_MONDAY).owed["3-B"]] == [(1, (4, 9))]
    assert needs_by_supply(book.day(NEXT_MONDAY), "3-B")["white-12x18"] == 2


def test_nor_is_it_owed_twice_where_the_first_outcome_was_not_told(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    visit = visit_of(book.day(MONDAY), "3-B")
    book.do(MONDAY, Reported(at=at("15:00"), visit=visit.key, outcome="unknown", absent=(4,), absences_known=True))
    close(book)
    book.today = THURSDAY
    teach(book, THURSDAY, "3-B", absent=(4,))
    close(book, THURSDAY)
    assert book.opening(NEXT_MONDAY).owed["3-B"] == (Owed("paper-hills", 1, MONDAY, (4,)),)


# --------------------------------------------------------------------------------- the filler, or no lesson


def one_short_lesson(folder: Path, **habits: Any) -> Path:
    lessons = [
        a_lesson("short", [a_part("only", [an_item("s1")])]),
        a_lesson("free-drawing", [a_part("draw", [an_item("s1")], preps=[{"what": "cut paper", "days_before": 0}])]),
    ]
    small_school(
        folder, lessons=lessons, teaching={"3": ["short"]}, supplies=[a_supply("s1", on_hand=900), SCISSORS], boxes=[]
    )
    file = folder / "school.toml"
    write_toml(file, {**tomllib.loads(file.read_text()), "habits": habits})
    return folder


def test_preparation_of_the_filler_is_asked_for_each_time_it_is_taught(tmp_path: Path) -> None:
    book = opened(one_short_lesson(tmp_path, filler="free-drawing"))
    teach_all(book, MONDAY)
    close(book)
    for day in (THURSDAY, NEXT_MONDAY, NEXT_THURSDAY):
        book = opened_again(book, day)
        (task,) = [each for each in book.day(day).tasks if each.class_id == "3-B" and each.for_date == day]
        assert task.what == "cut paper"
        book.do(day, Ticked(at=at("7:40", day), matter=task.key))
        teach_all(book, day)
        close(book, day)
    assert book.opening(NEXT_THURSDAY).progress["3-B"].lessons_done == ("short", "free-drawing")


def test_after_the_last_lesson_a_class_without_filler_has_none_and_it_is_said(tmp_path: Path) -> None:
    book = opened(one_short_lesson(tmp_path))
    teach_all(book, MONDAY)
    said = close(book)
    assert "3-B: finished Short; no lesson is placed after it." in said
    day = opened_again(book, THURSDAY).day(THURSDAY)
    assert visit_of(day, "3-B").steps == ()
    assert day.tasks == ()
    assert any("3-B: no lesson is placed for it" in note for note in day.notes)


def test_a_lesson_placed_later_is_taken_up_by_the_class_that_had_none(tmp_path: Path) -> None:
    folder = one_short_lesson(tmp_path)
    book = opened(folder)
    teach_all(book, MONDAY)
    close(book)
    book.release()
    file = folder / "classes.toml"
    write_toml(file, {**tomllib.loads(file.read_text()), "teaching": {"3": ["short", "free-drawing"]}})
    book = opened(folder, THURSDAY)
    assert visit_of(book.day(THURSDAY), "3-B").steps[0].lesson == "free-drawing"
