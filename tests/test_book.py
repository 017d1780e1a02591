"""An open data folder through days that are closed, left open, corrected, ticked ahead or read by two windows."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book, CannotOpen, NotSaved
from checklists.daybook.entries import Changed, Packed
from checklists.daybook.line_states import is_open, state_of
from checklists.daybook.state import Owed
from tests.days import (
    FRIDAY,
    NEXT_MONDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    close,
    line_of,
    needs_by_supply,
    opened,
    opened_again,
    packed,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    SATURDAY_BEFORE,
    a_lesson,
    a_part,
    an_item,
    in_the_evening,
    reference_school,
    small_school,
    write_toml,
)

EVERY_DAY = {day: {"P1": "3-B", "P2": "3-K"} for day in ("Mon", "Tue", "Wed", "Thu", "Fri")}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Mon 5 Oct of the small school, both classes every day; the daybook begins on the Friday before."""
    folder = small_school(tmp_path, timetable=EVERY_DAY, teaching={"3": ["paper-hills", "yarn-birds", "paper-birds"]})
    more = [a_part("fold", [an_item("white-12x18")])] * 9
    write_toml(folder / "lessons" / "paper-birds.toml", a_lesson("paper-birds", more))
    return opened(in_the_evening(folder, contents={"cart": {"scissors": 30}}, on_hand={"white-12x18": 400}))


# ----------------------------------------------------------------------------------------------- never blocked


def test_three_unclosed_days_open_the_fourth_with_a_question_for_each_visit(book: Book) -> None:
    for past in (MONDAY, TUESDAY, WEDNESDAY):
        book.do(past, packed(book.day(past).lines[0], day=past))
    book = opened_again(book, today=THURSDAY)
    day = book.day(THURSDAY)
    assert len(day.questions) == 6
    assert [each.date for each in day.questions] == sorted(each.date for each in day.questions)
    assert len(visit_of(day, "3-B").steps) == 3
    book.do(THURSDAY, packed(day.lines[0], day=THURSDAY))


def test_answering_the_oldest_day_leaves_the_others_open(book: Book) -> None:
    book.do(TUESDAY, packed(book.day(TUESDAY).lines[0], day=TUESDAY))
    book.today = WEDNESDAY
    assert len(book.day(WEDNESDAY).questions) == 4
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id)
    assert {each.date for each in book.day(WEDNESDAY).questions} == {TUESDAY}
    assert book.opening(WEDNESDAY).progress["3-B"].part == 2


def test_the_year_begins_with_the_first_day_she_used(tmp_path: Path) -> None:
    """Nothing was ever told of the weeks before: they are not asked for."""
    book = opened(small_school(tmp_path, timetable=EVERY_DAY), today=WEDNESDAY)
    book.do(WEDNESDAY, packed(book.day(WEDNESDAY).lines[0], day=WEDNESDAY))
    book = opened_again(book, today=THURSDAY)
    assert {each.date for each in book.day(THURSDAY).questions} == {WEDNESDAY}


def test_days_she_never_opened_are_asked_for_as_well(book: Book) -> None:
    teach_all(book, MONDAY)
    close(book)
    book = opened_again(book, today=THURSDAY)
    assert {each.date for each in book.day(THURSDAY).questions} == {TUESDAY, WEDNESDAY}


def test_the_days_may_be_closed_in_any_order(book: Book) -> None:
    for day in (MONDAY, TUESDAY):
        for class_id in ("3-B", "3-K"):
            teach(book, day, class_id)
    book.today = WEDNESDAY
    close(book, TUESDAY)
    assert book.check_chain() == ()
    close(book, MONDAY)
    assert book.check_chain() == ()
    assert book.opening(WEDNESDAY).progress["3-B"].lesson == "yarn-birds"


# ----------------------------------------------------------------------------------------------- ticked ahead


def test_tomorrow_ticked_ahead_keeps_its_ticks_when_today_is_closed(book: Book) -> None:
    book = opened_again(book, today=MONDAY)
    ahead = book.day(TUESDAY).lines
    for line in ahead:
        book.do(TUESDAY, Packed(at=at("14:50"), line=line.key, count=line.need))
    teach_all(book, MONDAY)
    close(book)
    book = opened_again(book, today=TUESDAY)
    assert book.day(TUESDAY).lines == ahead
    assert not any(is_open(line, book.marks(TUESDAY)) for line in ahead)


def test_where_today_ended_otherwise_than_planned_the_ticks_that_apply_are_kept(book: Book) -> None:
    """On Tue both classes are expected at part 2; 3-B was not taught on Monday and is at part 1 still."""
    for line in book.day(TUESDAY).lines:
        book.do(TUESDAY, Packed(at=at("14:50"), line=line.key, count=line.need))
    expected = needs_by_supply(book.day(TUESDAY))
    assert "white-12x18" not in expected
    teach(book, MONDAY, "3-B", "not taught")
    teach(book, MONDAY, "3-K")
    close(book)
    book = opened_again(book, today=TUESDAY)
    marks = book.marks(TUESDAY)
    day = book.day(TUESDAY)
    assert state_of(line_of(day, "white-12x18"), marks) == "open"
    assert state_of(line_of(day, "glue-stick"), marks) == "packed"


def test_monday_ticked_on_friday_is_ticked_on_monday(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path), today=FRIDAY_BEFORE)
    assert book.list_date(FRIDAY_BEFORE) == MONDAY
    for line in book.day(MONDAY).lines:
        book.do(MONDAY, Packed(at=at("14:50", FRIDAY_BEFORE), line=line.key, count=line.need))
    close(book, FRIDAY_BEFORE)
    book = opened_again(book, today=MONDAY)
    assert not any(is_open(line, book.marks(MONDAY)) for line in book.day(MONDAY).lines)


def test_looking_ahead_leaves_nothing_behind(book: Book) -> None:
    before = sorted(path.name for path in (book.folder / "daybook").glob("*"))
    for day in (TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, NEXT_MONDAY):
        assert book.day(day).visits
    book.release()
    assert sorted(path.name for path in (book.folder / "daybook").glob("*")) == before


def test_a_day_looked_past_counts_as_taught_as_planned(book: Book) -> None:
    assert visit_of(book.day(TUESDAY), "3-B").steps[0].part == 2
    assert visit_of(book.day(WEDNESDAY), "3-B").steps[0].lesson == "yarn-birds"
    assert book.day(WEDNESDAY).questions == ()
    assert book.day(WEDNESDAY).matters == ()


def test_before_anything_was_told_days_ahead_go_by_the_plan_from_today_on(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path, timetable=EVERY_DAY), today=MONDAY)
    assert [visit_of(book.day(day), "3-B").steps[0].part for day in (MONDAY, TUESDAY)] == [1, 2]
    assert visit_of(book.day(WEDNESDAY), "3-B").steps[0].lesson == "yarn-birds"
    assert book.day(TUESDAY).questions == ()
    assert not list((book.folder / "daybook").glob("*.toml"))


# ------------------------------------------------------------------------------------------- corrected later


def test_an_absence_told_on_friday_for_tuesday_reaches_the_classes_kit(book: Book) -> None:
    for day in (MONDAY, TUESDAY, WEDNESDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.today = FRIDAY
    line = book.day(FRIDAY).lines[0]
    book.do(FRIDAY, packed(line, day=FRIDAY))
    on_hand = book.opening(FRIDAY).on_hand

    visit = visit_of(book.day(TUESDAY), "3-B")
    report = book.marks(TUESDAY).reports[visit.key]
    teach(book, TUESDAY, "3-B", report.outcome, absent=(5,))

    assert book.is_closed(TUESDAY)
    assert Owed("paper-hills", 2, TUESDAY, (5,)) in book.opening(FRIDAY).owed["3-B"]
    assert state_of(line, book.marks(FRIDAY)) in ("packed", "met")
    assert book.opening(FRIDAY).on_hand == on_hand  # nothing that is used up was in that part
    assert book.check_chain() == ()
    assert opened_again(book).check_chain() == ()


def test_a_correction_is_taken_back_like_any_step(book: Book) -> None:
    for day in (MONDAY, TUESDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    before = book.closing_of(TUESDAY)
    teach(book, MONDAY, "3-B", "not taught")
    assert book.closing_of(TUESDAY) != before
    # A correction of Monday made now is newer than Monday's closing.
    assert book.undo(MONDAY) is not None
    assert book.closing_of(TUESDAY) == before


# ------------------------------------------------------------------------------------------- which day opens


@pytest.mark.parametrize(
    ("today", "opens"),
    [(MONDAY, MONDAY), (SATURDAY_BEFORE, MONDAY), (FRIDAY_BEFORE, MONDAY), (TUESDAY, THURSDAY), (FRIDAY, NEXT_MONDAY)],
)
def test_it_opens_on_today_or_on_the_next_day_that_has_visits(tmp_path: Path, today: date, opens: date) -> None:
    book = opened(small_school(tmp_path), today=today)
    assert book.list_date(today) == opens


def test_a_day_that_was_called_off_is_not_the_day_it_opens_on(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    book.do(MONDAY, Changed(at=at("6:10"), no_school=True))
    assert book.list_date(MONDAY) == THURSDAY


# ---------------------------------------------------------------------------------------------- two windows


def test_a_second_window_reads_and_says_why_it_does_not_write(book: Book) -> None:
    book.do(MONDAY, packed(book.day(MONDAY).lines[0]))
    second = Book.open(book.folder, today=MONDAY)
    assert not second.writable
    assert "Another window" in second.why_read_only
    assert second.marks(MONDAY) == book.marks(MONDAY)
    with pytest.raises(NotSaved):
        second.do(MONDAY, packed(book.day(MONDAY).lines[1]))
    with pytest.raises(NotSaved):
        second.undo(MONDAY)
    with pytest.raises(NotSaved):
        close(second)
    assert len(second.marks(MONDAY).lines) == 1


def test_once_the_first_window_is_closed_the_next_one_writes(book: Book) -> None:
    book.release()
    with opened(book.folder) as second:
        second.do(MONDAY, packed(second.day(MONDAY).lines[0]))
    assert len(opened(book.folder).marks(MONDAY).lines) == 1
    with pytest.raises(NotSaved):
        book.do(MONDAY, packed(book.day(MONDAY).lines[0]))


def test_a_folder_without_a_plan_cannot_be_opened_and_says_what_is_missing(tmp_path: Path) -> None:
    with pytest.raises(CannotOpen) as cannot:
        Book.open(tmp_path)
    assert {problem.file for problem in cannot.value.problems} >= {"school.toml", "classes.toml"}
    assert "school.toml" in str(cannot.value)


def test_folding_keeps_every_entry(book: Book) -> None:
    lines = book.day(MONDAY).lines
    for line in lines:
        book.do(MONDAY, packed(line))
        book.fold()
    assert not list((book.folder / "daybook").glob("*.journal"))
    assert len(opened_again(book).marks(MONDAY).lines) == len(lines)


def test_a_year_begins_full_and_every_class_at_its_first_lesson(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    for file in (folder / "daybook").iterdir():
        file.unlink()
    book = opened(folder)
    state = book.opening(MONDAY)
    assert state.contents["cart"] == {"scissors": 30}
    assert state.contents["stitching"] == {"blunt-needle": 30}
    assert visit_of(book.day(MONDAY), "3-B").steps[0].part == 1
