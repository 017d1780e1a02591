"""The second day of a new school: nobody has said yet who comes, so the list asks, and the questions are the same."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date, datetime
from pathlib import Path

import pytest
from textual import events

from checklists.book import Book
from checklists.daybook.entries import Reported
from checklists.files.set_up_file import read_set_up
from checklists.first_start.making import made_from
from checklists.first_start.starting import start_with
from tests.first_start.answering import MONDAY_AT_7_20, by_question, run_through
from tests.tui.desk import Desk
from tui.app import TrundleApp
from tui.screens.say_day import SayDayScreen

TUESDAY_AT_7_20 = datetime(2026, 12, 1, 7, 20)


def new_school(folder: Path, **answers: str) -> None:
    """A school that was set up on Monday: 3-B and 2-R come, grade 3 is at its second part of stitching."""
    said = run_through(by_question(Mon_P1="3-B 12 24", Mon_P3="2-R 11", lesson_of_3="9 2", **answers)).said
    start_with(folder, said, made_from(said), MONDAY_AT_7_20)


@asynccontextmanager
async def desk_on(folder: Path, now: datetime, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Desk]:
    with Book.open(folder, today=now.date()) as book:
        app = TrundleApp(book, lambda: now)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            yield Desk(app, pilot)


async def answer(desk: Desk, *answers: str) -> None:
    for text in answers:
        if text:
            desk.app.screen.post_message(events.Paste(text))
        await desk.press("enter")


@pytest.mark.parametrize("size", [(80, 24), (60, 20)], ids=["80x24", "60x20"])
async def test_the_list_of_a_day_nobody_has_said_anything_of_asks_for_it(tmp_path: Path, size: tuple[int, int]) -> None:
    new_school(tmp_path)
    async with desk_on(tmp_path, TUESDAY_AT_7_20, size) as desk:
        assert "Tue 1 Dec" in desk.screen and "Nobody has said yet who comes on Tue." in " ".join(desk.screen.split())
        await desk.open_page("Say who comes on Tue")
        asking = desk.app.screen
        assert isinstance(asking, SayDayScreen)
        assert "Tue, P1" in desk.screen
        await answer(desk, "3-b", "4-D 21", "", "", "", "", "")
        assert "What is grade 4 doing?" in desk.screen and "grade 3" not in desk.screen
        await answer(desk, "9 2")
        assert "That is all for Tue: 2 visits." in desk.screen
        await desk.press("enter")
        visits = desk.book.day(TUESDAY_AT_7_20.date()).visits
        parts = [(visit.class_id, [step.part for step in visit.steps]) for visit in visits]
        assert parts == [("3-B", [2, 3]), ("4-D", [2])]  # nobody has told yet what became of Monday
        assert "Nobody has said" not in desk.screen and " to pack, " in desk.screen
        await desk.press("u")
        assert "Taken back: who comes on Tue" in desk.screen
        assert "Tue" not in desk.book.plan.timetable and len(desk.book.plan.classes) == 2
        assert not desk.book.day(TUESDAY_AT_7_20.date()).visits


async def test_that_nobody_comes_is_an_answer_and_is_not_asked_again(tmp_path: Path) -> None:
    new_school(tmp_path)
    async with desk_on(tmp_path, TUESDAY_AT_7_20) as desk:
        await desk.open_page("Say who comes on Tue")
        await answer(desk, *[""] * 7)
        assert "nobody comes" in desk.screen
        await desk.press("enter")
        assert "Nobody has said" not in desk.screen
    async with desk_on(tmp_path, TUESDAY_AT_7_20) as desk:
        assert "Mon 7 Dec" in desk.screen.splitlines()[0]
        await desk.press("tab")
        assert "Say who comes" not in desk.screen


async def test_left_half_way_the_answers_are_there_the_next_time(tmp_path: Path) -> None:
    new_school(tmp_path)
    async with desk_on(tmp_path, TUESDAY_AT_7_20) as desk:
        await desk.open_page("Say who comes on Tue")
        await answer(desk, "3-B", "4-D 21")
        await desk.press("tab")
        assert read_set_up(tmp_path).said == {"Tue/P1": "3-B", "Tue/P2": "4-D 21"}
    async with desk_on(tmp_path, TUESDAY_AT_7_20) as desk:
        assert not [each for each in desk.book.problems if "set-up" in str(each)]
        await desk.open_page("Say who comes on Tue")
        assert "Tue, P3" in desk.screen


async def test_set_up_after_school_it_opens_on_the_next_days_list_and_does_not_ask_about_today(tmp_path: Path) -> None:
    after_school = datetime(2026, 11, 30, 15, 30)
    said = run_through(by_question(Tue_P1="3-B 12 24"), after_school).said
    start_with(tmp_path, said, made_from(said), after_school)
    async with desk_on(tmp_path, after_school) as desk:
        assert "Tue 1 Dec" in desk.screen.splitlines()[0]
        await desk.press("tab")
        assert "Say who comes" not in desk.screen


async def test_set_up_in_summer_it_opens_on_the_first_day_of_school(tmp_path: Path) -> None:
    in_summer = datetime(2026, 8, 3, 10, 0)
    said = run_through(by_question(rotation="c", A_P2="3-B 12 24", lesson_of_3="9 2"), in_summer).said
    start_with(tmp_path, said, made_from(said), in_summer)
    async with desk_on(tmp_path, in_summer) as desk:
        assert "Mon 31 Aug" in desk.screen.splitlines()[0] and "day A" in desk.screen.splitlines()[0]
        assert [step.part for step in desk.book.day(date(2026, 8, 31)).visits[0].steps] == [2]


async def test_it_is_asked_in_the_first_weeks_only(tmp_path: Path) -> None:
    new_school(tmp_path)
    async with desk_on(tmp_path, datetime(2027, 2, 9, 7, 20)) as desk:
        await desk.press("tab")
        assert "Say who comes" not in desk.screen


async def test_undo_on_the_first_list_leaves_what_was_said_in_setting_up(tmp_path: Path) -> None:
    new_school(tmp_path, rotation="c", day_of_2026_11_30="C")
    monday = MONDAY_AT_7_20.date()
    async with desk_on(tmp_path, MONDAY_AT_7_20) as desk:
        await desk.press("u u")
        assert "Nothing left to take back" in desk.screen
        assert desk.book.day(monday).day_name == "C"
        await desk.press("enter u u u")
        assert desk.book.day(monday).day_name == "C"


def test_a_class_in_the_middle_of_a_lesson_goes_on_from_there(tmp_path: Path) -> None:
    new_school(tmp_path)
    monday = date(2026, 11, 30)
    with Book.open(tmp_path, today=monday) as book:
        visit = book.day(monday).visits[0]
        assert (visit.class_id, visit.steps[0].part) == ("3-B", 2)
        assert any(line.container == "box-3" and "folder" in line.name for line in book.day(monday).lines)
        book.do(
            monday, Reported(at=datetime(2026, 11, 30, 14, 0), visit=visit.key, outcome="done", absences_known=True)
        )
        book.close(monday, datetime(2026, 11, 30, 15, 0))
        assert not book.check_chain()
        assert book.closing_of(monday).progress["3-B"].part == 3
        assert [step.part for step in book.day(date(2026, 12, 7)).visits[0].steps] == [3]
