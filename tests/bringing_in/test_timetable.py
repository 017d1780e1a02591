"""A timetable from a grid either way round, or from a list; days and periods as people write them."""

from __future__ import annotations

import pytest
from msgspec import structs

from checklists.bringing_in.timetable import Names
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Rotation
from tests.bringing_in.schools import brought, said, tansy_hollow


def by_weekday() -> PlanFiles:
    """The same school, taught by weekday, its timetable empty."""
    files = tansy_hollow()
    school = structs.replace(files.school, rotation=Rotation())
    return structs.replace(files, school=school, classes=structs.replace(files.classes, timetable={}))


WEEK = {"Mon": {"P1": "K-M", "P2": "3-B"}, "Tue": {"P1": "1-P"}}


@pytest.mark.parametrize(
    "text",
    [
        "\tMonday\tTuesday\nP1\tK-M\t1-P\nP2\t3-B\t\n",
        "Time,Mon.,Tues.\n8:00-8:45,K-M,1-P\n8:45 - 9:30,3B,Lunch\n",
        ";Period 1;2nd\nMonday;K-M;3-B\nTuesday;1-P;Planning\n",
        "Specials schedule\n\n | M | T\n--|---|---\n1st period | K-M | 1-P\n2 | 3-B (Room 12) | -\n",
        "Day,Period,Class\nMon,1,K-M\nMon,2,3-B\nTue,P1,1-P\n",
        "Monday   P1   K-M\nMonday   P2   3-B\nTuesday   8:00 AM   1-P\n",
    ],
    ids=["tabs", "times", "days down", "a web page", "a list", "a list without headings"],
)
def test_the_same_week_in_many_forms(text: str) -> None:
    understood = brought("timetable", text, by_weekday())
    assert understood.files.classes.timetable == WEEK
    assert not understood.those_that("not understood")
    assert understood.problems == ()


def test_letters_of_a_cycle_and_changes_told_with_what_was_there() -> None:
    understood = brought("timetable", ",Day A,B\nP1,1-P,K-M\nP3,3-B,\n")
    assert said(understood, "changes") == ["A P1: 1-P instead of K-M"]
    assert said(understood, "adds") == ["B P1: K-M"]
    assert said(understood, "there already") == ["A P3: 3-B"]
    assert understood.files.classes.timetable["A"]["P7"] == "5-H"


def test_what_would_be_two_at_once_is_no_problem_but_one_class_in_overlapping_periods_is() -> None:
    files = by_weekday()
    late = structs.replace(files.school.bells[0].periods[1], start="8:30")
    bells = structs.replace(files.school.bells[0], periods=(files.school.bells[0].periods[0], late))
    clash = structs.replace(files, school=structs.replace(files.school, bells=(bells,)))
    understood = brought("timetable", "day,period,class\nMon,P1,K-M\nMon,P2,K-M\n", clash)
    assert not understood.can_be_taken
    assert understood.changes_anything


def test_what_is_unknown_is_told_with_its_row_column_and_what_to_write() -> None:
    understood = brought(
        "timetable", ",Mon,Tue,Blursday\nP1,K-M,Zed,1-P\nPeriod 99,3-B,,\nLunch,Lunch,,\n", by_weekday()
    )
    told = [(each.place, each.said, each.to_do) for each in understood.those_that("not understood")]
    assert told == [
        ("row 1, column 4", '"Blursday" is no day of the timetable.', "Write Mon, Tue, Wed, Thu or Fri."),
        (
            "row 2, column 3",
            'Tue P1: there is no class "Zed".',
            "Write a class of the plan, or bring in the classes first.",
        ),
        ("row 3, column 1", '"Period 99" is no period.', "Write P1, P2, P3, P4, P5, P6 or P7."),
    ]
    assert understood.files.classes.timetable == {"Mon": {"P1": "K-M"}}


def test_a_teachers_name_is_enough_where_one_class_has_it() -> None:
    files = by_weekday()
    hale = structs.replace(files.classes.classes[2], id="3-Hale")
    named = structs.replace(files, classes=structs.replace(files.classes, classes=(hale,)))
    understood = brought("timetable", ",Mon,Tue\nP1,Hale,Mrs. Hale\n", named)
    assert understood.files.classes.timetable == {"Mon": {"P1": "3-Hale"}, "Tue": {"P1": "3-Hale"}}


@pytest.mark.parametrize(
    ("written", "period"),
    [("1", "P1"), ("Period 3", "P3"), ("1:15 PM", "P6"), ("2:05", "P7"), ("13:15", "P6"), ("9", ""), ("7:11", "")],
)
def test_a_period_by_its_name_its_number_or_when_it_begins(written: str, period: str) -> None:
    assert Names(tansy_hollow().school).period(written) == period


def test_no_timetable_at_all_is_said_with_what_one_looks_like() -> None:
    understood = brought("timetable", "hello\nworld\n")
    assert not understood.is_anything
    assert understood.notes[0].startswith("No days were found. Write the days (A, B and C …)")
