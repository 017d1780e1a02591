"""Two versions of a day on the screen: said above the list, side by side on request, merged by one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.schools import reference_school
from tests.situations.test_two_versions_of_a_day import ticked_here, ticked_there
from tests.tui.desk import at_desk
from tests.two_versions import kept_in_step


@pytest.fixture
def school(tmp_path: Path) -> Path:
    folder = reference_school(tmp_path / "school")
    kept_in_step(folder, ticked_here, ticked_there)
    return folder


async def test_it_is_said_above_the_list_and_one_key_away(school: Path) -> None:
    async with at_desk(school) as desk:
        assert "Two versions of Mon 5 Oct" in desk.screen
        await desk.press("tab")
        assert "1  Two versions of Mon 5 Oct" in desk.screen
        await desk.press("1")
        assert "7:41 packed 40 of 54 yarn" in desk.screen
        columns = next(row for row in desk.screen.splitlines() if "IN THIS FOLDER" in row)
        assert columns.split() == ["IN", "THIS", "FOLDER", "IN", "THE", "OTHER", "VERSION"]
        await desk.press("m")
        assert "2 things came in" in desk.screen
        await desk.press("b b")
        assert "Two versions" not in desk.screen
        assert desk.state("box-3/yarn-ball") == "packed"


async def test_left_alone_both_stay_and_it_is_said_again(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.press("tab 1 x b")
        assert "Two versions of Mon 5 Oct" in desk.screen
        assert desk.state("box-3/yarn-ball") == "part packed"
    assert len(list((school / "daybook").glob("* (conflicted copy).toml"))) == 1


async def test_in_a_narrow_window_one_stands_under_the_other(school: Path) -> None:
    async with at_desk(school, size=(60, 20)) as desk:
        await desk.press("tab 1")
        assert "in this folder: 7:41 packed 40 of 54" in desk.screen
        assert "IN THE OTHER VERSION" not in desk.screen
