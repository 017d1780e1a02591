"""The help pages: a screen's own keys, its own signs, and what its words mean; the key bar says where the rest is."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.files.lock import take_lock, why_not_writing
from tests.schools import reference_school
from tests.tui.desk import Desk, at_desk
from tui.screens.page import Page


def page_of(desk: Desk) -> str:
    page = desk.app.screen
    assert isinstance(page, Page)
    return "\n".join(each.plain for each in page.paragraphs)


async def test_the_route_s_help_begins_with_its_keys_and_ends_with_what_its_words_mean(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("tab enter h")
        assert "best route for the" in desk.screen
        page = page_of(desk)
        for word in ("1 LATE", "2 to spare", "█░ 3 of 4", "left ahead", "Next", "NOT KNOWN", "a wish"):
            assert word in page
        said = " ".join(page.split())
        assert "8:20 less 2 min to walk, 4 to set up, 2 of slack is 8:12" in said
        assert 20 - 4 - 2 - 2 == 12
        assert "+16" not in page


async def test_signs_of_the_packing_list_stand_on_its_own_help_only(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("h")
        assert "must not come along" in page_of(desk)
        await desk.press("b tab h")
        assert "must not come along" not in page_of(desk)
        assert "open the page in hand" in " ".join(page_of(desk).split())


@pytest.mark.parametrize(("size", "said"), [((60, 20), "h all keys"), ((120, 40), "h keys")])
async def test_where_not_every_key_fits_the_bar_says_where_the_others_are(
    tmp_path: Path, size: tuple[int, int], said: str
) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await desk.press("tab enter")
        assert said in desk.screen.splitlines()[-1]


async def test_enter_on_what_is_fetched_after_school_says_that_nothing_is_chosen_there(tmp_path: Path) -> None:
    reference_school(tmp_path, school={"cart": {"half_slots": 6, "standing": {"scissors": 30}}})
    async with at_desk(tmp_path, now=datetime(2026, 10, 5, 15, 0)) as desk:
        await desk.press("tab enter")
        while desk.in_hand != "fetch":
            await desk.press("down")
        await desk.press("enter")
        assert "nothing to choose on this row" in desk.screen


def test_a_second_window_is_told_of_the_first_in_plain_words(tmp_path: Path) -> None:
    with take_lock(tmp_path) or pytest.fail("the lock was not free"):
        said = why_not_writing(tmp_path, wanted=True, newer=False)
        assert said.startswith("Another window writes here; this one only reads.")
        assert "process" not in said
