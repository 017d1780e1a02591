"""An earlier day is opened, told and corrected on screen; one that was never closed stands first. T54, T59, T22."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from checklists.class_places import progress_of
from tests.days import FRIDAY, MONDAY, TUESDAY, close, opened, packed, teach_all
from tests.schools import reference_school
from tests.tui.desk import Desk, at_desk

AT_7_40_ON_TUESDAY = datetime(2026, 10, 6, 7, 40)
FRIDAY_MORNING = datetime(2026, 10, 9, 7, 41)


def begun_on_monday(folder: Path) -> None:
    """The reference school, 60 sheets in Box 2, leaf rubbings for substitutes; of Monday one tick was told."""
    rubbings = {"habits": {"filler": "leaf-rubbings"}}
    reference_school(folder, contents={"box-2": {"white-9x12": 60}}, school=rubbings)
    with opened(folder) as book:
        book.do(MONDAY, packed(book.day(MONDAY).lines[0]))


def reported(desk: Desk) -> dict[str, str]:
    return {key.split()[1]: report.outcome for key, report in desk.book.marks(MONDAY).reports.items()}


async def test_she_went_home_at_half_past_eleven_and_says_so_the_next_morning(tmp_path: Path) -> None:
    """T54: V5 to V7 were not taught; the four before are asked with one key each."""
    begun_on_monday(tmp_path)
    async with at_desk(tmp_path, now=AT_7_40_ON_TUESDAY) as desk:
        assert "K-M on Mon 5 Oct" in desk.screen
        await desk.press("tab 2 5 enter")
        assert "EARLIER DAY" in desk.screen and "Mon 5 Oct" in desk.screen
        await desk.press("t g 1 1 3 0 enter")
        assert reported(desk) == {"2-R": "not taught", "4-D": "not taught", "5-H": "not taught"}
        await desk.press("b d y y y y")
        assert reported(desk) | {"K-M": "done", "1-P": "done", "3-B": "done", "3-K": "done"} == reported(desk)
        assert "done?" not in desk.screen
        assert not desk.book.day(TUESDAY).questions


async def test_all_of_it_is_taken_back_in_the_order_it_was_said(tmp_path: Path) -> None:
    reference_school(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press("t g enter b")
        assert len(reported(desk)) == 7
        await desk.press("u")
        assert reported(desk) == {}


async def test_a_day_nobody_closed_is_listed_first_with_how_many_visits_nobody_told_of(tmp_path: Path) -> None:
    begun_on_monday(tmp_path)
    async with at_desk(tmp_path, now=AT_7_40_ON_TUESDAY) as desk:
        await desk.press("tab 2")
        rows = [text.strip() for text in desk.screen.splitlines()]
        first = rows.index("Not closed")
        assert "Mon 5 Oct" in rows[first + 1] and "7 visits not told" in rows[first + 1]
        assert rows.index("Coming") > first


async def test_last_monday_is_corrected_on_friday_and_no_tick_of_friday_is_lost(tmp_path: Path) -> None:
    """T59: no. 5 of 3-B was absent on Monday, which she learns on Friday."""
    reference_school(tmp_path)
    with opened(tmp_path) as book:
        teach_all(book, MONDAY)
        close(book, MONDAY)
        book.today = FRIDAY
    async with at_desk(tmp_path, now=FRIDAY_MORNING) as desk:
        await desk.press("enter")
        before = desk.book.marks(desk.app.opening_date).lines
        await desk.press("tab 2 m o n space 5 enter e")
        for _ in range(60):
            if desk.in_hand == "missed/P3 3-B":
                break
            await desk.press("p" if desk.in_hand.startswith("folded") else "down")
        await desk.press("5 enter")
        (owed,) = desk.book.opening(FRIDAY).owed["3-B"]
        assert (owed.lesson, owed.part, owed.numbers) == ("burlap-birds", 2, (5,))
        assert desk.book.marks(desk.app.opening_date).lines == before
        assert desk.book.check_chain() == ()


async def test_two_keys_say_that_a_substitute_was_there_on_the_sick_day(tmp_path: Path) -> None:
    """T22: no class moves on, nothing is asked, and the sheets the substitute used are off the box."""
    begun_on_monday(tmp_path)
    async with at_desk(tmp_path, now=AT_7_40_ON_TUESDAY) as desk:
        assert desk.book.day(TUESDAY).questions
        await desk.press("tab 2 5 enter t s b d")
        assert not desk.book.day(TUESDAY).questions
        before, after = desk.book.opening(MONDAY), desk.book.opening(TUESDAY)
        for class_ in desk.book.plan.classes:
            assert progress_of(desk.book.plan, after, class_) == progress_of(desk.book.plan, before, class_)
        assert after.contents["box-2"]["white-9x12"] == 60 - 23
