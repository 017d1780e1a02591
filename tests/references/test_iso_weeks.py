"""Weeks of ISO 8601, and that no rotation here hangs on their numbers.

Nothing in the project computes a week's number. An "A and B week" taken from odd and even week numbers repeats A in the
winter of 2026-27, where 2026-W53 is followed by 2027-W01: so rotations are by weekday or counted by school days.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from checklists.calendar import WEEKDAYS, Calendar, calendar_of
from checklists.plan.records import Bells, Rotation, School

# Source: ISO 8601 week dates; from memory, reproduced with Python's date.isocalendar.
WEEK_DATES = [
    ("2005-01-01", (2004, 53, 6)),
    ("2005-01-02", (2004, 53, 7)),
    ("2005-12-31", (2005, 52, 6)),
    ("2006-01-01", (2005, 52, 7)),
    ("2007-12-31", (2008, 1, 1)),
    ("2008-12-28", (2008, 52, 7)),
    ("2008-12-29", (2009, 1, 1)),
    ("2009-12-31", (2009, 53, 4)),
    ("2010-01-03", (2009, 53, 7)),
    ("2024-12-30", (2025, 1, 1)),
    ("2025-12-29", (2026, 1, 1)),
    ("2026-12-28", (2026, 53, 1)),
]
LONG_YEARS = {2004, 2009, 2015, 2020, 2026, 2032, 2037, 2043, 2048}
"""Years of 53 weeks from 2000 to 2050 (the same source)."""

WEEK_53 = [date(2026, 12, 28) + timedelta(n) for n in range(5)]
WEEK_1 = [date(2027, 1, 4) + timedelta(n) for n in range(5)]


def a_winter(rotation: Rotation) -> Calendar:
    """School through the turn of the year, Mon 14 Dec 2026 to Fri 29 Jan 2027, without a holiday."""
    first, last = date(2026, 12, 14), date(2027, 1, 29)
    return calendar_of(
        School(format=1, name="Any", first_day=first, last_day=last, bells=(Bells("regular"),), rotation=rotation)
    )


@pytest.mark.parametrize(("day", "week_date"), WEEK_DATES)
def test_the_reference_counts_weeks_as_iso_8601_does(day: str, week_date: tuple[int, int, int]) -> None:
    assert tuple(date.fromisoformat(day).isocalendar()) == week_date


def test_the_reference_knows_the_years_of_53_weeks() -> None:
    assert {year for year in range(2000, 2051) if date(year, 12, 28).isocalendar().week == 53} == LONG_YEARS


def test_weekday_rotation_names_every_date_after_its_weekday() -> None:
    calendar = a_winter(Rotation())
    for day in calendar.planned:
        assert calendar.day_name(day) == WEEKDAYS[day.isocalendar().weekday - 1]


def test_a_weekday_means_the_same_in_week_53_and_in_week_1() -> None:
    calendar = a_winter(Rotation())
    assert [day.isocalendar()[:2] for day in WEEK_53] == [(2026, 53)] * 5
    assert [day.isocalendar()[:2] for day in WEEK_1] == [(2027, 1)] * 5
    assert [calendar.day_name(day) for day in WEEK_53] == [calendar.day_name(day) for day in WEEK_1] == list(WEEKDAYS)


def test_two_weeks_in_turn_go_on_over_the_turn_of_the_year_although_both_weeks_are_odd() -> None:
    """An A week and a B week, as a cycle of ten school days: counted, so that A follows B."""
    days = tuple(f"{week} {name}" for week in ("A", "B") for name in WEEKDAYS)
    calendar = a_winter(Rotation(kind="cycle", days=days))
    first_a, first_b = date(2026, 12, 14), date(2026, 12, 21)
    assert calendar.day_name(first_a) == "A Mon"
    assert calendar.day_name(first_b) == "B Mon"
    assert {day.isocalendar().week % 2 for day in (WEEK_53[0], WEEK_1[0])} == {1}
    assert [calendar.day_name(day)[0] for day in WEEK_53] == ["A"] * 5
    assert [calendar.day_name(day)[0] for day in WEEK_1] == ["B"] * 5


def test_a_six_day_cycle_takes_the_next_letter_whatever_the_week_is_called() -> None:
    letters = ("A", "B", "C", "D", "E", "F")
    calendar = a_winter(Rotation(kind="cycle", days=letters))
    names = [calendar.day_name(day) for day in calendar.planned]
    assert names == [letters[n % 6] for n in range(len(names))]
    assert (calendar.day_name(date(2027, 1, 1)), calendar.day_name(date(2027, 1, 4))) == ("C", "D")
