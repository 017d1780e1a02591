"""The usual days off of a school year against the rules of the federal holidays and dates that were published."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from checklists.calendar import calendar_of
from checklists.first_start.usual_year import (
    SCHOOL_DAYS,
    federal_holidays,
    usual_days_off,
    usual_first_day,
    usual_last_day,
    year_of,
)


def test_the_federal_holidays_of_two_years_are_the_dates_they_were_observed_on() -> None:
    """Source: dates of the Office of Personnel Management for 2021 and 2023 (5 U.S.C. 6103, Executive Order 11582)."""
    assert [day for day, _ in federal_holidays(2021)] == [
        date(2021, *each)
        for each in (
            (1, 1), (1, 18), (2, 15), (5, 31), (6, 18), (7, 5), (9, 6), (10, 11), (11, 11), (11, 25), (12, 24),
        )
    ]  # fmt: skip
    assert [day for day, _ in federal_holidays(2023)] == [
        date(2023, *each)
        for each in (
            (1, 2), (1, 16), (2, 20), (5, 29), (6, 19), (7, 4), (9, 4), (10, 9), (11, 10), (11, 23), (12, 25),
        )
    ]  # fmt: skip


@given(st.integers(2000, 2190))
def test_every_federal_holiday_is_a_monday_to_friday_in_its_week_of_the_month(year: int) -> None:
    """Source: 5 U.S.C. 6103(a): third, last, first, second Monday, fourth Thursday; (b): Saturdays and Sundays."""
    by_name = {name: day for day, name in federal_holidays(year)}
    assert len(by_name) == 11
    assert all(day.weekday() < 5 for day in by_name.values())
    weeks = {
        "Birthday of Martin Luther King, Jr.": (1, 0, range(15, 22)),
        "Washington's Birthday": (2, 0, range(15, 22)),
        "Memorial Day": (5, 0, range(25, 32)),
        "Labor Day": (9, 0, range(1, 8)),
        "Columbus Day": (10, 0, range(8, 15)),
        "Thanksgiving Day": (11, 3, range(22, 29)),
    }
    for name, (month, weekday, days) in weeks.items():
        day = by_name[name]
        assert (day.month, day.weekday()) == (month, weekday) and day.day in days


@given(st.dates(date(2000, 1, 1), date(2190, 12, 31)))
def test_a_usual_year_has_180_school_days_and_is_not_over(today: date) -> None:
    """180 days, Thanksgiving 2, winter 10, spring 5: common practice, no source."""
    first = usual_first_day(today)
    last = usual_last_day(first)
    off = usual_days_off(first, last)
    calendar = calendar_of(year_of(first, last, off))
    assert len(calendar.planned) == SCHOOL_DAYS
    assert last >= today and calendar.planned[0] == first and calendar.planned[-1] == last
    lengths = {}
    for each in off:
        days = [each.first + timedelta(n) for n in range(((each.last or each.first) - each.first).days + 1)]
        lengths[each.reason] = sum(day.weekday() < 5 for day in days)
    assert (lengths["Thanksgiving"], lengths["Winter break"], lengths["Spring break"]) == (2, 10, 5)
    free = {day for each in off for day in (each.first, each.last or each.first)}
    assert all(not calendar.is_school_day(day) for year in (first.year, last.year) for day, _ in federal_holidays(year))
    assert free
