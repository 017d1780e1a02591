"""The routes of the coming days on screen, and the year below them once it was gone through."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.looking_ahead import days_as_planned, outlook_from
from tests.commandline.running import on_monday
from tests.schools import MONDAY, reference_school, small_school
from tests.tui.desk import Desk, at_desk
from tui.recorder import Recorder
from tui.screens.routes_ahead import RoutesAheadScreen


async def open_routes_ahead(desk: Desk) -> None:
    await desk.press("tab")
    await desk.press(str(desk.rows.index("route") + 1))
    await desk.press("d")


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_first_the_coming_days_then_the_year(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await open_routes_ahead(desk)
        assert "Mon 5 Oct, day A" in desk.screen
        assert "V2 1-P begins 1 min late, unless V1 K-M ends at 8:44." in desk.screen
        await desk.app.workers.wait_for_complete()
        await scroll_to(desk, "8 half slots, as it is")
        row = next(row for row in desk.screen.splitlines() if "as it is" in row)
        late = 5 * len([day for day in days_as_planned(outlook_from(desk.book, MONDAY)) if day.visits])
        assert row.rstrip(" ▐█▌▄▀▁▂▃▅▆▇").split()[-4:] == ["0", str(late), "0", "0"]
        await scroll_to(desk, "2 min more between any two classes")
        assert "takes some seconds" not in desk.screen


async def test_of_a_day_that_is_over_by_the_clock_the_page_begins_there_like_the_command(tmp_path: Path) -> None:
    reference_school(tmp_path)
    weeks_later = datetime(2026, 11, 27, 9, 0)
    with Book.open(tmp_path, today=weeks_later.date()) as book:
        page = RoutesAheadScreen(Recorder(book), MONDAY, weeks_later)
        assert page.outlook.first == MONDAY
        assert book.today == weeks_later.date()
        rows = [each.plain for each in page.coming]
    told = on_monday("route", "--ahead", data=tmp_path).out
    assert rows[0].startswith("Mon 5 Oct") and told.startswith("ROUTES  Mon 5 Oct")
    assert "V2 1-P begins 1 min late, unless V1 K-M ends at 8:44." in rows


async def scroll_to(desk: Desk, text: str) -> None:
    """Press f until the page shows a text."""
    for _ in range(12):
        if text in desk.screen:
            return
        await desk.press("f")
    raise AssertionError(f"{text!r} is nowhere on the page:\n{desk.screen}")


async def test_the_page_can_be_read_and_closed_while_the_year_is_gone_through(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_routes_ahead(desk)
        await desk.press("b")
        await desk.app.workers.wait_for_complete()
        assert desk.in_hand.startswith("stop/")


async def test_a_day_that_does_not_fit_says_what_would_help(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"cart": {"half_slots": 2, "standing": {"scissors": 30}}})
    async with at_desk(tmp_path) as desk:
        await open_routes_ahead(desk)
        assert "V3 3-B alone needs 1 half slot more" in desk.screen
        assert "What would help" in desk.screen


async def test_where_all_is_well_that_is_all_it_says_of_the_days(tmp_path: Path) -> None:
    small_school(tmp_path)
    async with at_desk(tmp_path) as desk:
        await open_routes_ahead(desk)
        assert "All is well on every one of them" in desk.screen
        assert "late, unless" not in desk.screen


async def test_when_todays_visits_are_over_it_begins_with_the_next_day(tmp_path: Path) -> None:
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 15, 10)) as desk:
        await open_routes_ahead(desk)
        assert "Wed 14 Oct" in desk.screen
        assert "Mon 5 Oct" not in desk.screen
