"""The worked examples of RFC 5545: on which dates a repeating event of a calendar file takes place.

Source: RFC 5545 sections 3.3.10 and 3.8.5; the events are those of its examples, here read from a file.
"""

from __future__ import annotations

from datetime import date

import pytest

from checklists.bringing_in.calendar_file import read_events
from checklists.bringing_in.occurrences import days_of, starts_of
from checklists.bringing_in.understood import NotReadable

NEW_YORK = "DTSTART;TZID=America/New_York:"


def dates(*lines: str, until: str = "2005-12-31") -> list[str]:
    """The dates of the one event that these lines describe."""
    (event,) = read_events(
        "\r\n".join(("BEGIN:VCALENDAR", "BEGIN:VEVENT", *lines, "END:VEVENT", "END:VCALENDAR"))
    ).events
    assert event.repeats is not None, event.wrong
    return [each.date().isoformat() for each in starts_of(event.repeats, date.fromisoformat(until))]


def on(year: int, *days: str) -> list[str]:
    return [f"{year}-{day}" for day in days]


def test_every_other_week_for_ever() -> None:
    found = dates(f"{NEW_YORK}19970902T090000", "RRULE:FREQ=WEEKLY;INTERVAL=2;WKST=SU", until="1998-01-06")
    of_1997 = ("09-02", "09-16", "09-30", "10-14", "10-28", "11-11", "11-25", "12-09", "12-23")
    assert found == [*on(1997, *of_1997), "1998-01-06"]


@pytest.mark.parametrize(
    "end", ["COUNT=10", "UNTIL=19971007T000000Z"], ids=["ten times", "until midnight before 7 October"]
)
def test_tuesdays_and_thursdays_for_five_weeks(end: str) -> None:
    found = dates(f"{NEW_YORK}19970902T090000", f"RRULE:FREQ=WEEKLY;{end};WKST=SU;BYDAY=TU,TH")
    assert found == on(1997, "09-02", "09-04", "09-09", "09-11", "09-16", "09-18", "09-23", "09-25", "09-30", "10-02")


def test_mondays_wednesdays_and_fridays_of_every_other_week() -> None:
    found = dates(
        f"{NEW_YORK}19970901T090000", "RRULE:FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR"
    )
    assert found == [
        *on(1997, "09-01", "09-03", "09-05", "09-15", "09-17", "09-19", "09-29", "10-01", "10-03", "10-13", "10-15"),
        *on(1997, "10-17", "10-27", "10-29", "10-31", "11-10", "11-12", "11-14", "11-24", "11-26", "11-28"),
        *on(1997, "12-08", "12-10", "12-12", "12-22"),
    ]


def test_the_start_counts_also_where_its_own_rule_leaves_it_out() -> None:
    # RFC 2445 printed the example above with a start on Tuesday 2 September; iCalendar counts it, dateutil does not.
    found = dates(
        f"{NEW_YORK}19970902T090000", "RRULE:FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR"
    )
    assert found[:4] == on(1997, "09-02", "09-03", "09-05", "09-15")
    counted = dates(f"{NEW_YORK}19970902T090000", "RRULE:FREQ=WEEKLY;COUNT=3;BYDAY=MO,WE,FR")
    assert counted == on(1997, "09-02", "09-03", "09-05")


def test_every_other_tuesday_and_thursday_eight_times() -> None:
    found = dates(f"{NEW_YORK}19970902T090000", "RRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH")
    assert found == on(1997, "09-02", "09-04", "09-16", "09-18", "09-30", "10-02", "10-14", "10-16")


@pytest.mark.parametrize(
    ("begins", "days"), [("MO", ("08-05", "08-10", "08-19", "08-24")), ("SU", ("08-05", "08-17", "08-19", "08-31"))]
)
def test_on_which_day_a_week_begins_makes_a_difference(begins: str, days: tuple[str, ...]) -> None:
    rule = f"RRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST={begins}"
    assert dates(f"{NEW_YORK}19970805T090000", rule) == on(1997, *days)


def test_every_friday_the_thirteenth_but_not_the_start() -> None:
    found = dates(
        f"{NEW_YORK}19970902T090000",
        "EXDATE;TZID=America/New_York:19970902T090000",
        "RRULE:FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13",
        until="2000-12-31",
    )
    assert found == ["1998-02-13", "1998-03-13", "1998-11-13", "1999-08-13", "2000-10-13"]


def test_what_is_left_out_was_counted_before() -> None:
    # Computed with dateutil: COUNT is spent before EXDATE.
    rule = "RRULE:FREQ=WEEKLY;INTERVAL=2;COUNT=4"
    found = dates(f"{NEW_YORK}19970902T090000", rule, "EXDATE;TZID=America/New_York:19970916T090000")
    assert found == on(1997, "09-02", "09-30", "10-14")


@pytest.mark.parametrize(
    ("start", "rule", "expected"),
    [
        ("19970904", "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", on(1997, "09-04", "10-07", "11-06")),
        (
            "19970929",
            "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2;COUNT=4",
            on(1997, "09-29", "10-30", "11-27", "12-30"),
        ),
        (
            "19961105",
            "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8",
            ["1996-11-05", "2000-11-07", "2004-11-02"],
        ),
    ],
    ids=["the third of three weekdays", "the last weekday but one", "election day"],
)
def test_days_of_the_month_and_of_the_year(start: str, rule: str, expected: list[str]) -> None:
    assert dates(f"{NEW_YORK}{start}T090000", f"RRULE:{rule}") == expected
    assert dates(f"DTSTART;VALUE=DATE:{start}", f"RRULE:{rule}") == expected


def test_dates_are_added_and_each_counts_once() -> None:
    found = dates(
        "DTSTART;VALUE=DATE:19970101", "RDATE;VALUE=DATE:19970120,19970217,19970101", "RDATE;VALUE=DATE:19970421"
    )
    assert found == on(1997, "01-01", "01-20", "02-17", "04-21")


def test_the_end_of_an_event_is_not_part_of_it() -> None:
    # Section 3.6.1: a multi-day event from 28 June 2007 with DTEND 9 July is over with 8 July.
    (event,) = read_events(
        "BEGIN:VEVENT\nDTSTART;VALUE=DATE:20070628\nDTEND;VALUE=DATE:20070709\nSUMMARY:Festival\nEND:VEVENT\n"
    ).events
    assert event.repeats is not None
    assert days_of(event.repeats.start, event.length) == (date(2007, 6, 28), date(2007, 7, 8))


def test_lines_that_were_folded_are_one() -> None:
    # Section 3.1: a line break with white space behind it is none.
    (event,) = read_events(
        "BEGIN:VEVENT\r\nSUMMARY:This is a lo\r\n ng descrip\r\n\ttion\\, in words\r\n"
        "DTSTART;VAL\r\n UE=DATE:20261126\r\nEND:VEVENT"
    ).events
    assert event.summary == "This is a long description, in words"
    assert event.repeats is not None and event.repeats.start.date() == date(2026, 11, 26)


def test_universal_time_is_the_clock_of_the_calendars_place() -> None:
    lines = ("BEGIN:VEVENT", "DTSTART:20261126T050000Z", "DTEND:20261127T050000Z", "END:VEVENT")
    (there,) = read_events("\n".join(("X-WR-TIMEZONE:America/New_York", *lines))).events
    assert there.repeats is not None
    assert days_of(there.repeats.start, there.length) == (date(2026, 11, 26), date(2026, 11, 26))
    assert read_events("\n".join(lines)).has_universal_times


def test_a_rule_without_end_that_never_fits_ends_all_the_same() -> None:
    assert dates("DTSTART;VALUE=DATE:20260901", "RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", until="2027-06-11") == [
        "2026-09-01"
    ]
    assert len(dates("DTSTART;VALUE=DATE:19700101", "RRULE:FREQ=DAILY", until="2027-06-11")) == 20_000


@pytest.mark.parametrize("rule", ["FREQ=SECONDLY", "FREQ=HOURLY;INTERVAL=3"])
def test_what_comes_again_within_a_day_is_refused_in_words(rule: str) -> None:
    with pytest.raises(NotReadable, match="not by days"):
        dates(f"{NEW_YORK}19970902T090000", f"RRULE:{rule}")


def test_what_comes_again_after_no_time_is_refused_and_not_gone_through_for_ever() -> None:
    """Section 3.3.10: an interval is a positive number."""
    with pytest.raises(NotReadable, match="no time at all"):
        dates("DTSTART;VALUE=DATE:20050907", "RRULE:FREQ=DAILY;INTERVAL=0")
