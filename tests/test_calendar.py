"""The calendar in words: why there is no school, where a year ends, what an announced letter does."""

from __future__ import annotations

from datetime import date

import pytest

from checklists.calendar import Calendar, calendar_of
from checklists.plan.records import Bells, DayOff, Rotation, School

FIRST, LAST = date(2026, 8, 31), date(2026, 10, 30)
OFF = (
    DayOff(date(2026, 9, 7), reason="Labor Day"),
    DayOff(date(2026, 10, 12), date(2026, 10, 13), reason="fall break"),
    DayOff(date(2026, 10, 23)),
)


def a_calendar(
    rotation: Rotation | None = None, lost: tuple[date, ...] = (), announced: dict[str, str] | None = None
) -> Calendar:
    school = School(
        format=1,
        name="Any",
        first_day=FIRST,
        last_day=LAST,
        bells=(Bells("regular"),),
        days_off=OFF,
        rotation=rotation or Rotation(),
    )
    return calendar_of(school, lost, announced)


@pytest.mark.parametrize(
    ("day", "why"),
    [
        (date(2026, 9, 8), ""),
        (date(2026, 9, 7), "Labor Day"),
        (date(2026, 10, 13), "fall break"),
        (date(2026, 10, 23), "day off"),
        (date(2026, 9, 5), "weekend"),
        (date(2026, 8, 28), "outside the school year"),
        (date(2026, 11, 2), "outside the school year"),
    ],
)
def test_a_day_without_school_says_why(day: date, why: str) -> None:
    assert a_calendar().why_no_school(day) == why


def test_a_lost_day_says_that_school_did_not_take_place() -> None:
    tuesday = date(2026, 9, 8)
    calendar = a_calendar(lost=(tuesday,))
    assert calendar.why_no_school(tuesday) == "school did not take place"
    assert not calendar.is_school_day(tuesday)
    assert calendar.next_school_day(date(2026, 9, 4)) == date(2026, 9, 9)


def test_after_the_last_day_nothing_follows_and_before_the_first_day_nothing_came() -> None:
    calendar = a_calendar()
    assert calendar.next_school_day(LAST) is None
    assert calendar.add_school_days(LAST, 1) is None
    assert calendar.add_school_days(FIRST, -1) is None
    assert calendar.next_school_day(date(2026, 8, 1)) == FIRST


def test_two_school_days_before_a_monday_is_the_thursday() -> None:
    assert a_calendar().add_school_days(date(2026, 9, 14), -2) == date(2026, 9, 10)


def test_a_year_that_ends_before_it_begins_has_no_school_days() -> None:
    school = School(format=1, name="Any", first_day=LAST, last_day=FIRST, bells=(Bells("regular"),))
    assert calendar_of(school).planned == ()


def test_days_off_that_overlap_count_once() -> None:
    off = (DayOff(date(2026, 9, 7), date(2026, 9, 9)), DayOff(date(2026, 9, 8), date(2026, 9, 10)))
    school = School(format=1, name="Any", first_day=FIRST, last_day=LAST, bells=(Bells("regular"),), days_off=off)
    assert calendar_of(school).school_days_between(date(2026, 9, 4), date(2026, 9, 11)) == 1


def test_an_announced_weekday_holds_for_that_date_only() -> None:
    """The office lets a Thursday be taught as a Monday."""
    thursday = date(2026, 9, 10)
    calendar = a_calendar(announced={thursday.isoformat(): "Mon"})
    assert [calendar.day_name(date(2026, 9, day)) for day in (9, 10, 11)] == ["Wed", "Mon", "Fri"]


def test_of_two_announced_letters_the_later_one_counts_on() -> None:
    rotation = Rotation(kind="cycle", days=("A", "B", "C", "D"), lost_day="announced")
    calendar = a_calendar(rotation, announced={"2026-09-02": "D", "2026-09-09": "A"})
    days = [date(2026, 8, 31), *(date(2026, 9, day) for day in (1, 2, 3, 8, 9, 10))]
    assert [calendar.day_name(day) for day in days] == ["A", "B", "D", "A", "C", "A", "B"]


def test_a_letter_the_cycle_does_not_know_does_not_move_it() -> None:
    rotation = Rotation(kind="cycle", days=("A", "B"), lost_day="slides")
    calendar = a_calendar(rotation, announced={"2026-09-01": "Q"})
    assert [calendar.day_name(date(2026, 9, day)) for day in (1, 2)] == ["B", "A"]


def test_a_cycle_without_days_names_none() -> None:
    assert a_calendar(Rotation(kind="cycle")).day_name(FIRST) == ""


CYCLE = Rotation(kind="cycle", days=("A", "B", "C", "D"))


def test_a_letter_announced_before_the_year_begins_does_not_count() -> None:
    calendar = a_calendar(CYCLE, announced={"2026-08-20": "C"})
    assert [calendar.day_name(date(2026, *day)) for day in ((8, 31), (9, 1))] == ["A", "B"]


@pytest.mark.parametrize("lost_day", ["slides", "announced"])
def test_the_letter_of_an_announced_day_that_is_then_lost_is_taught_next(lost_day: str) -> None:
    rotation = Rotation(kind="cycle", days=("A", "B", "C", "D"), lost_day=lost_day)  # type: ignore[arg-type]
    tuesday = date(2026, 9, 1)
    calendar = a_calendar(rotation, lost=(tuesday,), announced={tuesday.isoformat(): "D"})
    assert [calendar.day_name(date(2026, *day)) for day in ((8, 31), (9, 2), (9, 3))] == ["A", "D", "A"]


def test_a_letter_the_cycle_does_not_know_leaves_the_one_announced_before() -> None:
    calendar = a_calendar(CYCLE, announced={"2026-09-01": "D", "2026-09-02": "Q"})
    assert [calendar.day_name(date(2026, 9, day)) for day in (1, 2, 3)] == ["D", "A", "B"]
