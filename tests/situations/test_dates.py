"""Dates and clocks that make trouble: New Year, 29 February, summer time, a wrong clock, midnight with a window open.

When clocks are put back and dates of 2026 to 2028 are those of the calendar; the rest is common practice, no source.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed, Packed, Reported
from tests.days import (
    FRIDAY,
    TUESDAY,
    at,
    close,
    count_all_back,
    line_of,
    opened,
    opened_again,
    packed,
    teach,
    teach_all,
)
from tests.schools import MONDAY, reference_school, small_school
from tests.tui.desk import AT_7_41, Desk, at_desk

NEW_YEARS_EVE = date(2026, 12, 31)
"""A Thursday: 3-B has its second visit of the week."""
FOURTH_OF_JANUARY = date(2027, 1, 4)
LEAP_DAY = date(2028, 2, 29)
"""A Tuesday."""


def white(book: Book, day: date = MONDAY) -> Packed:
    return packed(line_of(book.day(day), "white-12x18"), day=day)


# ------------------------------------------------------------------------------------------------- over New Year


@pytest.fixture
def new_year(tmp_path: Path) -> Book:
    """The small school without school on Fri 1 Jan 2027; its daybook begins on Mon 28 Dec."""
    off = {"first": date(2027, 1, 1), "reason": "New Year's Day"}
    book = opened(small_school(tmp_path, days_off=[off]), date(2026, 12, 28))
    teach_all(book, date(2026, 12, 28))
    close(book, date(2026, 12, 28))
    return book


def test_the_day_after_new_years_eve_is_the_first_school_day_of_the_next_year(new_year: Book) -> None:
    assert new_year.day(NEW_YEARS_EVE).next_school_day == FOURTH_OF_JANUARY
    assert new_year.list_date(date(2027, 1, 1)) == FOURTH_OF_JANUARY
    assert new_year.list_date(date(2027, 1, 2)) == FOURTH_OF_JANUARY


def test_what_is_open_on_new_years_eve_is_there_in_the_next_year(new_year: Book) -> None:
    teach(new_year, NEW_YEARS_EVE, "3-B", absent=(4, 11))
    close(new_year, NEW_YEARS_EVE)
    new_year.today = FOURTH_OF_JANUARY
    state = new_year.opening(FOURTH_OF_JANUARY)
    assert [each.numbers for each in state.owed["3-B"]] == [(4, 11)]
    assert state.progress["3-B"].lesson == "yarn-birds"
    assert not new_year.check_chain()


def test_an_answer_given_in_january_about_december_is_taken_back_in_january(new_year: Book) -> None:
    new_year.today = FOURTH_OF_JANUARY
    assert [question.date for question in new_year.day(FOURTH_OF_JANUARY).questions] == [NEW_YEARS_EVE]
    new_year.do(FOURTH_OF_JANUARY, white_or_yarn(new_year))
    teach_on(new_year, NEW_YEARS_EVE, at("7:50", FOURTH_OF_JANUARY))
    assert not new_year.day(FOURTH_OF_JANUARY).questions
    assert new_year.undo(FOURTH_OF_JANUARY) == "V1 3-B: done, nobody missing"
    assert len(new_year.day(FOURTH_OF_JANUARY).questions) == 1


def white_or_yarn(book: Book) -> Packed:
    """The first line of the list packed."""
    return packed(book.day(FOURTH_OF_JANUARY).lines[0], day=FOURTH_OF_JANUARY)


def teach_on(book: Book, day: date, moment: datetime) -> None:
    visit = book.day(day).visits[0].key
    book.do(day, Reported(at=moment, visit=visit, outcome="done", absences_known=True))


def test_the_last_week_of_december_is_filled_for_to_its_end_and_not_into_january(new_year: Book) -> None:
    """Mon 28 Dec 2026 to Fri 1 Jan 2027 is week 53 of 2026 in ISO 8601; Mon 4 Jan is in week 1 of 2027."""
    new_year.do(NEW_YEARS_EVE, Changed(at=at("7:00", NEW_YEARS_EVE), fill="week"))
    assert all(not line.ahead for line in new_year.day(NEW_YEARS_EVE).lines)
    new_year.do(FOURTH_OF_JANUARY, Changed(at=at("7:00", FOURTH_OF_JANUARY), fill="week"))
    assert new_year.day(FOURTH_OF_JANUARY).fill == "week"


def test_the_letters_of_a_cycle_go_on_over_new_year(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path), NEW_YEARS_EVE)
    last, first = book.day(NEW_YEARS_EVE).day_name, book.day(date(2027, 1, 1)).day_name
    assert "ABCDEF".index(first) == ("ABCDEF".index(last) + 1) % 6


# ------------------------------------------------------------------------------------------------- 29 February


def test_a_leap_day_is_a_school_day_like_any_other(tmp_path: Path) -> None:
    school: dict[str, Any] = {
        "name": "Small School",
        "first_day": date(2027, 8, 30),
        "last_day": date(2028, 6, 9),
        "bells": [{"id": "regular", "periods": [{"name": "P1", "start": "8:00", "end": "8:45"}]}],
        "rooms": [{"id": "12"}, {"id": "14"}],
        "cart": {"standing": {"scissors": 30}},
    }
    timetable = {"Mon": {"P1": "3-K"}, "Tue": {"P1": "3-B"}, "Wed": {"P1": "3-B"}}
    book = opened(small_school(tmp_path, school=school, timetable=timetable), LEAP_DAY)
    assert book.day(date(2028, 2, 28)).next_school_day == LEAP_DAY
    book.do(LEAP_DAY, white(book, LEAP_DAY))
    teach(book, LEAP_DAY, "3-B", absent=(4,))
    count_all_back(book, LEAP_DAY)
    close(book, LEAP_DAY)
    assert (tmp_path / "daybook" / "2028-02-29.toml").exists()
    book = opened_again(book, date(2028, 3, 1))
    assert book.day(LEAP_DAY).next_school_day == date(2028, 3, 1)
    assert [(each.since, each.numbers) for each in book.opening(date(2028, 3, 1)).owed["3-B"]] == [(LEAP_DAY, (4,))]
    assert not book.check_chain()


# --------------------------------------------------------------------------------------------- clocks put back


def test_a_clock_put_back_an_hour_does_not_change_the_order_of_steps(tmp_path: Path) -> None:
    """The computer puts its clock back from summer time after the first step: the later step is still the newest."""
    book = opened(small_school(tmp_path))
    first, second = book.day(MONDAY).lines[:2]
    book.do(MONDAY, packed(first, clock="7:41"))
    book.do(MONDAY, packed(second, clock="6:45"))
    moments = [mark.at for mark in (book.marks(MONDAY).lines[first.key], book.marks(MONDAY).lines[second.key])]
    assert moments == sorted(moments)
    book = opened_again(book)
    book.undo(MONDAY)
    assert list(book.marks(MONDAY).lines) == [first.key]
    book.undo(MONDAY)
    assert not book.marks(MONDAY).lines


def test_a_day_closed_before_the_clock_is_put_back_is_opened_again_first(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    book.do(MONDAY, packed(book.day(MONDAY).lines[0], clock="15:05"))
    close(book, clock="15:10")
    book = opened_again(book)
    book.do(MONDAY, packed(book.day(MONDAY).lines[1], clock="14:12"))
    book.undo(MONDAY)
    assert len(book.marks(MONDAY).lines) == 1
    assert book.is_closed(MONDAY)
    assert (book.undo(MONDAY) or "").endswith("is open again")


def test_a_clock_put_forward_an_hour_leaves_an_hour_out_and_nothing_else(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    for n, clock in enumerate(("1:59", "3:01")):
        book.do(MONDAY, packed(book.day(MONDAY).lines[n], clock=clock))
    book.undo(MONDAY)
    assert list(book.marks(MONDAY).lines) == [book.day(MONDAY).lines[0].key]


# ------------------------------------------------------------------------------------------------ a wrong clock


def asked(book: Book) -> str:
    """What is asked of the date; "" where nothing is."""
    doubt = book.doubt_of_date()
    return doubt.text if doubt is not None else ""


def after_a_step(folder: Path, day: date) -> Book:
    """The reference school with its newest step made on a day at 7:41."""
    book = opened(reference_school(folder), day)
    book.do(day, packed(book.day(MONDAY).lines[0], day=day))
    return book


def test_nobody_is_asked_for_the_date_on_a_usual_day(tmp_path: Path) -> None:
    book = after_a_step(tmp_path, MONDAY)
    for day in (MONDAY, TUESDAY, date(2026, 10, 13)):  # five school days on: Mon 12 Oct is a holiday
        book = opened_again(book, day)
        assert asked(book) == ""


def test_more_than_five_school_days_without_a_step_are_asked_about(tmp_path: Path) -> None:
    book = opened_again(after_a_step(tmp_path, MONDAY), date(2026, 10, 14))
    said = "Today is Wed 14 Oct? The last step was made on Mon 5 Oct, 6 school days ago."
    assert asked(book) == said
    book.do(date(2026, 10, 14), packed(book.day(date(2026, 10, 14)).lines[0], day=date(2026, 10, 14)))
    assert asked(book) == ""


@pytest.mark.parametrize("day", [date(2026, 10, 2), date(2026, 1, 1), date(1970, 1, 1)])
def test_a_step_that_is_still_to_come_is_asked_about_and_nothing_is_lost(day: date, tmp_path: Path) -> None:
    """Also where the clock says a day before the school year: the list is that of a school day, and ticks are kept."""
    book = opened_again(after_a_step(tmp_path, MONDAY), day)
    assert asked(book).startswith(f"Today is {day:%a} {day.day} {day:%b} {day.year}?")
    assert "Mon 5 Oct 2026, which is still to come" in asked(book)
    listed = book.list_date(day)
    assert book.day(listed).school_day
    before = set(book.marks(MONDAY).lines)
    book.do(MONDAY, packed(book.day(MONDAY).lines[1], day=day))
    assert opened_again(book, MONDAY).marks(MONDAY).lines.keys() > before


async def test_a_clock_that_cannot_be_right_is_told_above_the_list(tmp_path: Path) -> None:
    after_a_step(tmp_path, FRIDAY).release()
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
        assert "! Today is Mon 5 Oct 2026? The last step was made on" in desk.screen


async def test_a_long_time_without_a_step_is_asked_about_once_below_the_list(tmp_path: Path) -> None:
    after_a_step(tmp_path, MONDAY).release()
    async with at_desk(tmp_path, now=datetime(2026, 10, 14, 7, 41)) as desk:
        await desk.wait_for("Today is Wed 14 Oct? The last step was made on Mon 5 Oct")
        await desk.press("enter")
        assert "Today is" not in desk.screen


# ------------------------------------------------------------------------------- midnight with the program open


def school_of_every_day(folder: Path) -> Path:
    """The small school with 3-B on every day."""
    return small_school(folder, timetable={day: {"P1": "3-B"} for day in ("Mon", "Tue", "Wed", "Thu", "Fri")})


def steps_on(desk: Desk, day: date) -> int:
    """Lines packed and things seen to: late in the evening what there is to do comes first."""
    marks = desk.book.marks(day)
    return len(marks.lines) + len(marks.seen_to)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_at_midnight_the_list_stays_and_the_head_says_that_it_is_another_day(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with at_desk(school_of_every_day(tmp_path), size=size, now=datetime(2026, 10, 5, 23, 58)) as desk:
        await desk.press("enter")
        assert "now: d shows it" not in desk.screen
        desk.app.now = lambda: datetime(2026, 10, 6, 0, 3)
        await desk.press("enter")
        assert "It is Tue 6 Oct now: d shows it" in desk.screen
        assert desk.screen.lstrip().startswith("Mon 5 Oct")
        assert steps_on(desk, MONDAY) == 2
        assert not steps_on(desk, TUESDAY)
        await desk.press("u")
        assert steps_on(desk, MONDAY) == 1


async def test_the_key_the_head_names_shows_the_new_day_and_then_goes_on_from_it(tmp_path: Path) -> None:
    async with at_desk(school_of_every_day(tmp_path), now=datetime(2026, 10, 5, 23, 58)) as desk:
        desk.app.now = lambda: datetime(2026, 10, 6, 7, 30)
        await desk.press("d")
        assert desk.screen.lstrip().startswith("Tue 6 Oct")
        assert "now: d shows it" not in desk.screen
        assert desk.book.today == TUESDAY
        await desk.press("d")
        assert "Wed 7 Oct" in desk.screen.splitlines()[0]
        await desk.press("d")
        assert desk.screen.lstrip().startswith("Tue 6 Oct")


async def test_nothing_is_said_where_the_list_is_that_of_the_new_day_already(tmp_path: Path) -> None:
    """Opened on a Sunday evening it shows Monday: after midnight that is today."""
    async with at_desk(tmp_path, now=AT_7_41 - timedelta(hours=8)) as desk:
        assert desk.screen.lstrip().startswith("Mon 5 Oct")
        desk.app.now = lambda: AT_7_41
        await desk.press("enter")
        assert "It is" not in desk.screen
        assert "7:41" in desk.screen.splitlines()[0]


def test_a_new_daybook_that_begins_with_tomorrow_shows_the_same_list_after_a_restart(tmp_path: Path) -> None:
    """On Monday, of which nothing is told, she ticks Tuesday's list: a class that comes both days is at part 2 then."""
    small_school(tmp_path, timetable={"Mon": {"P1": "3-B"}, "Tue": {"P1": "3-B"}})
    with opened(tmp_path, MONDAY) as book:
        (before,) = book.day(TUESDAY).visits
        line = book.day(TUESDAY).lines[0]
        book.do(TUESDAY, Packed(at=at("15:00", MONDAY), line=line.key, count=line.need))
        assert book.day(TUESDAY).visits == (before,)
    with opened(tmp_path, MONDAY) as again:
        assert again.day(TUESDAY).visits == (before,)
        assert before.steps[0].part == 2
    with opened(tmp_path, TUESDAY) as tomorrow:
        assert [question.class_id for question in tomorrow.day(TUESDAY).questions] == ["3-B"]
        assert tomorrow.check_chain() == ()
