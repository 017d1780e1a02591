"""A sharp that is missing: a case that is opened, reported, stays on top of every day, and is closed.

Situations T32 and T33 in small; common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import ClosedCase, ReportedMissing
from checklists.daybook.matters import OpenMatter
from tests.days import (
    NEXT_MONDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    close,
    counted,
    opened,
    opened_again,
    teach,
    visit_of,
)
from tests.schools import MONDAY, small_school

CASE = "2026-10-05/P1 3-B/scissors"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Mon 5 Oct: 13 scissors went out to 3-B and 12 came back; 12 of 3-K are all there."""
    book = opened(small_school(tmp_path))
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id)
    day = book.day(MONDAY)
    book.do(MONDAY, counted(visit_of(day, "3-B"), 13, 12))
    book.do(MONDAY, counted(visit_of(day, "3-K"), 12, 12))
    return book


def asked(book: Book) -> OpenMatter:
    matters = at_day_end(book.plan, book.day(MONDAY), book.marks(MONDAY), at("15:05"))
    return next(each for each in matters if each.key == f"case/{CASE}")


def test_a_missing_sharp_opens_a_case_and_is_off_the_cart_and_the_stock(book: Book) -> None:
    said = close(book)
    (opened_case,) = [each for each in said if each.startswith("Case opened: 1 ")]
    assert "missing from Room 12, not reported yet" in opened_case
    state = book.opening(TUESDAY)
    (case,) = state.cases
    assert (case.key, case.count, case.out, case.back, case.room, case.period) == (CASE, 1, 13, 12, "12", "P1")
    assert state.contents["cart"]["scissors"] == 29


def test_she_is_asked_whom_she_told_and_the_answer_is_kept(book: Book) -> None:
    assert "1 scissors missing: Room 12, P1 3-B, 13 out 12 back." in asked(book).text
    assert "hom did you tell?" in asked(book).text
    assert asked(book).answer == ""
    book.do(MONDAY, ReportedMissing(at=at("15:05"), case=CASE, to_whom="the office", when="15:05"))
    assert asked(book).answer == "reported to the office, 15:05"
    close(book)
    (case,) = book.opening(TUESDAY).cases
    assert (case.reported_to, case.reported_when) == ("the office", "2026-10-05 15:05")


def test_a_day_with_a_missing_sharp_can_be_closed_unreported(book: Book) -> None:
    close(book)
    assert book.is_closed(MONDAY)
    assert len(book.opening(TUESDAY).cases) == 1


def test_the_case_is_on_top_of_every_day_until_it_is_closed(book: Book) -> None:
    close(book)
    for day in (TUESDAY, WEDNESDAY, THURSDAY):
        book.today = day
        (said,) = book.day(day).cases
        assert "Missing: 1 scissors since Room 12, Mon 5 Oct P1 3-B" in said
        close(book, day)
    assert len(opened_again(book, today=NEXT_MONDAY).day(NEXT_MONDAY).cases) == 1


def test_found_two_days_later_it_is_back_on_the_cart_and_the_record_keeps_where(book: Book) -> None:
    close(book)
    book.today = WEDNESDAY
    book.do(WEDNESDAY, ClosedCase(at=at("10:00", WEDNESDAY), case=CASE, found=True, where="a desk in room 12"))
    said = close(book, WEDNESDAY)
    assert "Case of 2026-10-05 closed." in said
    state = opened_again(book, today=THURSDAY).opening(THURSDAY)
    assert state.cases == ()
    assert state.contents["cart"]["scissors"] == 30
    assert book.marks(WEDNESDAY).closed_cases[CASE].where == "a desk in room 12"


def test_written_off_it_does_not_come_back(book: Book) -> None:
    close(book)
    book.do(WEDNESDAY, ClosedCase(at=at("10:00", WEDNESDAY), case=CASE, found=False, where="lost"))
    close(book, WEDNESDAY)
    state = book.opening(THURSDAY)
    assert (state.cases, state.contents["cart"]["scissors"]) == ((), 29)


def test_found_on_the_same_day_there_is_no_case(book: Book) -> None:
    book.do(MONDAY, counted(visit_of(book.day(MONDAY), "3-B"), 13, 13))
    close(book)
    state = book.opening(TUESDAY)
    assert (state.cases, state.contents["cart"]["scissors"]) == ((), 30)


def test_a_second_count_replaces_the_first(book: Book) -> None:
    book.do(MONDAY, counted(visit_of(book.day(MONDAY), "3-B"), 13, 11))
    close(book)
    (case,) = book.opening(TUESDAY).cases
    assert case.count == 2


def test_more_back_than_went_out_is_no_case(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    book.do(MONDAY, counted(visit_of(book.day(MONDAY), "3-B"), 13, 14))
    close(book)
    assert book.opening(TUESDAY).cases == ()


def test_reported_on_a_later_day_the_case_says_so(book: Book) -> None:
    close(book)
    book.do(TUESDAY, ReportedMissing(at=at("7:50", TUESDAY), case=CASE, to_whom="the custodian"))
    close(book, TUESDAY)
    (said,) = book.day(WEDNESDAY).cases
    assert said.endswith("reported to the custodian, Tue 6 Oct 7:50")


def test_what_was_lost_of_a_case_of_the_day_is_undone_with_the_count(book: Book) -> None:
    close(book)
    assert book.undo(MONDAY) == "Mon 5 Oct is open again"
    book.undo(MONDAY)
    book.undo(MONDAY)
    assert book.closing_of(MONDAY).cases == ()
