"""Choosing a lesson type on the screen: by arrows or by its first letters, those of the grade first."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.schools import MONDAY
from tests.tui.desk import Desk, at_desk
from tui.first_app import FirstApp
from tui.screens.guide import GuideScreen
from tui.screens.lesson_types import LessonTypesScreen


async def choose(desk: Desk, grade: str = "") -> list[str]:
    """Open the list; what is taken from it comes into the list given back."""
    taken: list[str] = []
    desk.app.push_screen(LessonTypesScreen(MONDAY, taken.append, grade))
    await desk.pilot.pause()
    return taken


async def test_the_first_letters_of_any_word_of_the_title_find_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        taken = await choose(desk)
        await desk.press("b u r l")
        assert desk.rows == ["stitching"]
        await desk.press("enter")
        assert taken == ["stitching"]
        assert not isinstance(desk.app.screen, LessonTypesScreen)


async def test_those_for_the_grade_come_first_and_the_simplest_is_in_hand(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        taken = await choose(desk, "K")
        before, after = desk.rows[: desk.rows.index("others")], desk.rows[desk.rows.index("others") + 1 :]
        assert "clay" in before
        assert "wire" in after
        assert desk.in_hand == "crayon-drawing"
        await desk.press("enter")
        assert taken == ["crayon-drawing"]


async def test_letters_that_fit_nothing_take_nothing_and_esc_goes_back_without_one(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        taken = await choose(desk)
        await desk.press("x x enter")
        assert "No lesson type begins so" in desk.screen
        await desk.press("escape")
        assert taken == []
        assert not isinstance(desk.app.screen, LessonTypesScreen)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_what_the_children_make_is_read_in_full_in_any_window(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await choose(desk, "3")
        await desk.press("p a p e r space s")
        said = " ".join(desk.screen.split())
        assert "Strips folded and glued so that they stand up." in said
        assert all(word in said for word in ("2 parts", "1-5"))


async def test_types_and_guide_open_before_there_is_any_plan(tmp_path: Path) -> None:
    app = FirstApp(tmp_path / "nothing yet", datetime(2026, 10, 5, 7, 41), "nothing")
    async with app.run_test(size=(60, 20)) as pilot:
        begin = app.screen
        taken: list[str] = []
        app.push_screen(LessonTypesScreen(MONDAY, taken.append, "4"))
        await pilot.pause()
        await pilot.press("w", "i", "enter")
        app.push_screen(GuideScreen())
        await pilot.pause()
        await pilot.press("enter", "b")
        assert (taken, app.screen) == (["wire"], begin)
