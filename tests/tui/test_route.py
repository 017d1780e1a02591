"""The route on screen: each stop with what comes off and on, each way with its minutes."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tests.schools import reference_school
from tests.tui.desk import Desk, at_desk


async def open_route(desk: Desk) -> None:
    await desk.press("tab")
    await desk.press(str(desk.rows.index("route") + 1))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_day_stands_in_order_under_its_stops(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await open_route(desk)
        assert "Mon 5 Oct" in desk.screen
        assert "5 min late in all" in desk.screen
        assert "Next: leave by 7:52 for Room 4 at 8:00, V1 K-M" in desk.screen
        assert "BEFORE SCHOOL: leave by 7:52" in desk.screen
        await desk.press("right")
        assert "AFTER V4: LUNCH AND PLANNING AT THE STORE" in desk.screen
        assert desk.in_hand == "stop/4"


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


async def test_at_ten_the_next_visit_is_in_hand_and_what_is_over_says_so(tmp_path: Path) -> None:
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 9, 40)) as desk:
        await open_route(desk)
        assert "Next: straight to Room 14 at 10:25, V4 3-K: 1 min, 4 to spare" in desk.screen
        assert desk.in_hand == "visit/P4 3-K"
        rows = desk.screen.splitlines()
        assert [row.split()[-1] for row in rows if " V1 " in row or " V2 " in row] == ["over", "over"]
        assert next(row for row in rows if " V3 " in row).split()[-1] == "now"


async def test_after_the_last_visit_only_what_is_left_behind_is_to_be_fetched(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"cart": {"half_slots": 6, "standing": {"scissors": 30}}})
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 15, 0)) as desk:
        await open_route(desk)
        assert "All visits are over. Still to fetch: " in desk.screen


async def test_the_bar_of_the_cart_has_its_number_beside_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        await open_route(desk)
        assert "8 of 8" in desk.screen
