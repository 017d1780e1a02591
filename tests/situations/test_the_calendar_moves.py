"""The day or the calendar is not as planned, on the reference school. Situations T01 to T04, T06 (in part) and T10.

Common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.lines.records import Caution, Day
from tests.commandline.running import trundle
from tests.days import (
    FRIDAY,
    NEXT_DAY_A,
    NEXT_THURSDAY,
    THURSDAY,
    TUESDAY,
    TUESDAY_13,
    WEDNESDAY,
    at,
    close,
    line_of,
    needs_by_supply,
    opened,
    opened_again,
    packed,
    teach_all,
    visit_of,
)
from tests.schools import MONDAY, reference_school

DAY_B_TOO = {"A": {"P1": "K-M"}, "B": {"P1": "3-B", "P2": "3-K"}}
"""A timetable with visits on day B, for a Tuesday that is lost."""


def change(book: Book, on: date, **said: object) -> None:
    book.do(on, Changed(at=at("6:10", on), **said))  # type: ignore[arg-type]


def letters(book: Book) -> list[str]:
    """The letters of Mon 5 Oct to Thu 15 Oct 2026, days off left out."""
    days = (MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, TUESDAY_13, NEXT_DAY_A, NEXT_THURSDAY)
    return [book.day(day).day_name for day in days]


def cautions_of(day: Day, class_id: str, rule: str) -> list[Caution]:
    return [each for each in day.cautions if each.key.split("/")[1] == class_id and each.because[0].rule == rule]


# ------------------------------------------------------------------------------------ T01, T02 snow on Tuesday


def test_after_a_snow_day_the_cycle_slides(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    assert letters(book) == ["A", "B", "C", "D", "E", "F", "A", "B"]
    change(book, TUESDAY, no_school=True)
    assert letters(book) == ["A", "", "B", "C", "D", "E", "F", "A"]
    assert letters(opened_again(book)) == ["A", "", "B", "C", "D", "E", "F", "A"]


def test_after_a_snow_day_the_letters_may_stay_with_their_dates(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path, lost_day="fixed"))
    change(book, TUESDAY, no_school=True)
    assert letters(book) == ["A", "", "C", "D", "E", "F", "A", "B"]


@pytest.mark.parametrize("lost_day", ["slides", "fixed"])
def test_on_a_snow_day_no_class_moves_on_and_nobody_is_asked_for(tmp_path: Path, lost_day: str) -> None:
    book = opened(reference_school(tmp_path, lost_day=lost_day, timetable=DAY_B_TOO))
    teach_all(book, MONDAY)
    close(book)
    before = book.opening(TUESDAY)
    change(book, TUESDAY, no_school=True)
    assert book.day(TUESDAY).visits == ()
    assert book.day(TUESDAY).why_no_school == "school did not take place"
    book.today = WEDNESDAY
    after = book.opening(WEDNESDAY)
    assert (after.progress, after.unsure, after.owed, after.contents) == (
        before.progress,
        before.unsure,
        before.owed,
        before.contents,
    )
    assert after.lost_days == (TUESDAY,)
    assert book.day(WEDNESDAY).questions == ()


def test_what_was_ticked_for_the_lost_day_is_in_the_box_when_its_letter_comes(tmp_path: Path) -> None:
    """The lines of Tue 6 Oct were ticked on Monday afternoon: on Wed, day B, they ask only to be seen."""
    book = opened(reference_school(tmp_path, timetable=DAY_B_TOO))
    teach_all(book, MONDAY)
    for line in book.day(TUESDAY).lines:
        book.do(TUESDAY, packed(line, day=TUESDAY))
    close(book)
    needs = needs_by_supply(book.day(TUESDAY))
    change(book, TUESDAY, no_school=True)

    book = opened_again(book, today=WEDNESDAY)
    day = book.day(WEDNESDAY)
    assert day.day_name == "B"
    assert needs_by_supply(day) == needs
    left = {line.supply: line.add for line in day.lines if not line.supply.startswith("folder ")}
    assert set(left.values()) == {0}


def test_a_snow_day_by_mistake_is_undone(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    change(book, TUESDAY, no_school=True)
    assert book.undo(TUESDAY) == "the day changed: no school"
    assert letters(opened_again(book)) == ["A", "B", "C", "D", "E", "F", "A", "B"]


# --------------------------------------------------------------------------- T03 the office says another letter


def test_an_announced_letter_counts_from_that_day_on(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    change(book, THURSDAY, day="C")
    assert letters(book) == ["A", "B", "C", "C", "D", "E", "F", "A"]
    book.today = FRIDAY
    assert letters(opened_again(book)) == ["A", "B", "C", "C", "D", "E", "F", "A"]


# ------------------------------------------------------------------------------------- T04 a two-hour delay


@pytest.fixture
def delayed(tmp_path: Path) -> Book:
    """The bells of Mon 5 Oct begin two hours later: no P1 and P2, 30 minutes each from P3 on."""
    book = opened(reference_school(tmp_path))
    change(book, MONDAY, bells="two hours later")
    return book


def test_with_a_late_opening_the_first_two_visits_and_their_containers_are_gone(delayed: Book) -> None:
    day = delayed.day(MONDAY)
    assert day.bells == "two hours later"
    assert [visit.class_id for visit in day.visits] == ["3-B", "3-K", "2-R", "4-D", "5-H"]
    assert not {"box-K", "box-1", "watercolour"} & {each.id for each in day.containers}
    assert not any(line.container in ("box-K", "box-1", "watercolour") for line in day.lines)


def test_a_period_of_30_minutes_is_said_to_be_too_short_for_a_part_of_35(delayed: Book) -> None:
    day = delayed.day(MONDAY)
    for class_id in ("3-B", "3-K", "2-R", "4-D", "5-H"):
        (asked,) = (each for each in day.decisions if each.visit.endswith(class_id))
        assert f"The part of {class_id} needs 35 min, the period has 30: short 5." == asked.text


def test_the_usual_bells_are_long_enough(tmp_path: Path) -> None:
    day = opened(reference_school(tmp_path)).day(MONDAY)
    assert day.decisions == ()


def test_classes_that_did_not_come_stay_where_they_are(delayed: Book) -> None:
    teach_all(delayed, MONDAY)
    close(delayed)
    state = opened_again(delayed, today=TUESDAY).opening(TUESDAY)
    assert (state.progress["K-M"].part, state.progress["1-P"].part, state.progress["3-B"].part) == (2, 1, 3)
    assert state.unsure == {}


def test_leave_by_goes_with_the_late_bell(delayed: Book) -> None:
    # First bell 10:00, 2 minutes to room 12, 4 to set up, 2 of slack.
    assert delayed.day(MONDAY).leave_by == 10 * 60 - 2 - 4 - 2


# ----------------------------------------------------------------------- T06 an assembly takes a visit (in part)


@pytest.fixture
def without_3_b(tmp_path: Path) -> Book:
    """3-B is at an assembly on Mon 5 Oct."""
    book = opened(reference_school(tmp_path))
    change(book, MONDAY, away=("3-B",))
    return book


def test_a_class_that_is_away_takes_its_share_out_of_the_shared_box(without_3_b: Book) -> None:
    day = without_3_b.day(MONDAY)
    assert "3-B" not in [visit.class_id for visit in day.visits]
    assert line_of(day, "yarn-ball").need == 28  # 25 and 3, not 54
    assert line_of(day, "blunt-needle").need == 27  # 25 and 2: the kit is needed still
    assert not any(line.supply == "folder 3-B" for line in day.lines)


def test_ticks_that_still_apply_are_kept_when_the_day_changes(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "clay-mat")))
    change(book, MONDAY, away=("3-B",))
    assert "clay/clay-mat" in opened_again(book).marks(MONDAY).lines


def test_the_class_that_was_away_keeps_its_part_and_is_not_asked_for(without_3_b: Book) -> None:
    teach_all(without_3_b, MONDAY)
    close(without_3_b)
    book = opened_again(without_3_b, today=NEXT_DAY_A)
    assert book.opening(NEXT_DAY_A).progress["3-B"].part == 2
    assert book.day(NEXT_DAY_A).questions == ()
    assert visit_of(book.day(NEXT_DAY_A), "3-B").steps[0].part == 2


# ------------------------------------------------------------------------------- T10 glaze before the kiln


def test_today_says_that_the_next_visit_comes_before_the_kiln_is_done(tmp_path: Path) -> None:
    """Owls of 4-D on Mon 5 Oct: dry to Mon 12 (a holiday), load on Tue 13, out on Thu 15; the next visit is Wed 14."""
    day = opened(reference_school(tmp_path)).day(MONDAY)
    (caution,) = cautions_of(day, "4-D", "next-too-early")
    assert "not before Thu 15 Oct" in caution.what
    assert "Wed 14 Oct" in caution.what
    assert "filler" in caution.what


def test_the_too_early_visit_itself_says_it_as_critical(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    (caution,) = cautions_of(book.day(NEXT_DAY_A), "4-D", "too-early")
    assert caution.critical
    assert "not before Thu 15 Oct" in caution.what


def test_with_a_snow_day_the_next_visit_slides_to_thursday_and_the_warning_is_gone(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    change(book, TUESDAY, no_school=True)
    book.today = WEDNESDAY
    assert book.day(NEXT_THURSDAY).day_name == "A"
    assert cautions_of(book.day(NEXT_THURSDAY), "4-D", "too-early") == []


def test_the_kiln_by_the_command_line(tmp_path: Path) -> None:
    shown = trundle("morning", "--date", "2026-10-05", "--at", "7:41", data=reference_school(tmp_path))
    words = " ".join(shown.out.split())
    assert "4-D comes again on Wed 14 Oct" in words
    assert "not before Thu 15 Oct" in words
