"""What comes out of a container: of a lesson that is over, or what must not come along. Keys: common practice."""

from __future__ import annotations

from pathlib import Path

from checklists.daybook.entries import Packed
from checklists.daybook.line_states import state_of
from checklists.daybook.minutes_left import packing_minutes_left
from checklists.lines.records import Line
from tests.packing_schools import POMPONS, school_after_pompon_mice, school_that_avoids_latex
from tests.schools import MONDAY
from tests.tui.desk import AT_7_41, Desk, at_desk

POMPON = "take out/box-3/pompon"


def in_box(desk: Desk, supply: str) -> int:
    """How many are in Box 3 once the day is closed as it is told so far."""
    return desk.book.closing_of(MONDAY).contents.get("box-3", {}).get(supply, 0)


async def go_to_number(desk: Desk, key: str) -> None:
    number = next(each.number for each in desk.book.day(MONDAY).take_out if each.key == key)
    await desk.press(" ".join([*str(number), "j"]))
    assert desk.in_hand == key


async def test_what_is_to_come_out_stands_behind_the_lines_of_its_container_with_its_shelf(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        assert desk.rows[-1] == POMPON or POMPON in desk.rows
        assert f"take out {POMPONS} pompon → shelf Y1" in desk.screen


async def test_one_key_takes_it_out_and_the_box_does_not_hold_it_tomorrow(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        assert in_box(desk, "pompon") == POMPONS
        await go_to_number(desk, POMPON)
        await desk.press("enter")
        assert in_box(desk, "pompon") == 0
        await desk.press("u")
        assert in_box(desk, "pompon") == POMPONS
        assert desk.in_hand == POMPON


async def test_a_number_takes_out_so_many_and_the_rest_stays_open(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        await go_to_number(desk, POMPON)
        await desk.press("2 0 enter")
        assert in_box(desk, "pompon") == POMPONS - 20
        assert desk.in_hand == POMPON
        assert "take out 18 pompon" in desk.screen
        await desk.press("1 9 enter")
        assert in_box(desk, "pompon") == POMPONS - 20
        await desk.press("enter")
        assert in_box(desk, "pompon") == 0


async def test_it_may_stay_in_there_with_a_reason(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        await go_to_number(desk, POMPON)
        await desk.press("n 1")
        assert in_box(desk, "pompon") == POMPONS
        await go_to_number(desk, POMPON)
        assert "left in" in desk.screen


async def test_the_whole_container_never_takes_out_silently_but_goes_there(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        for line in desk.book.day(MONDAY).lines:
            if line.critical:
                await desk.go_to(line.key)
                await desk.press("enter")
        await desk.press("a")
        assert in_box(desk, "pompon") == POMPONS
        assert desk.in_hand == POMPON


async def test_it_is_not_asked_before_she_goes_and_not_on_the_gathering_walk(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        await desk.press("g")
        assert "pompon" not in desk.screen
        await desk.press("b o")
        assert "By shelf." in desk.screen and "pompon" not in desk.screen


async def test_it_takes_the_minutes_of_a_line(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        day, marks = desk.book.day(MONDAY), desk.book.marks(MONDAY)
        before = packing_minutes_left(day, marks, 0.3)
        await go_to_number(desk, POMPON)
        await desk.press("enter")
        assert round(before - packing_minutes_left(day, desk.book.marks(MONDAY), 0.3), 3) == 0.3


async def test_why_leads_to_the_changeover_of_its_container(tmp_path: Path) -> None:
    async with at_desk(school_after_pompon_mice(tmp_path)) as desk:
        await go_to_number(desk, POMPON)
        await desk.press("w")
        assert "Pompon Mice" in desk.screen
        await desk.press("o")
        shown = desk.screen
        assert shown.index("TAKE OUT") < shown.index("38 pompon → shelf Y1") < shown.index("PUT IN")
        assert shown.index("PUT IN") < shown.index("white paper 12x18") < shown.index("LEAVE")


# --------------------------------------------------------------------------------------------- must not come along


def band(desk: Desk) -> Line:
    return next(line for line in desk.book.day(MONDAY).lines if line.supply == "rubber-band")


async def test_what_must_not_come_along_is_critical_and_is_never_packed(tmp_path: Path) -> None:
    async with at_desk(school_that_avoids_latex(tmp_path)) as desk:
        assert desk.in_hand == band(desk).key
        assert "use cotton tie" in desk.screen
        await desk.press("enter")
        assert desk.entries() == 0
        assert "cotton tie" in desk.screen
        await desk.press("a")
        assert desk.state(band(desk).key) == "forbidden"


async def test_taken_out_empties_the_box_and_undo_brings_it_back(tmp_path: Path) -> None:
    async with at_desk(school_that_avoids_latex(tmp_path)) as desk:
        before = in_box(desk, "rubber-band")
        await desk.press("n")
        assert "1 taken out" in desk.screen
        await desk.press("1")
        assert desk.state(band(desk).key) == "not needed"
        assert in_box(desk, "rubber-band") == 0
        await desk.press("u")
        assert desk.state(band(desk).key) == "forbidden"
        assert in_box(desk, "rubber-band") == before > 0


async def test_what_is_not_in_there_is_left_out(tmp_path: Path) -> None:
    async with at_desk(school_that_avoids_latex(tmp_path, inside=0)) as desk:
        await desk.press("n")
        assert "1 left out" in desk.screen
        await desk.press("1")
        assert desk.state(band(desk).key) == "not needed"


async def test_a_tick_of_before_does_not_hold_once_a_thing_must_not_come_along(tmp_path: Path) -> None:
    """It was packed, then somebody said that the class avoids it."""
    async with at_desk(school_that_avoids_latex(tmp_path, inside=0)) as desk:
        line = band(desk)
        desk.book.do(MONDAY, Packed(at=AT_7_41, line=line.key, count=27))
        assert state_of(line, desk.book.marks(MONDAY)) == "forbidden"
        await desk.press("g")
        assert "take out 27 rubber band" in desk.screen or "rubber band must not come along" in desk.screen
        await desk.press("1")
        assert state_of(line, desk.book.marks(MONDAY)) == "not needed"
        assert in_box(desk, "rubber-band") == 0
