"""A part that cannot be taught as things are: two adults needed, one is there. Keys: common practice, no source."""

from __future__ import annotations

from pathlib import Path

from tests.packing_schools import school_one_adult_short
from tests.schools import MONDAY
from tests.tui.desk import Desk, at_desk


def undecided(desk: Desk) -> list[str]:
    """The classes whose visit nobody has decided about."""
    day = desk.book.day(MONDAY)
    waiting = {each.visit for each in day.decisions}
    return [visit.class_id for visit in day.visits if visit.key in waiting]


async def test_the_morning_opens_on_what_must_be_decided_with_its_choices_below(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        assert desk.in_hand == desk.book.day(MONDAY).decisions[0].key
        assert "two adults" in desk.screen
        assert "1 teach Rubbings" in desk.screen and "2 a second adult is there" in desk.screen
        assert "2 to decide" in desk.screen


async def test_a_visit_that_is_not_decided_is_never_called_ready(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        assert not [line for line in desk.book.day(MONDAY).lines if line.need]
        assert "decide" in desk.screen.splitlines()[3] + desk.screen.splitlines()[4]


async def test_one_digit_chooses_and_what_is_chosen_is_packed(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        assert undecided(desk) == ["3-B", "3-K"]
        await desk.press("1")
        assert undecided(desk) == ["3-K"]
        lines = desk.book.day(MONDAY).lines
        assert [line.supply for line in lines if line.critical] == ["white-12x18"]
        assert "teach Rubbings" in desk.screen


async def test_from_anywhere_on_the_list_it_takes_two_keys(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        await desk.press("1 right right")
        assert desk.in_hand not in [each.key for each in desk.book.day(MONDAY).decisions]
        await desk.press("j 1")
        assert undecided(desk) == []


async def test_undo_takes_the_choice_back_and_shows_it_again(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        asked = desk.in_hand
        await desk.press("2 u")
        assert undecided(desk) == ["3-B", "3-K"]
        assert desk.in_hand == asked


async def test_a_digit_without_a_choice_and_other_keys_decide_nothing(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        await desk.press("9 0 enter n s a l")
        assert desk.entries() == 0
        assert undecided(desk) == ["3-B", "3-K"]


async def test_before_she_goes_it_is_critical_and_one_digit_chooses(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        await desk.press("g")
        assert desk.in_hand == desk.book.day(MONDAY).decisions[0].key
        assert "critical" in desk.screen.splitlines()[1]
        await desk.press("1")
        assert undecided(desk) == ["3-K"]


async def test_why_tells_the_rule_its_source_and_the_ways_out(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path)) as desk:
        await desk.press("w")
        assert "Rule: Two adults in the room" in desk.screen
        assert "Where that comes from:" in desk.screen
        assert "teach Rubbings" in desk.screen


async def test_choices_are_readable_in_a_small_window(tmp_path: Path) -> None:
    async with at_desk(school_one_adult_short(tmp_path), size=(60, 20)) as desk:
        last = " ".join(desk.screen.splitlines()[-2:])
        assert "1 teach Rubbings" in last and "3 3-B is not visited" in last
