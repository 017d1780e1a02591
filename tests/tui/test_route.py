"""The route on screen: each stop with what comes off and on, each way with its minutes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.schools import reference_school
from tests.tui.desk import Desk, at_desk


async def open_route(desk: Desk) -> None:
    await desk.press("tab")
    rows = desk.rows
    await desk.press(str(rows.index("route") + 1))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_day_stands_in_order_under_its_stops(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await open_route(desk)
        assert "Route for Mon 5 Oct" in desk.screen
        assert "5 min late in all" in desk.screen
        assert "BEFORE SCHOOL" in desk.screen
        await desk.press("f f f f f f")
        assert "AFTER V4: BREAK AT THE STORE" in desk.screen


async def test_where_not_everything_fits_it_says_what_would_help(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"cart": {"half_slots": 2, "standing": {"scissors": 30}}})
    async with at_desk(tmp_path) as desk:
        await open_route(desk)
        assert "V1 K-M alone needs 1 more" in desk.screen
        assert "1 half slot more on the cart" in desk.screen


async def test_a_class_that_is_away_is_not_on_the_way_any_more(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t 3 n b")
        await open_route(desk)
        assert "3-B" not in desk.screen
        assert "3-K" in desk.screen
