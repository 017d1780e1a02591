"""The children of a school move up by a year: which class has whose children, and what stays with the room.

The rule is the trade's own (grade 2 of this year is grade 3 of the next); usual sizes: common practice, no source.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from checklists.plan.next_year import CannotBegin, NextYear, a_year_later, next_year
from checklists.plan.records import Bells, Classes, DayOff, Need, School, SchoolClass

SCHOOL = School(
    format=1,
    name="Small School",
    first_day=date(2026, 8, 31),
    last_day=date(2027, 6, 11),
    bells=(Bells("regular"),),
    days_off=(DayOff(date(2026, 9, 7), reason="Labor Day"),),
)
FIRST, LAST = date(2027, 8, 30), date(2028, 6, 15)


def a_class(ident: str, students: int | str = 24, grade: str = "", **more: Any) -> SchoolClass:
    return SchoolClass(id=ident, grade=grade or ident.partition("-")[0], room=f"Rm {ident}", students=students, **more)


def year_of(*classes: SchoolClass) -> NextYear:
    return next_year(SCHOOL, Classes(classes=classes, timetable={"Mon": {"P1": classes[0].id}}), FIRST, LAST, ())


def in_next_year(*classes: SchoolClass) -> dict[str, SchoolClass]:
    return {each.id: each for each in year_of(*classes).classes.classes}


def test_a_class_has_the_children_of_the_grade_below_with_the_same_letter() -> None:
    second = a_class("2-B", 21, needs=(Need("fine-motor", 2, (3, 5)),), avoid=("latex",), left=(7,))
    third = a_class("3-B", 24, tables=5, adults=2, has=("pencil",), needs=(Need("vision", 1),), left=(1, 2))
    after = in_next_year(second, third)["3-B"]
    assert (after.students, after.needs, after.avoid, after.left) == (21, (Need("fine-motor", 2),), ("latex",), ())
    assert (after.grade, after.room, after.tables, after.adults, after.has) == ("3", "Rm 3-B", 5, 2, ("pencil",))


def test_about_stays_about_until_somebody_has_counted() -> None:
    assert in_next_year(a_class("2-B", "about 19"), a_class("3-B"))["3-B"].students == "about 19"


@pytest.mark.parametrize(
    ("ident", "size"), [("K-B", 20), ("1-B", 22), ("2-B", 22), ("3-B", 24), ("4-B", 26), ("5-B", 26), ("PK-B", 16)]
)
def test_without_a_class_below_it_begins_with_about_the_usual_size_and_no_needs(ident: str, size: int) -> None:
    after = in_next_year(a_class(ident, 9, needs=(Need("vision", 1),), avoid=("latex",), left=(3,)))[ident]
    assert (after.students, after.needs, after.avoid, after.left) == (f"about {size}", (), (), ())


def test_kindergarten_moves_into_first_grade_and_pre_kindergarten_into_kindergarten() -> None:
    after = in_next_year(a_class("PK-B", 15), a_class("K-B", 18), a_class("1-B", 20))
    assert [after[each].students for each in ("PK-B", "K-B", "1-B")] == ["about 16", 15, 18]


def test_classes_that_are_not_called_by_grade_and_letter_begin_anew() -> None:
    after = in_next_year(a_class("Ms Elm", 20, "2"), a_class("Mr Oak", 25, "3"))
    assert [each.students for each in after.values()] == ["about 22", "about 24"]


def test_it_is_said_class_by_class_who_leaves_and_who_is_in_no_class() -> None:
    year = year_of(a_class("2-B", 21), a_class("2-K", 20), a_class("3-B"), a_class("3-R"), a_class("4-B", 26))
    assert [(each.class_id, each.of, each.students, each.wanted) for each in year.moves] == [
        ("2-B", "", "about 22", ""),
        ("2-K", "", "about 22", ""),
        ("3-B", "2-B", 21, ""),
        ("3-R", "", "about 24", "2-R"),
        ("4-B", "3-B", 24, ""),
    ]
    assert year.finished == ("4-B",)
    assert year.unplaced == ("2-K", "3-R")


def test_timetable_and_lessons_stay_and_days_off_are_the_new_ones() -> None:
    classes = Classes(classes=(a_class("3-B"),), timetable={"Mon": {"P1": "3-B"}}, teaching={"3": ("paper-hills",)})
    off = (DayOff(date(2027, 11, 25), date(2027, 11, 26), "Thanksgiving"), DayOff(date(2027, 9, 6)))
    year = next_year(SCHOOL, classes, FIRST, LAST, off)
    assert (year.classes.timetable, year.classes.teaching) == (classes.timetable, classes.teaching)
    assert (year.school.first_day, year.school.last_day) == (FIRST, LAST)
    assert year.school.days_off == (off[1], off[0])
    assert (year.school.bells, year.school.name) == (SCHOOL.bells, SCHOOL.name)


def test_52_weeks_on_a_holiday_by_weekday_is_the_same_holiday() -> None:
    """Labor Day is the first Monday of September, Thanksgiving the fourth Thursday of November.

    Source: 5 U.S.C. 6103(a). The dates of 2026 and 2027 follow from it.
    """
    off = (DayOff(date(2026, 9, 7)), DayOff(date(2026, 11, 26), date(2026, 11, 27)))
    assert a_year_later(off) == (DayOff(date(2027, 9, 6)), DayOff(date(2027, 11, 25), date(2027, 11, 26)))


@pytest.mark.parametrize(
    ("first", "last", "off", "said"),
    [
        (date(2027, 6, 11), LAST, (), "is not after this year's last day, Fri 11 Jun 2027"),
        (FIRST, date(2027, 6, 15), (), "is no school year"),
        (FIRST, date(2029, 6, 15), (), "is no school year"),
        (FIRST, LAST, (DayOff(date(2026, 11, 26), reason="Thanksgiving"),), "is not within the school year"),
        (FIRST, LAST, (DayOff(date(2027, 11, 26), date(2027, 11, 25), "Thanksgiving"),), "ends before it begins"),
    ],
)
def test_what_cannot_be_a_school_year_is_refused_in_words(
    first: date, last: date, off: tuple[DayOff, ...], said: str
) -> None:
    with pytest.raises(CannotBegin, match=said):
        next_year(SCHOOL, Classes(classes=(a_class("3-B"),)), first, last, off)
