"""Filling a box once for the week: 3-B comes again on Thursday. Keys: common practice, no source."""

from __future__ import annotations

from pathlib import Path

from tests.packing_schools import school_that_cuts_twice
from tests.schools import MONDAY
from tests.tui.desk import Desk, at_desk


def needs_today(desk: Desk) -> dict[str, int]:
    """What today needs, by line."""
    return {line.key: line.need for line in desk.book.day(MONDAY).lines if line.need}


async def test_one_key_goes_from_the_day_to_the_week_to_the_cycle_and_back(tmp_path: Path) -> None:
    async with at_desk(school_that_cuts_twice(tmp_path)) as desk:
        for span in ("week", "cycle", "day"):
            await desk.press("minus")
            assert desk.book.day(MONDAY).fill == span
        await desk.press("u")
        assert desk.book.day(MONDAY).fill == "cycle"


async def test_filled_for_the_week_the_screen_says_so_and_which_lines_later_visits_need(tmp_path: Path) -> None:
    async with at_desk(school_that_cuts_twice(tmp_path)) as desk:
        await desk.press("minus")
        assert "for the week: " in desk.screen
        later = [line for line in desk.book.day(MONDAY).lines if line.ahead]
        assert {line.supply for line in later} >= {"white-12x18", "tissue"}
        await desk.go_to(later[0].key)
        assert f"also {later[0].later[0]}" in desk.screen
        shown = next(text for text in desk.screen.splitlines() if text.startswith("▸"))
        assert f"0 of {later[0].need + later[0].ahead}" in shown


async def test_enter_fills_it_for_later_too_and_todays_number_leaves_the_rest_for_later(tmp_path: Path) -> None:
    async with at_desk(school_that_cuts_twice(tmp_path)) as desk:
        await desk.press("minus")
        line = next(line for line in desk.book.day(MONDAY).lines if line.ahead and line.need and not line.counted)
        await desk.go_to(line.key)
        await desk.press(" ".join([*str(line.need), "enter"]))
        assert desk.state(line.key) == "packed"
        assert desk.in_hand == line.key
        assert "later" in next(text for text in desk.screen.splitlines() if text.startswith("▸"))
        await desk.press("enter")
        assert desk.book.marks(MONDAY).lines[line.key].count == line.need + line.ahead
        assert desk.in_hand != line.key


async def test_what_only_later_visits_need_is_not_asked_before_she_goes(tmp_path: Path) -> None:
    async with at_desk(school_that_cuts_twice(tmp_path)) as desk:
        await desk.press("minus")
        day = desk.book.day(MONDAY)
        for line in day.lines:
            if line.need:
                await desk.go_to(line.key)
                await desk.press(" ".join([*str(line.need), "enter"]))
        await desk.press("g")
        keys = {line.key for line in day.lines}
        assert not keys & set(desk.rows)


async def test_the_need_of_today_is_the_same_however_far_ahead_is_filled(tmp_path: Path) -> None:
    async with at_desk(school_that_cuts_twice(tmp_path)) as desk:
        before = needs_today(desk)
        await desk.press("minus")
        assert needs_today(desk) == before
