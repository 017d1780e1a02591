"""A snow day where letters stay with their dates, for which the boxes were packed; a day called otherwise. T02, T03.

Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.entries import Changed
from checklists.daybook.matters import OpenMatter
from tests.commandline.running import trundle
from tests.days import (
    NEXT_THURSDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    after_the_battery_died,
    at,
    close,
    line_of,
    opened,
    opened_again,
    packed,
    teach_all,
)
from tests.schools import MONDAY, reference_school

B_AND_C = {"A": {"P1": "K-M"}, "B": {"P1": "3-B", "P2": "3-K", "P3": "4-D"}, "C": {"P1": "3-K"}}
QUESTION = "Packed for Tue 6 Oct: keep for Thu 15 Oct or unpack?"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Tuesday's lines were ticked on Monday afternoon; at six on Tuesday there is no school."""
    book = opened(reference_school(tmp_path / "school", lost_day="fixed", timetable=B_AND_C))
    teach_all(book, MONDAY)
    for line in book.day(TUESDAY).lines:
        book.do(TUESDAY, packed(line, day=TUESDAY))
    close(book)
    book.do(TUESDAY, Changed(at=at("6:10", TUESDAY), no_school=True))
    book.today = WEDNESDAY
    return book


def asked(book: Book) -> list[OpenMatter]:
    matters = before_leaving(book.day(WEDNESDAY), book.marks(WEDNESDAY), at("7:30", WEDNESDAY))
    return [each for each in matters if each.text.startswith("Packed for")]


def held(book: Book, container: str, supply: str) -> int:
    return book.closing_of(WEDNESDAY).contents.get(container, {}).get(supply, 0)


def test_one_question_stays_of_what_was_packed_for_the_lost_letter(book: Book) -> None:
    (question,) = asked(book)
    assert question.text.startswith(QUESTION)
    assert [each.label for each in question.choices] == ["keep", "unpack"]
    assert book.day(WEDNESDAY).day_name == "C"
    assert line_of(book.day(WEDNESDAY), "yarn-ball").in_it == 54


def test_kept_it_stays_and_is_not_asked_again(book: Book) -> None:
    (question,) = asked(book)
    book.do(WEDNESDAY, *question.choices[0].entries)
    assert asked(book) == []
    assert book.closing_of(WEDNESDAY).carried == ()
    assert held(book, "box-4", "clay-portion") == 29


def test_unpacked_only_what_an_earlier_visit_needs_stays(book: Book, tmp_path: Path) -> None:
    """3-K alone needs 28 yarn balls on Wednesday; nobody needs clay."""
    before = book.day(WEDNESDAY), held(book, "box-4", "clay-portion")
    (question,) = asked(book)
    book.do(WEDNESDAY, *question.choices[1].entries)
    copy = after_the_battery_died(book, into=tmp_path / "copy")
    for told in (book, copy):
        assert told.marks(WEDNESDAY).contents["box-3", "yarn-ball"] == 28
        assert held(told, "box-4", "clay-portion") == 0
    book.undo(WEDNESDAY)
    assert (book.day(WEDNESDAY), held(book, "box-4", "clay-portion")) == before


def test_unanswered_it_is_asked_until_the_letter_comes(book: Book) -> None:
    assert any(each.what.startswith("Packed for") for each in book.day(THURSDAY).matters)
    assert not any(each.kind == "packed" for each in book.closing_of(NEXT_THURSDAY).carried)


def test_where_letters_slide_nothing_is_asked(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path / "school", lost_day="slides", timetable=B_AND_C))
    for line in book.day(TUESDAY).lines:
        book.do(TUESDAY, packed(line, day=TUESDAY))
    book.do(TUESDAY, Changed(at=at("6:10", TUESDAY), no_school=True))
    book.today = WEDNESDAY
    assert asked(book) == []


def test_school_after_all_takes_the_question_back(book: Book) -> None:
    book.undo(TUESDAY)
    assert asked(book) == []
    assert opened_again(book, today=WEDNESDAY).opening(WEDNESDAY).lost_days == ()


def test_the_change_says_how_many_visits_are_lost_and_when_the_letter_comes_again(tmp_path: Path) -> None:
    data = reference_school(tmp_path, lost_day="fixed", timetable=B_AND_C)
    ran = trundle("change", "--no-school", "--date", TUESDAY.isoformat(), "--at", "6:10", data=data)
    said = " ".join(ran.out.split())
    assert "3 visits of day B are lost; no class moves on." in said
    assert "Day B comes next on Thu 15 Oct." in said


def test_a_day_called_otherwise_keeps_the_ticks_of_common_lines(tmp_path: Path) -> None:
    """Thu 8 Oct is called C: 3-K of day C needs the yarn that was packed for day D, and no clay."""
    timetable = {"C": {"P1": "3-K"}, "D": {"P1": "3-B", "P2": "3-K", "P3": "4-D"}}
    book = opened(reference_school(tmp_path / "school", timetable=timetable))
    needles = line_of(book.day(THURSDAY), "blunt-needle")
    book.do(THURSDAY, packed(needles, day=THURSDAY))
    before = book.day(THURSDAY)
    book.do(THURSDAY, Changed(at=at("7:55", THURSDAY), day="C"))
    assert book.day(THURSDAY).day_name == "C"
    assert needles.key in book.marks(THURSDAY).lines
    assert line_of(book.day(THURSDAY), "blunt-needle").need == needles.need == 27
    book.undo(THURSDAY)
    assert book.day(THURSDAY) == before
