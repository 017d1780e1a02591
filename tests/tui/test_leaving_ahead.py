"""A cart of two slots: what is left ahead before school, ticked in Morning, and what waits at the store.

Monday of the reference school, common practice, no source. The walk to Room 4 is 2 min: there and back with 2 min of
handling are 6, so that the cart leaves at 7:52 and the round before it at 7:46.
"""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

import pytest

from checklists.daybook.state import Place
from tests.commandline.running import on_monday, trundle
from tests.schools import MONDAY, in_the_evening, reference_school
from tests.tui.desk import Desk, at_desk
from tui.sections import fetch_todos

TWO_SLOTS = {"cart": {"half_slots": 4, "standing": {"scissors": 30}}}
ROOM_4 = "ahead/4"


@asynccontextmanager
async def at_the_row(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Desk]:
    """Morning with the cursor on what is to be left ahead."""
    reference_school(folder, school=TWO_SLOTS)
    async with at_desk(folder, size=size) as desk:
        for _ in range(12):
            if desk.in_hand == ROOM_4:
                break
            await desk.press("c")
        assert desk.in_hand == ROOM_4
        yield desk


def places(desk: Desk) -> dict[str, str]:
    return {each: said.place for each, said in desk.book.marks(MONDAY).places.items()}


async def test_what_is_left_ahead_is_packed_first_and_what_waits_for_a_stop_last(tmp_path: Path) -> None:
    async with at_the_row(tmp_path) as desk:
        groups = desk.book.departure(MONDAY).groups
        assert groups[0].containers[:2] == ("cart", "box-K")
        assert [group.when for group in groups] == ["", "after V2", "after V4, lunch and planning"]
        assert "LEAVE AHEAD Box K, Room 4, for V1, 6 min" in desk.screen
        await desk.press("c c c")
        assert "after V2:" in desk.screen


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_when_to_leave_includes_it_until_it_stands_there(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_the_row(tmp_path, size) as desk:
        assert "leave ahead by 7:46, 5 min left" in desk.screen
        await desk.press("enter")
        assert places(desk) == {"box-K": "4"}
        assert "leave by 7:52, 11 min left" in desk.screen
        await desk.press("u")
        assert places(desk) == {}
        assert "leave ahead by 7:46" in desk.screen


async def test_once_it_stands_there_the_rest_of_the_route_is_the_same(tmp_path: Path) -> None:
    async with at_the_row(tmp_path) as desk:
        before = desk.book.route(MONDAY).plan
        await desk.press("enter")
        after = desk.book.route(MONDAY).plan
        assert before is not None and after is not None
        assert [(leg.first, leg.last, leg.rides) for leg in before.legs] == [
            (leg.first, leg.last, leg.rides) for leg in after.legs
        ]
        assert "FETCH" not in desk.screen


async def test_n_takes_it_along_instead_and_u_leaves_it_ahead_again(tmp_path: Path) -> None:
    async with at_the_row(tmp_path) as desk:
        await desk.press("n")
        assert "Box K: rides along today" in desk.screen
        assert "Box K" not in [name for each in desk.book.departure(MONDAY).to_leave for name in each.names]
        await desk.press("u")
        assert [each.key for each in desk.book.departure(MONDAY).to_leave] == [ROOM_4]


async def test_before_she_goes_it_is_asked_first_and_answered_with_a_digit(tmp_path: Path) -> None:
    async with at_the_row(tmp_path) as desk:
        await desk.press("g")
        assert desk.rows[1] == ROOM_4
        await desk.press("1")
        assert places(desk) == {"box-K": "4"}
        assert ROOM_4 not in desk.rows


async def test_w_tells_by_when_and_why_this_box_and_not_another(tmp_path: Path) -> None:
    """8:00 less 2 min to walk, 4 to set up, 2 of slack and 6 for the round: 7:46."""
    async with at_the_row(tmp_path, (120, 40)) as desk:
        await desk.press("w")
        said = " ".join(desk.screen.split())
        assert (
            "Leave ahead by 7:46: 8:00 less 2 min to walk, 4 to set up, 2 of slack, 6 for Box K to Room 4 and back."
            in said
        )
        assert (
            "The cart takes 4 half slots" in said
            and "Box 1: something sharp is in it, so it is never left in a room." in said
        )


def test_why_by_command_says_that_something_sharp_is_never_left(tmp_path: Path) -> None:
    """In the break after V4 Box 4 rides, with something sharp in it, and not Box 2."""
    data = reference_school(tmp_path, school=TWO_SLOTS)
    page = on_monday("why", "leave ahead", data=data).out
    assert "Leave ahead by 7:46" in page
    noon = trundle("why", "leave ahead box 2", "--date", "2026-10-05", "--at", "12:00", data=data).out
    assert "Leave ahead by 12:06" in noon
    assert "Box 4: something sharp is in it, so it is never left in a room." in noon
    assert "Box 5, Room 23" not in noon.splitlines()[0] and "LEAVE AHEAD Box 5" not in noon
    assert on_monday("why", "leave ahead", "--json", data=data).fields["things"][0]["room"] == "4"


def test_it_is_ticked_by_its_words_with_a_warning_where_it_is_not_packed(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school=TWO_SLOTS)
    ticked = on_monday("tick", "leave ahead box k", data=data)
    assert ticked.status == 0
    assert "Box K still has " in ticked.out and "critical line" in ticked.out
    assert on_monday("morning", "--json", data=data).fields["leave_ahead"][0]["done"]
    wrong = on_monday("tick", "leave ahead box 5", data=data)
    assert wrong.status == 2 and "Box K in Room 4" in wrong.err


async def test_ticking_it_unpacked_warns_and_the_cursor_stays_with_what_goes_now(tmp_path: Path) -> None:
    async with at_the_row(tmp_path) as desk:
        await desk.press("enter")
        assert "Box K still has " in desk.screen
        container = next(line.container for line in desk.book.day(MONDAY).lines if line.key == desk.in_hand)
        assert container in desk.book.departure(MONDAY).groups[0].containers


def test_by_command_it_is_told_in_order_and_what_waits_stands_apart(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school=TWO_SLOTS)
    page = on_monday("morning", data=data).out
    assert "Leave ahead by 7:46" in page
    assert page.index("LEAVE AHEAD Box K, Room 4") < page.index("BOX K") < page.index("NOT YET: AFTER V2")
    assert page.index("NOT YET: AFTER V2") < page.index("BOX 3") < page.index("NOT YET: AFTER V4, LUNCH AND PLANNING")
    fields = on_monday("morning", "--json", data=data).fields
    assert fields["leave_ahead"] == [{"room": "4", "containers": ["box-K"], "minutes": 6, "done": False}]
    assert fields["leave_by"] == "7:46"
    assert fields["packing_order"][1] == {"when": "after V2", "containers": ["box-3", "stitching"]}
    assert on_monday("answer", "leave ahead box k", "it stands there", data=data).status == 0
    assert on_monday("morning", "--json", data=data).fields["leave_by"] == "7:52"


async def test_what_can_be_fetched_at_lunch_is_no_critical_thing_of_the_morning(tmp_path: Path) -> None:
    places = {"box-4": Place("4", date(2026, 10, 2), "P5"), "box-1": Place("23", date(2026, 10, 2), "P5")}
    in_the_evening(reference_school(tmp_path, school=TWO_SLOTS), places=places)
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        day, departure = desk.book.day(MONDAY), desk.book.departure(MONDAY)
        assert {todo.key: todo.critical for todo in fetch_todos(day, departure)} == {
            "fetch/box-1": True,
            "fetch/box-4": False,
        }
        assert "by 7:38" in desk.screen
