"""What she types behind a question: counts, class-list numbers, how many are not done, the part a class reached."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.day_end import at_day_end
from checklists.daybook.entries import AnyEntry, CountedSharps, Left, Reported
from checklists.daybook.matters import OpenMatter
from checklists.daybook.typing_in import entries_typed
from tests.days import at, opened, teach
from tests.schools import MONDAY, reference_school

VISIT = "P3 3-B"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path))


def asked(book: Book, key: str) -> OpenMatter:
    matters = at_day_end(book.plan, book.day(MONDAY), book.marks(MONDAY), at("15:00"))
    return next(each for each in matters if each.key == key)


def typed(book: Book, question: str, text: str) -> AnyEntry:
    entries = entries_typed(asked(book, question), text, at("15:05"))
    assert not isinstance(entries, str), entries
    (entry,) = entries
    assert entry.at == at("15:05")
    return entry


def refused(book: Book, question: str, text: str) -> str:
    said = entries_typed(asked(book, question), text, at("15:05"))
    assert isinstance(said, str)
    return said


@pytest.mark.parametrize(("text", "back"), [("12", 12), ("=", 13), (" 13 ", 13), ("0", 0), ("14", 14)])
def test_a_count_is_how_many_came_back(book: Book, text: str, back: int) -> None:
    entry = typed(book, f"count/{VISIT}/scissors", text)
    assert isinstance(entry, CountedSharps)
    assert (entry.visit, entry.supply, entry.out, entry.back) == (VISIT, "scissors", 13, back)


@pytest.mark.parametrize("text", ["", "all", "-1", "12.5", "twelve", "12 13", "99999", "½"])
def test_what_is_no_count_is_refused_in_words(book: Book, text: str) -> None:
    assert refused(book, f"count/{VISIT}/scissors", text) == ("Type how many came back, 0 to 13, or = for all 13.")


@pytest.mark.parametrize(
    ("text", "absent", "count"),
    [
        ("4 11", (4, 11), 0),
        ("11,4", (4, 11), 0),
        ("4, 11; 4", (4, 11), 0),
        ("7", (7,), 0),
        ("2a", (), 2),
        ("2 absent", (), 2),
        ("", (), 0),
        ("0", (), 0),
        ("Nobody", (), 0),
    ],
)
def test_numbers_are_class_list_numbers_and_an_a_makes_a_count(
    book: Book, text: str, absent: tuple[int, ...], count: int
) -> None:
    entry = typed(book, f"missed/{VISIT}", text)
    assert isinstance(entry, Reported)
    assert (entry.absent, entry.absent_count, entry.absences_known) == (absent, count, True)


@pytest.mark.parametrize(
    ("text", "absent", "count", "half"),
    [
        ("6h", (), 0, (6,)),
        ("6 half", (), 0, (6,)),
        ("4 11 6h", (4, 11), 0, (6,)),
        ("6h, 4; 9H", (4,), 0, (6, 9)),
        ("2a 6h", (), 2, (6,)),
        ("nobody 6h", (), 0, (6,)),
    ],
)
def test_a_number_with_an_h_was_there_for_half_of_it(
    book: Book, text: str, absent: tuple[int, ...], count: int, half: tuple[int, ...]
) -> None:
    teach(book, MONDAY, "3-B", "done except", not_done=10)
    entry = typed(book, f"missed/{VISIT}", text)
    assert isinstance(entry, Reported)
    assert (entry.absent, entry.absent_count, entry.absences_known, entry.half) == (absent, count, True, half)
    assert (entry.outcome, entry.not_done) == ("done except", 10)


def test_nobody_is_absent_and_there_for_half_of_it(book: Book) -> None:
    assert (
        refused(book, f"missed/{VISIT}", "6 6h") == "No. 6 cannot be absent and there for half of it. Type one of them."
    )


def test_a_number_of_a_child_who_left_is_refused_and_the_highest_stays(book: Book) -> None:
    visit = "P4 3-K"
    book.do(MONDAY, Left(at=at("7:41"), class_id="3-K", number=7))
    assert refused(book, f"missed/{visit}", "7 9") == "No. 7 has left 3-K; the others keep their numbers."
    assert "goes to 25" in refused(book, f"missed/{visit}", "26")
    entry = typed(book, f"missed/{visit}", "25")
    assert isinstance(entry, Reported)
    assert entry.absent == (25,)


@pytest.mark.parametrize("text", ["four", "4 x", "4-11", "-4", "4.5", "a", "h", "x 6h"])
def test_what_is_no_list_of_numbers_is_refused_in_words(book: Book, text: str) -> None:
    assert "class-list numbers" in refused(book, f"missed/{VISIT}", text)


@pytest.mark.parametrize(("text", "number"), [("0 4", 0), ("4 401", 401)])
def test_a_number_on_no_class_list_is_named(book: Book, text: str, number: int) -> None:
    assert f"number {number}" in refused(book, f"missed/{VISIT}", text)


def test_who_missed_it_keeps_the_outcome_that_was_said(book: Book) -> None:
    teach(book, MONDAY, "3-B", "done except", not_done=3)
    entry = typed(book, f"missed/{VISIT}", "4 11")
    assert isinstance(entry, Reported)
    assert (entry.outcome, entry.not_done, entry.absent) == ("done except", 3, (4, 11))


@pytest.mark.parametrize(
    ("text", "outcome", "not_done", "reached"),
    [("3", "done except", 3, None), ("p3", "went further", 0, 3), ("Part 4", "went further", 0, 4)],
)
def test_a_number_is_how_many_are_not_done_and_a_p_the_part_that_was_reached(
    book: Book, text: str, outcome: str, not_done: int, reached: int | None
) -> None:
    teach(book, MONDAY, "3-B", absent=(4,))
    entry = typed(book, f"reached/{VISIT}", text)
    assert isinstance(entry, Reported)
    assert (entry.outcome, entry.not_done, entry.reached_part, entry.absent) == (outcome, not_done, reached, (4,))


@pytest.mark.parametrize(
    ("text", "outcome", "not_done", "numbers", "part"),
    [
        ("f9,12", "done except", 2, (9, 12), None),
        ("f9, 12 5f", "done except", 5, (9, 12), None),
        ("i4", "another part", 0, (), 4),
        ("i4 f9", "another part", 1, (9,), 4),
        ("i2", "done", 0, (), None),
        ("h", "about half", 0, (), None),
        ("0", "done", 0, (), None),
    ],
)
def test_who_is_not_done_and_another_part_are_typed_as_in_a_line_about_a_visit(
    book: Book, text: str, outcome: str, not_done: int, numbers: tuple[int, ...], part: int | None
) -> None:
    entry = typed(book, f"reached/{VISIT}", text)
    assert isinstance(entry, Reported)
    assert (entry.outcome, entry.not_done, entry.not_done_numbers, entry.reached_part) == (
        outcome,
        not_done,
        numbers,
        part,
    )


@pytest.mark.parametrize("text", ["", "half", "p", "-3", "a4", "13=", "f9 l12", "v4 h"])
def test_what_is_neither_is_refused_in_words(book: Book, text: str) -> None:
    assert "not done, as 3, or who, as f9,12" in refused(book, f"reached/{VISIT}", text)


@pytest.mark.parametrize(
    ("text", "told"),
    [("p0", "0 is not further"), ("p99", "has 4 parts"), ("500", "3-B has 24 children"), ("f40", "no number 40")],
)
def test_what_cannot_be_is_told(book: Book, text: str, told: str) -> None:
    assert told in refused(book, f"reached/{VISIT}", text)


def test_where_nothing_can_be_typed_she_is_told_to_choose(book: Book) -> None:
    assert "choose one of the answers" in refused(book, "places", "room 12")
