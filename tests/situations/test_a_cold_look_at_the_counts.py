"""Faults that a cold look found in counting back: counts typed a day late, and sharps of a catch-up kit.

On the small school; common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import ClosedCase, CountedSharps, ReportedMissing
from checklists.daybook.line_states import goes_without_a_look
from checklists.daybook.typing_in import entries_typed
from tests.days import (
    NEXT_MONDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    asked_at_the_end,
    at,
    close,
    count_all_back,
    counted,
    line_of,
    opened,
    teach,
    visit_of,
)
from tests.schools import (
    MONDAY,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    small_school,
)

PENDING = "count/2026-10-05/P1 3-B/scissors"
CASE = "2026-10-05/P1 3-B/scissors"


def type_in(book: Book, day: date, key: str, text: str) -> None:
    entries = entries_typed(asked_at_the_end(book, day)[key], text, at("15:01", day))
    assert not isinstance(entries, str), entries
    book.do(day, *entries)


# ------------------------------------------------------------------------------------ a count typed a day late


@pytest.fixture
def not_counted(tmp_path: Path) -> Book:
    """Monday was taught and closed; 13 scissors of 3-B and 12 of 3-K were not counted back. It is Tuesday."""
    supplies = [
        a_supply("white-12x18", kind="paper", on_hand=400),
        a_supply("glue-stick", returns=True),
        a_supply("scissors", kind="tool", sharp=True, on_hand=40),
        a_supply("yarn-ball"),
    ]
    book = opened(small_school(tmp_path, supplies=supplies))
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id)
    close(book)
    book.today = TUESDAY
    return book


def test_all_counted_back_a_day_late_ends_it(not_counted: Book) -> None:
    type_in(not_counted, TUESDAY, PENDING, "=")
    assert asked_at_the_end(not_counted, TUESDAY)[PENDING].answer == "13 of 13 back"
    close(not_counted, TUESDAY)
    state = not_counted.opening(WEDNESDAY)
    assert state.cases == ()
    assert PENDING not in {each.key for each in state.carried}
    assert state.on_hand["scissors"] == 40


def test_one_missing_a_day_late_is_a_case_of_monday_and_off_the_stock_once(not_counted: Book) -> None:
    type_in(not_counted, TUESDAY, PENDING, "12")
    close(not_counted, TUESDAY)
    close(not_counted, WEDNESDAY)
    state = not_counted.opening(THURSDAY)
    (case,) = state.cases
    assert (case.key, case.date, case.room, case.period, case.school_class) == (CASE, MONDAY, "12", "P1", "3-B")
    assert (case.count, case.out, case.back) == (1, 13, 12)
    assert PENDING not in {each.key for each in state.carried}
    assert (state.on_hand["scissors"], state.contents["cart"]["scissors"]) == (39, 29)


def test_typed_for_monday_as_well_it_is_still_one_case(not_counted: Book) -> None:
    type_in(not_counted, TUESDAY, PENDING, "11")
    not_counted.do(MONDAY, counted(visit_of(not_counted.day(MONDAY), "3-B"), 13, 11))
    state = not_counted.closing_of(TUESDAY)
    assert [each.key for each in state.cases] == [CASE]
    assert (state.on_hand["scissors"], state.contents["cart"]["scissors"]) == (38, 28)


def test_counted_once_more_the_newer_count_stands_and_whom_she_told_is_kept(not_counted: Book) -> None:
    not_counted.do(MONDAY, counted(visit_of(not_counted.day(MONDAY), "3-B"), 13, 11))
    not_counted.do(MONDAY, ReportedMissing(at=at("15:06"), case=CASE, to_whom="the office", when="15:06"))
    again = CountedSharps(at=at("7:40", TUESDAY), visit="P1 3-B", supply="scissors", out=13, back=12, on=MONDAY)
    not_counted.do(TUESDAY, again)
    state = not_counted.closing_of(TUESDAY)
    (case,) = state.cases
    assert (case.count, case.reported_to) == (1, "the office")
    assert (state.on_hand["scissors"], state.contents["cart"]["scissors"]) == (39, 29)


def test_found_in_either_question_stands_at_the_same_place_after_reported(not_counted: Book) -> None:
    """Of what is missing by today's count and of what is missing since an earlier day."""
    type_in(not_counted, TUESDAY, PENDING, "12")
    today = [each.label for each in asked_at_the_end(not_counted, TUESDAY)[f"case/{CASE}"].choices]
    close(not_counted, TUESDAY)
    later = [each.label for each in asked_at_the_end(not_counted, WEDNESDAY)[f"case/{CASE}"].choices]
    assert today[:2] == later[:2] == ["reported to the office", "still missing"]
    assert today[2] == later[2] == "found in Room 12"


def test_a_thing_found_the_same_day_is_not_off_the_stock(not_counted: Book) -> None:
    type_in(not_counted, TUESDAY, PENDING, "12")
    not_counted.do(TUESDAY, ClosedCase(at=at("15:05", TUESDAY), case=CASE, found=True))
    state = not_counted.closing_of(TUESDAY)
    assert state.cases == ()
    assert (state.on_hand["scissors"], state.contents["cart"]["scissors"]) == (40, 30)


# ------------------------------------------------------------------------------ sharps in a catch-up kit


def test_sharps_of_a_catch_up_kit_are_counted_with_those_of_the_visit(tmp_path: Path) -> None:
    """Part 2 takes needles along and no scissors; a child who missed part 1 needs one of each."""
    parts = [
        a_part("one", [an_item("scissors"), an_item("needle")]),
        a_part("two", [an_item("needle"), an_item("glue-stick")]),
    ]
    supplies = [
        a_supply("scissors", kind="tool", sharp=True),
        a_supply("needle", kind="tool", sharp=True),
        a_supply("glue-stick", returns=True),
    ]
    book = opened(
        small_school(tmp_path, lessons=[a_lesson("sew", parts)], teaching={"3": ["sew"]}, supplies=supplies, boxes=[])
    )
    teach(book, MONDAY, "3-B", absent=(4,))
    teach(book, MONDAY, "3-K")
    count_all_back(book, MONDAY)
    close(book)
    book.today = THURSDAY
    line = line_of(book.day(THURSDAY), "scissors", catch_up_for="3-B")
    assert (line.need, line.counted) == (1, True)
    assert not goes_without_a_look(line, book.marks(THURSDAY))

    teach(book, THURSDAY, "3-B")
    asked = asked_at_the_end(book, THURSDAY)
    assert asked["count/P1 3-B/scissors"].out == 1
    type_in(book, THURSDAY, "count/P1 3-B/scissors", "=")
    close(book, THURSDAY)
    pending = {each.key for each in book.opening(NEXT_MONDAY).carried if each.kind == "count pending"}
    assert pending == {"count/2026-10-08/P1 3-B/needle"}
