"""What is where, lending and missing things on the screen: few keys, and every one can be taken back.

Situations T31, T32, T33, T37, T44 and T51 on the reference school; common practice, no source.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.daybook.entries import CountedSharps, Stands
from checklists.daybook.lending import loans_now
from checklists.daybook.line_states import has_now
from checklists.daybook.state import Case, Place
from tests.days import at
from tests.schools import FRIDAY_BEFORE, MONDAY, in_the_evening, reference_school
from tests.tui.desk import at_desk

AT_8_40 = datetime(2026, 10, 5, 8, 40)
AT_15 = datetime(2026, 10, 5, 15, 0)
MISSING = Case("2026-10-01/P3 3-B/scissors", "scissors", 1, FRIDAY_BEFORE, "12", "P3", "3-B", 13, 12)


def school(folder: Path, **state: object) -> Path:
    return in_the_evening(reference_school(folder), on_hand={"scissors": 30}, **state)


# ------------------------------------------------------------------------------------------- T31 the first thing


async def test_what_stands_in_a_room_is_in_hand_first_and_enter_fetches_it(tmp_path: Path) -> None:
    data = school(tmp_path, places={"watercolour": Place("11", FRIDAY_BEFORE, "P5")})
    async with at_desk(data) as desk:
        assert desk.in_hand == "fetch/watercolour"
        assert "FETCH Watercolour kit, Room 11, needed P1 (K-M, 8:00), +4 min" in desk.screen
        assert "leave by 7:48" in desk.screen
        await desk.press("w")
        assert "Today needs this container and it is not at the store" in " ".join(desk.screen.split())
        await desk.press("b enter")
        assert "leave by 7:52" in desk.screen
        assert desk.book.marks(MONDAY).places["watercolour"].place == "store"
        await desk.press("u")
        assert (desk.in_hand, "leave by 7:48" in desk.screen) == ("fetch/watercolour", True)


# ------------------------------------------------------------------------------------------------- what is where


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_where_a_thing_is_now_takes_its_letters_and_those_of_the_room(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with at_desk(school(tmp_path), size=size) as desk:
        await desk.open_page("What is where")
        assert "Printing kit: the store, shelf K2" in desk.screen
        await desk.press("p r i n enter")
        assert "Printing kit: where is it now?" in desk.screen
        await desk.press("1 1 enter")
        assert desk.book.marks(MONDAY).places["printing"].place == "11"
        assert "Printing kit: Room 11, since today 7:41" in desk.screen
        assert desk.screen.index("Not where it lives") < desk.screen.index("Room 11")
        await desk.press("escape escape u")
        assert "printing" not in desk.book.marks(MONDAY).places


async def test_a_sharp_left_in_a_room_is_warned_of_and_noted(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path), size=(120, 40)) as desk:
        await desk.open_page("What is where")
        await desk.press("s t i t c h enter 1 4 enter")
        assert "Sharps are never left in a room" in desk.screen
        assert desk.book.marks(MONDAY).places["stitching"].place == "14"


async def test_a_missing_thing_is_found_from_there_with_the_place(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path, cases=(MISSING,))) as desk:
        assert "Missing: 1 scissors since Room 12" in desk.screen
        await desk.open_page("What is where")
        await desk.press("enter")
        for offer in ("found: Room 12", "reported to the office", "lent to Room 12", "close without it"):
            assert offer in desk.screen
        await desk.press("d e s k enter")
        closed = desk.book.marks(MONDAY).closed_cases[MISSING.key]
        assert (closed.found, closed.where) == (True, "desk")
        await desk.press("escape escape")
        assert "Missing:" not in desk.screen
        await desk.press("u")
        assert "Missing: 1 scissors since Room 12" in desk.screen


# ---------------------------------------------------------------------------------------------- T44 lending


async def test_twelve_scissors_to_room_16_and_back(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path), now=AT_8_40) as desk:
        await desk.open_page("Lend something")
        await desk.press("s c enter 1 2 space 1 6")
        assert "12 scissors to Room 16" in desk.screen
        await desk.press("enter")
        assert "12 scissors lent to Room 16. V7 needs 29, 18 left: short 11; per pair" in desk.screen
        line = next(line for line in desk.book.day(MONDAY).lines if line.supply == "scissors")
        assert has_now(line, desk.book.marks(MONDAY)) == 18
        await desk.press("escape escape")
        assert "lent: 12 scissors, Room 16, since 8:40" in desk.screen
        await desk.open_page("Lend something")
        await desk.press("enter 5 enter")
        (loan,) = loans_now(desk.book.day(MONDAY), desk.book.marks(MONDAY))
        assert loan.count == 7
        await desk.press("escape escape u u")
        assert loans_now(desk.book.day(MONDAY), desk.book.marks(MONDAY)) == ()
        assert has_now(line, desk.book.marks(MONDAY)) == 30


async def test_more_than_there_are_is_refused_in_words(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path)) as desk:
        await desk.open_page("Lend something")
        await desk.press("s c enter 3 1 space 9 enter")
        assert "30 scissors are there (Cart 30), so 31 cannot be lent." in desk.screen
        assert desk.entries() == 0


async def test_at_the_days_end_one_digit_says_that_it_is_back(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path), now=AT_15) as desk:
        await desk.open_page("Lend something")
        await desk.press("s c enter 1 2 space 9 enter escape escape e")
        (loan,) = loans_now(desk.book.day(MONDAY), desk.book.marks(MONDAY))
        while desk.in_hand != loan.key:
            await desk.press("down")
        await desk.press("2")
        assert loans_now(desk.book.day(MONDAY), desk.book.marks(MONDAY)) == ()
        await desk.press("u")
        assert desk.in_hand == loan.key


# ------------------------------------------------------------------------------------ T32, T33 and T51, day's end


async def test_one_missing_says_what_is_left_and_words_say_where_it_was_found(tmp_path: Path) -> None:
    now = datetime(2026, 10, 5, 10, 21)
    async with at_desk(school(tmp_path), now=now, size=(120, 40)) as desk:
        await desk.press("e")
        while not desk.in_hand.startswith("count/P3 3-B/scissors"):
            await desk.press("down")
        await desk.press("1 2 enter")
        key = "case/2026-10-05/P3 3-B/scissors"
        while desk.in_hand != key:
            await desk.press("down")
        assert "V4 needs 14, 29 left: enough. V7 needs 29, 29 left: enough." in " ".join(desk.screen.split())
        await desk.press("space f space a space b o x comma space b y space A l enter")
        closed = desk.book.marks(MONDAY).closed_cases[key.removeprefix("case/")]
        assert (closed.where, closed.by) == ("a box", "Al")
        await desk.press("u 3")
        assert desk.book.marks(MONDAY).closed_cases[key.removeprefix("case/")].where == "Room 12"


async def test_a_count_for_later_is_one_key_and_stays_on_top_of_the_list(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path), now=AT_15) as desk:
        await desk.press("e")
        while not desk.in_hand.startswith("count/P3 3-B/scissors"):
            await desk.press("down")
        assert "l later" in desk.screen
        await desk.press("l")
        assert "to be counted later" in desk.screen
        await desk.press("b")
        assert "! Count: 13 scissors, V3 3-B, Room 12" in desk.screen
        desk.book.do(MONDAY, CountedSharps(at=at("15:04"), visit="P3 3-B", supply="scissors", out=13, back=13))
        await desk.press("e b")
        assert "Count:" not in desk.screen


# --------------------------------------------------------------------------------------------- T37 elsewhere


async def test_a_line_of_a_box_in_another_room_says_so_when_it_is_packed(tmp_path: Path) -> None:
    async with at_desk(school(tmp_path)) as desk:
        desk.book.do(MONDAY, Stands(at=at("7:41"), container="box-3", place="14"))
        await desk.go_to("box-3/yarn-ball")
        await desk.press("enter")
        assert "Box 3 is in Room 14 until 10:25; V3 needs it at 9:35." in desk.screen
        assert desk.state("box-3/yarn-ball") == "packed"
