"""School days and the cycle against numpy's business days, and against a plain count."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checklists.calendar import Calendar, calendar_of
from checklists.plan.records import Bells, DayOff, Rotation, School
from tests.days import days_from

CYCLE = ("1", "2", "3", "4", "5", "6")
START = date(2026, 8, 24)


def a_school(
    first: date, last: date, days_off: tuple[DayOff, ...] = (), lost_day: str = "slides", days: tuple[str, ...] = CYCLE
) -> School:
    rotation = Rotation(kind="cycle", days=days, lost_day=lost_day)  # type: ignore[arg-type]
    return School(
        format=1,
        name="Any School",
        first_day=first,
        last_day=last,
        bells=(Bells("regular"),),
        days_off=days_off,
        rotation=rotation,
    )


def in_numpy(days: list[date]) -> np.ndarray:
    return np.array(days, dtype="datetime64[D]")


def every_date(calendar: Calendar) -> list[date]:
    first, last = calendar.school.first_day, calendar.school.last_day
    return days_from(first, (last - first).days + 1)


@st.composite
def calendars(draw: st.DrawFn) -> tuple[Calendar, list[date]]:
    """A calendar of up to a year, and the dates on which there is no school although they are weekdays."""
    first = START + timedelta(draw(st.integers(0, 20)))
    length = draw(st.integers(5, 300))
    spans = draw(st.lists(st.tuples(st.integers(0, length), st.integers(0, 9)), max_size=6))
    off = tuple(DayOff(first + timedelta(start), first + timedelta(start + more)) for start, more in spans)
    lost = tuple(first + timedelta(n) for n in draw(st.lists(st.integers(0, length), max_size=5, unique=True)))
    calendar = calendar_of(a_school(first, first + timedelta(length), off), lost)
    closed = [day for each in off for day in days_from(each.first, ((each.last or each.first) - each.first).days + 1)]
    return calendar, sorted({*closed, *lost})


# ------------------------------------------------------------------------------------- school days by numpy


@settings(max_examples=60, deadline=None)
@given(calendars())
def test_a_school_day_is_a_weekday_that_is_not_off_and_not_lost(known: tuple[Calendar, list[date]]) -> None:
    # Reference: numpy.is_busday, Monday to Friday without the holidays.
    calendar, closed = known
    dates = every_date(calendar)
    assert [calendar.is_school_day(day) for day in dates] == np.is_busday(
        in_numpy(dates), holidays=in_numpy(closed)
    ).tolist()


@settings(max_examples=60, deadline=None)
@given(calendars(), st.data())
def test_school_days_between_two_dates_are_counted_like_business_days(
    known: tuple[Calendar, list[date]], data: st.DataObject
) -> None:
    # Reference: numpy.busday_count, which leaves its end out: "after first, up to and including last" is moved by one.
    calendar, closed = known
    first, last = sorted(data.draw(st.lists(st.sampled_from(every_date(calendar)), min_size=2, max_size=2)))
    counted = int(np.busday_count(first + timedelta(1), last + timedelta(1), holidays=in_numpy(closed)))
    assert calendar.school_days_between(first, last) == counted
    assert calendar.school_days_between(last, first) == 0


@settings(max_examples=80, deadline=None)
@given(calendars(), st.integers(-25, 25), st.data())
def test_adding_school_days_moves_like_a_business_day_offset(
    known: tuple[Calendar, list[date]], count: int, data: st.DataObject
) -> None:
    # Reference: numpy.busday_offset. From a day off, going forward starts at the school day before it and going back at
    # the one after it ("roll"); with 0 it is the next school day. numpy's year has no ends: beyond ours is nothing.
    calendar, closed = known
    day = data.draw(st.sampled_from(every_date(calendar)))
    roll: Literal["backward", "forward"] = "backward" if count > 0 else "forward"
    moved = np.busday_offset(np.datetime64(day), count, roll=roll, holidays=in_numpy(closed)).astype(date)
    inside = calendar.school.first_day <= moved <= calendar.school.last_day
    assert calendar.add_school_days(day, count) == (moved if inside else None)


@settings(max_examples=30, deadline=None)
@given(calendars(), st.data())
def test_the_next_school_day_is_the_first_of_those_after(
    known: tuple[Calendar, list[date]], data: st.DataObject
) -> None:
    calendar, closed = known
    day = data.draw(st.sampled_from(every_date(calendar)))
    after = [each for each in every_date(calendar) if each > day]
    open_ = [each for each in after if bool(np.is_busday(np.datetime64(each), holidays=in_numpy(closed)))]
    assert list(calendar.school_days_after(day)) == open_
    assert calendar.next_school_day(day) == (open_[0] if open_ else None)


def test_numpy_counts_as_its_documentation_says() -> None:
    # Source: numpy's documentation of busday_count, busday_offset and is_busday. It is the measure above, so its own
    # examples are held first.
    assert int(np.busday_count("2011-01", "2011-02")) == 21
    assert int(np.busday_count("2011", "2012")) == 260
    assert str(np.busday_offset("2011-10", 0, roll="forward")) == "2011-10-03"
    assert str(np.busday_offset("2012-03", -1, roll="forward")) == "2012-02-29"
    holidays = ["2011-07-01", "2011-07-04", "2011-07-17"]
    assert np.is_busday(["2011-07-01", "2011-07-02", "2011-07-18"], holidays=holidays).tolist() == [False, False, True]


# ------------------------------------------------------------------------------------------- a whole year

YEAR_OFF = (
    DayOff(date(2026, 9, 7)),
    DayOff(date(2026, 10, 12)),
    DayOff(date(2026, 11, 11)),
    DayOff(date(2026, 11, 26), date(2026, 11, 27)),
    DayOff(date(2026, 12, 21), date(2027, 1, 1)),
    DayOff(date(2027, 1, 18)),
    DayOff(date(2027, 2, 15)),
    DayOff(date(2027, 4, 5), date(2027, 4, 9)),
    DayOff(date(2027, 5, 31)),
)
YEAR = a_school(date(2026, 9, 1), date(2027, 6, 11), YEAR_OFF)


def test_the_year_of_2026_27_has_181_school_days() -> None:
    # A year of our own, counted with numpy beforehand (no publication).
    calendar = calendar_of(YEAR)
    assert len(calendar.planned) == 181
    assert calendar.school_days_between(YEAR.first_day - timedelta(1), YEAR.last_day) == 181


@pytest.mark.parametrize(
    ("day", "name"),
    [
        (date(2026, 9, 1), "1"),
        (date(2026, 9, 8), "5"),
        (date(2026, 11, 30), "6"),
        (date(2027, 1, 4), "3"),
        (date(2027, 4, 12), "6"),
        (date(2027, 6, 11), "1"),
    ],
)
def test_a_six_day_cycle_of_that_year_is_counted_by_school_days(day: date, name: str) -> None:
    # The same year, calculated with numpy beforehand.
    assert calendar_of(YEAR).day_name(day) == name


def test_a_day_off_has_no_name_and_does_not_count() -> None:
    calendar = calendar_of(YEAR)
    assert calendar.day_name(date(2026, 9, 7)) == ""
    assert calendar.day_name(date(2026, 9, 5)) == ""


# ------------------------------------------------------------------------------------- three ways to lose a day


def names_by_plain_count(
    dates: list[date], closed: set[date], lost: set[date], announced: dict[date, str], lost_day: str
) -> dict[date, str]:
    """The day of the cycle for every date, walked through one date after the other as a secretary would."""
    names: dict[date, str] = {}
    following = 0
    for day in dates:
        if day.weekday() >= 5 or day in closed:
            continue
        if day in lost:
            if lost_day == "fixed":
                following += 1  # its letter is gone
            continue
        if day in announced:
            names[day] = announced[day]
            following = following + 1 if lost_day == "fixed" else CYCLE.index(announced[day]) + 1
            continue
        names[day] = CYCLE[following % len(CYCLE)]
        following += 1
    return names


@settings(max_examples=60, deadline=None)
@given(st.data(), st.sampled_from(["slides", "fixed", "announced"]))
def test_after_lost_days_the_cycle_goes_on_as_counted_by_hand(data: st.DataObject, lost_day: str) -> None:
    first, length = START, data.draw(st.integers(10, 90))
    dates = days_from(first, length + 1)
    numbers = st.integers(0, length)
    off = {first + timedelta(n) for n in data.draw(st.lists(numbers, max_size=6))}
    lost = {first + timedelta(n) for n in data.draw(st.lists(numbers, max_size=6))}
    heard_on = st.sampled_from([day for day in dates if day not in off | lost and day.weekday() < 5] or [first])
    announced = data.draw(st.dictionaries(heard_on, st.sampled_from(CYCLE), max_size=2))
    announced = {day: name for day, name in announced.items() if day not in off | lost and day.weekday() < 5}
    school = a_school(first, first + timedelta(length), tuple(DayOff(day) for day in sorted(off)), lost_day)

    calendar = calendar_of(school, tuple(sorted(lost)), {day.isoformat(): name for day, name in announced.items()})

    told = {day: calendar.day_name(day) for day in dates if calendar.day_name(day)}
    assert told == names_by_plain_count(dates, off, lost, announced, lost_day)


def test_a_lost_day_slides_stays_or_waits_for_an_announcement() -> None:
    """A Tuesday of snow, day 2. Common practice, no source: the three customs are those of the trade."""
    monday, tuesday, wednesday, thursday = days_from(date(2026, 8, 31), 4)
    last = date(2026, 9, 25)
    slides = calendar_of(a_school(monday, last), (tuesday,))
    fixed = calendar_of(a_school(monday, last, lost_day="fixed"), (tuesday,))
    told = {wednesday.isoformat(): "4"}
    announced = calendar_of(a_school(monday, last, lost_day="announced"), (tuesday,), told)

    assert [slides.day_name(day) for day in (monday, tuesday, wednesday, thursday)] == ["1", "", "2", "3"]
    assert [fixed.day_name(day) for day in (monday, tuesday, wednesday, thursday)] == ["1", "", "3", "4"]
    assert [announced.day_name(day) for day in (monday, tuesday, wednesday, thursday)] == ["1", "", "4", "5"]
    assert slides.why_no_school(tuesday) == "school did not take place"
