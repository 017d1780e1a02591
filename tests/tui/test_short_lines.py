"""A line that is short, on the screen: what each way out comes to stands beside its digit. Situation T35."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.schools import MONDAY, in_the_evening, reference_school
from tests.tui.desk import Desk, at_desk

GLUE = "box-1/glue-stick"


def dry_sticks(folder: Path) -> Path:
    """Box 1 is thought to hold 28 glue sticks of 60 in all; V2 needs 25."""
    data = reference_school(folder, contents={"box-1": {"glue-stick": 28}, "cart": {"scissors": 30}})
    return in_the_evening(data, on_hand={"glue-stick": 60})


async def type_twenty(desk: Desk) -> str:
    """Type 20 and s on the glue sticks; what the screen says."""
    await desk.go_to(GLUE)
    await desk.press("2 0 s")
    return desk.screen


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_ways_out_say_what_they_come_to(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(dry_sticks(tmp_path), size=size) as desk:
        screen = await type_twenty(desk)
        assert "Short, 20 of 25:" in screen
        for way in ("1 share: 13, enough", "4 fetch: 32 in G1", "5 go without: 2 without"):
            assert way in screen


async def test_in_a_narrow_window_every_remedy_has_its_digit(tmp_path: Path) -> None:
    async with at_desk(dry_sticks(tmp_path), size=(60, 20)) as desk:
        screen = " ".join((await type_twenty(desk)).split())
        for way in ("1 share", "2 use another", "3 make more", "4 fetch", "5 go without"):
            assert way in screen


async def test_a_digit_says_it_and_the_dry_ones_are_gone_after_closing(tmp_path: Path) -> None:
    async with at_desk(dry_sticks(tmp_path)) as desk:
        await type_twenty(desk)
        await desk.press("1")
        assert desk.state(GLUE) == "short"
        assert desk.book.marks(MONDAY).lines[GLUE].remedy == "share"
        assert desk.book.closing_of(MONDAY).levels == {"glue-stick": "low"}
        await desk.press("u")
        assert GLUE not in desk.book.marks(MONDAY).lines
        assert desk.book.closing_of(MONDAY).levels == {}


async def test_before_leaving_the_ways_out_are_said_as_well(tmp_path: Path) -> None:
    async with at_desk(dry_sticks(tmp_path)) as desk:
        await desk.go_to(GLUE)
        await desk.press("2 0 enter")
        await desk.press("g")
        while "glue stick" not in _asked(desk):
            before = _asked(desk)
            await desk.press("down")
            assert _asked(desk) != before, "no question is about glue sticks"
        assert "share: 13, enough" in _asked(desk)


def _asked(desk: Desk) -> str:
    """What stands below the list: the question in hand with its choices."""
    rows = desk.screen.splitlines()
    return " ".join(" ".join(rows[len(rows) // 2 :]).split())
