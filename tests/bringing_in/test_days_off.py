"""Days off from a list in any form, and from a calendar file: which are taken, which are not and why."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.bringing_in.dates import SchoolYear, read_dates, say_span
from checklists.bringing_in.understood import NotReadable
from checklists.bringing_in.which_days import meaning_of, why_not
from checklists.files.found_tables import is_there, looks_like_path, path_typed
from checklists.plan.records import DayOff
from tests.bringing_in.schools import brought, said, tansy_hollow

YEAR = SchoolYear(date(2026, 8, 31), date(2027, 6, 11))


@pytest.mark.parametrize(
    ("written", "dates", "rest"),
    [
        ("2026-09-07 Labor Day", ["Mon 7 Sep 2026"], "Labor Day"),
        ("9/7/2026", ["Mon 7 Sep 2026"], ""),
        ("9/7/26", ["Mon 7 Sep 2026"], ""),
        ("9/7", ["Mon 7 Sep 2026"], ""),
        ("Sep 7", ["Mon 7 Sep 2026"], ""),
        ("Sept. 7th: Labor Day", ["Mon 7 Sep 2026"], "Labor Day"),
        ("Labor Day - Monday, September 7", ["Mon 7 Sep 2026"], "Labor Day"),
        ("7 September 2026", ["Mon 7 Sep 2026"], ""),
        ("26-Nov-2026", ["Thu 26 Nov 2026"], ""),
        ("November 26-27", ["Thu 26 Nov to Fri 27 Nov 2026"], ""),
        ("Nov 26 – Nov 27, 2026 Thanksgiving", ["Thu 26 Nov to Fri 27 Nov 2026"], "Thanksgiving"),
        ("2026-11-26 2026-11-27", ["Thu 26 Nov to Fri 27 Nov 2026"], ""),
        ("2026-12-21..2027-01-01=Winter", ["Mon 21 Dec 2026 to Fri 1 Jan 2027"], "Winter"),
        ("Dec 21 through Jan 1", ["Mon 21 Dec 2026 to Fri 1 Jan 2027"], ""),
        ("Spring Break: April 5-9", ["Mon 5 Apr to Fri 9 Apr 2027"], "Spring Break"),
        ("Oct 9, 10 & 12", ["Fri 9 Oct 2026", "Sat 10 Oct 2026", "Mon 12 Oct 2026"], ""),
        ("Nov 3 and Nov 11", ["Tue 3 Nov 2026", "Wed 11 Nov 2026"], ""),
        ("13/9", ["Sun 13 Sep 2026"], ""),
        ("7.9.2026", ["Mon 7 Sep 2026"], ""),
        ("Mar 12 dismissal at 2:30", ["Fri 12 Mar 2027"], "dismissal at 2:30"),
    ],
)
def test_dates_as_people_write_them(written: str, dates: list[str], rest: str) -> None:
    # The forms: common practice, no source. The weekdays are those of the calendar.
    read = read_dates(written, YEAR)
    assert ([say_span(span) for span in read.spans], read.rest) == (dates, rest)


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("sometime", "No date stands there."),
        ("February 30", 'There is no date "February 30".'),
        ("2/29", 'There is no date "2/29".'),
        ("Tuesday, Sep 7", "Mon 7 Sep 2026 is no Tuesday."),
        ("2026-11-27 to 2026-11-26", "It ends on Thu 26 Nov 2026, before it begins on Fri 27 Nov 2026."),
    ],
)
def test_a_date_that_cannot_be_is_told(written: str, why: str) -> None:
    with pytest.raises(NotReadable) as told:
        read_dates(written, YEAR)
    assert str(told.value) == why


PASTED = """\
Labor Day\tMonday, September 7
Oct 9\tPicture Day
Nov 26-27\tThanksgiving
Jan 20\tearly dismissal
Sep 5\ta Saturday
7/4\tafter the year
"""


def test_a_list_from_a_web_page() -> None:
    understood = brought("days-off", PASTED)
    assert said(understood, "adds") == ["Thu 26 Nov to Fri 27 Nov 2026 Thanksgiving"]
    assert said(understood, "there already") == ["Mon 7 Sep 2026 Labor Day"]
    assert said(understood, "not taken") == [
        "Fri 9 Oct 2026 Picture Day: picture day: school takes place.",
        "Wed 20 Jan 2027 early dismissal: early dismissal: half of the day takes place, so it is no day off.",
        "Sat 5 Sep 2026: a weekend.",
        "Sun 4 Jul 2027: not within the school year.",
    ]
    assert understood.files.school.days_off[-1] == DayOff(date(2026, 11, 26), date(2026, 11, 27), "Thanksgiving")


def test_columns_with_headings_and_a_reason_that_is_new() -> None:
    understood = brought("days-off", "Start,End,Event\n10/12/2026,,Fall holiday\n12/21/2026,1/1/2027,Winter break\n")
    assert said(understood, "changes") == ["Mon 12 Oct 2026: Fall holiday instead of holiday"]
    assert said(understood, "adds") == ["Mon 21 Dec 2026 to Fri 1 Jan 2027 Winter break"]
    assert "Dates such as 9/7 were read month before day: September 7." in understood.notes


def test_where_one_date_can_only_be_day_before_month_all_are_read_so() -> None:
    understood = brought("days-off", "date,reason\n21/12/2026,x\n7/1/2027,y\n")
    assert said(understood, "adds") == ["Mon 21 Dec 2026 x", "Thu 7 Jan 2027 y"]
    assert any("day before month" in each for each in understood.notes)


def test_rows_are_taken_all_the_same_or_left_out_by_their_numbers() -> None:
    understood = brought("days-off", PASTED, take=frozenset({2}), leave=frozenset({3}))
    assert said(understood, "adds") == ["Fri 9 Oct 2026 Picture Day"]
    assert "You left it out." in said(understood, "not taken")


def event(summary: str, first: str, last: str = "", *more: str) -> str:
    end = f"DTEND;VALUE=DATE:{last}\r\n" if last else ""
    rest = "".join(f"{each}\r\n" for each in more)
    return f"BEGIN:VEVENT\r\nSUMMARY:{summary}\r\nDTSTART;VALUE=DATE:{first}\r\n{end}{rest}END:VEVENT\r\n"


def calendar(*events: str) -> str:
    return f"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n{''.join(events)}END:VCALENDAR\r\n"


SCHOOL = calendar(
    event("No School - Labor Day", "20260907"),
    event("Thanksgiving Break", "20261126", "20261128"),
    event("Picture day", "20261009"),
    event("Holiday concert", "20261210"),
    event("Parent-Teacher Conferences", "20261030"),
    event("Early Release", "20261125"),
    event("Founders' Day", "20261106"),
    event("Winter Break", "20261219", "20270104"),
    event("No School", "20261113", "", "STATUS:CANCELLED"),
    event("Summer vacation", "20270701", "20270815"),
)


def test_of_a_schools_calendar_the_days_without_school_are_taken_and_the_others_told() -> None:
    understood = brought("days-off", SCHOOL)
    assert said(understood, "changes") == ["Mon 7 Sep 2026: No School - Labor Day instead of Labor Day"]
    assert said(understood, "adds") == [
        "Thu 26 Nov to Fri 27 Nov 2026 Thanksgiving Break",
        "Mon 21 Dec 2026 to Fri 1 Jan 2027 Winter Break",
    ]
    left = {each.number: each.said.split(": ", 1)[1] for each in understood.those_that("not taken")}
    assert left == {
        3: "picture day: school takes place.",
        4: "concert: school takes place.",
        5: "parent teacher conferences: in some schools the children stay at home then.",
        6: "early release: half of the day takes place, so it is no day off.",
        7: "nothing says that there is no school.",
        9: "it is cancelled.",
    }
    assert understood.notes[1] == "1 event of other school years or on no school day: not listed."


def test_single_events_are_taken_or_left_out_by_their_numbers() -> None:
    understood = brought("days-off", SCHOOL, take=frozenset({5, 7}), leave=frozenset({2}))
    assert "Fri 30 Oct 2026 Parent-Teacher Conferences" in said(understood, "adds")
    assert "Fri 6 Nov 2026 Founders' Day" in said(understood, "adds")
    assert all("Thanksgiving" not in each for each in said(understood, "adds"))


def test_an_event_that_repeats_is_off_on_each_of_its_dates_but_the_moved_one() -> None:
    moved = event("Teacher Workday", "20261016", "", "UID:7", "RECURRENCE-ID;VALUE=DATE:20261009")
    text = calendar(event("Teacher Workday", "20261002", "", "UID:7", "RRULE:FREQ=WEEKLY;COUNT=2"), moved)
    assert said(brought("days-off", text), "adds") == [
        "Fri 2 Oct 2026 Teacher Workday",
        "Fri 16 Oct 2026 Teacher Workday",
    ]


def test_an_event_of_an_hour_is_no_day_off_unless_it_says_so() -> None:
    meeting = "BEGIN:VEVENT\nSUMMARY:{}\nDTSTART:20261009T140000\nDTEND:20261009T150000\nEND:VEVENT\n"
    text = calendar(meeting.format("In-service"), meeting.format("No school"))
    understood = brought("days-off", text)
    assert said(understood, "not taken") == ["Fri 9 Oct 2026 In-service: it lasts less than most of a day."]
    assert said(understood, "adds") == ["Fri 9 Oct 2026 No school"]


def test_a_damaged_event_hides_no_other() -> None:
    damaged = "BEGIN:VEVENT\nSUMMARY:Closed\nDTSTART;VALUE=DATE:2026\nEND:VEVENT\n"
    text = calendar(damaged, event("No school", "20261009"), "BEGIN:VEVENT\nSUMMARY:cut off\nDTSTART:20261")
    understood = brought("days-off", text.removesuffix("END:VCALENDAR\r\n"))
    assert said(understood, "adds") == ["Fri 9 Oct 2026 No school"]
    assert [(each.number, each.stood, each.said) for each in understood.those_that("not understood")] == [
        (1, "Closed", "It cannot be read: something in it is damaged."),
        (3, "cut off", "The file ends, or breaks off, in the middle of it."),
    ]
    assert understood.counted == "1 day off or break, 2 events not understood: events 1 and 3"


@pytest.mark.parametrize(
    ("name", "is_taken"),
    [
        ("NO SCHOOL – Presidents’ Day", True),
        ("Martin Luther King, Jr. Day", True),
        ("Mid-winter recess", True),
        ("Teacher In-Service (no students)", True),
        ("Veterans Day assembly", False),
        ("School resumes after break", False),
        ("Recess equipment sale", False),
        ("Breakfast with books", False),
        ("Juneteenth", True),
    ],
)
def test_which_names_mean_no_school(name: str, is_taken: bool) -> None:
    # The federal holidays: 5 U.S.C. 6103(a), names from memory. The rest: common practice, no source.
    assert (why_not(meaning_of(name)) == "") is is_taken


def test_a_calendar_is_no_list_of_classes() -> None:
    assert brought("classes", SCHOOL).notes == ("This is a calendar: bring it in as days off.",)
    assert tansy_hollow().school.days_off[0].reason == "Labor Day"


def test_a_stretch_into_a_29_february_that_is_none_is_refused_in_words() -> None:
    with pytest.raises(NotReadable, match="There is no date"):
        read_dates("Dec 21, 2028 - Feb 29", SchoolYear(date(2027, 8, 30), date(2028, 6, 9)))


def test_what_is_typed_as_a_path_may_lead_anywhere(tmp_path: Path) -> None:
    for typed in ("file://[", f"{tmp_path}/{'a' * 300}", f"{tmp_path}/\x00", f"{tmp_path}/no/such.csv"):
        assert looks_like_path(typed) and not is_there(path_typed(typed, tmp_path))
