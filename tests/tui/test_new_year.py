"""The next school year on the screen: offered when this one is nearly over, begun and taken back by one key each."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

from tests.situations.test_the_next_school_year import small_school_of_two_grades
from tests.tui.desk import at_desk

LAST_OF_MAY = datetime(2027, 5, 31, 7, 41)
"""Ten school days before the last one, Fri 11 Jun."""


async def test_it_is_offered_in_the_last_ten_school_days_and_not_before(tmp_path: Path) -> None:
    school = small_school_of_two_grades(tmp_path)
    async with at_desk(school, now=datetime(2027, 5, 27, 7, 41)) as desk:
        await desk.press("tab")
        assert "The next school year" not in desk.screen
    async with at_desk(school, now=LAST_OF_MAY) as desk:
        await desk.press("tab")
        assert "1  The next school year" in desk.screen


async def test_dates_are_typed_and_one_key_begins_it_and_one_takes_it_back(tmp_path: Path) -> None:
    async with at_desk(small_school_of_two_grades(tmp_path), now=LAST_OF_MAY) as desk:
        await desk.press("tab 1")
        assert "Mon 30 Aug 2027" in desk.screen
        assert "21 children of 2-B" in desk.screen
        await desk.press("0 9 0 1 enter f 0 6 1 6 enter")
        assert "First day  Wed 1 Sep 2027" in desk.screen
        assert "Last day   Fri 16 Jun 2028" in desk.screen
        await desk.press("f enter")
        assert "1 day off or break" in desk.screen
        assert desk.book.plan.class_by_id["3-B"].students == 24
        await desk.press("g")
        school = desk.book.plan.school
        assert (school.first_day, school.last_day) == (date(2027, 9, 1), date(2028, 6, 16))
        assert [each.first for each in school.days_off] == [date(2027, 9, 6)]
        assert desk.book.plan.class_by_id["3-B"].students == 21
        await desk.press("b b u")
        assert "Taken back: the school year from Wed 1 Sep" in desk.screen
        assert desk.book.plan.class_by_id["3-B"].students == 24


async def test_what_is_no_date_is_said_and_nothing_changes(tmp_path: Path) -> None:
    async with at_desk(small_school_of_two_grades(tmp_path), now=LAST_OF_MAY, size=(60, 20)) as desk:
        await desk.press("tab 1 1 3 4 5 enter")
        assert "is no date" in desk.screen
        assert "Mon 30 Aug 2027" in desk.screen
        await desk.press("0 6 1 2 enter")
        assert "Sat 12 Jun 2027" in desk.screen
        await desk.press("f 0 7 0 1 enter g")
        assert "is no school year" in desk.screen
        assert desk.book.plan.school.first_day == date(2026, 8, 31)
