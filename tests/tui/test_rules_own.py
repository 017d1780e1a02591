"""A rule of her own from a line in hand: proposed, looked at for two weeks, kept or left, and undone by one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.rules.records import Rule
from tests.schools import MONDAY
from tests.tui.desk import Desk, at_desk
from tests.tui.test_rules import rules_kept

GLUE = "box-1/glue-stick"
"""25 glue sticks in Box 1, for 1-P."""


async def on_glue(desk: Desk, keys: str) -> None:
    await desk.go_to(GLUE)
    await desk.press(f"full_stop {keys}".strip())


async def looked(desk: Desk) -> None:
    """Wait until the coming two weeks are shown."""
    while "Looking at the coming two weeks" in desk.screen:
        await desk.pilot.pause()


def the_rule(folder: Path) -> Rule:
    (rule,) = rules_kept(folder).rules
    return rule


def need(desk: Desk, key: str) -> int:
    return next((line.need for line in desk.book.day(MONDAY).lines if line.key == key), 0)


async def test_three_keys_make_a_rule_of_the_line_in_hand(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
        packed = {key for key, state in desk.states().items() if state == "packed"}
        await on_glue(desk, "enter enter")
        rule = the_rule(tmp_path)
        assert [each.supply for each in rule.add] == ["glue-stick"]
        assert desk.app.screen is desk.app.screen_stack[0]
        assert desk.in_hand == GLUE
        assert "Kept." in desk.screen
        assert {key for key, state in desk.states().items() if state == "packed"} == packed


async def test_undo_on_the_list_takes_the_rule_out_of_the_file(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await on_glue(desk, "enter 4 enter enter")
        assert the_rule(tmp_path).add[0].count == 4
        assert need(desk, GLUE) > 25
        await desk.press("u")
        assert "Taken back: your own rule" in desk.screen
        assert rules_kept(tmp_path).rules == ()
        assert need(desk, GLUE) == 25


async def test_what_a_rule_would_do_is_shown_by_day_and_nothing_is_written_before_it_is_kept(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await on_glue(desk, "enter 4 enter")
        await looked(desk)
        assert "Mon 5 Oct, Box 1: glue stick 25 -> " in desk.screen
        assert not (tmp_path / "rules.toml").exists()
        await desk.press("b escape")
        assert desk.in_hand == GLUE
        assert not (tmp_path / "rules.toml").exists()


async def test_time_basis_and_critical_are_one_key_each(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to(GLUE)
        before = next(line for line in desk.book.day(MONDAY).lines if line.key == GLUE)
        await on_glue(desk, "f o r space c l a s s enter")
        assert "for class 1-P" in desk.screen
        await desk.press("c p 2 enter enter")
        rule = the_rule(tmp_path)
        assert rule.when == ("class is 1-P",)
        assert rule.add[0].critical is not before.critical
        assert (rule.add[0].per, rule.add[0].count) == ("pair", 2)


async def test_the_next_time_is_one_key_away(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await on_glue(desk, "")
        first, second = [row.name for row in desk.app.screen.list.rows if row.kind == "matter"][:2]  # type: ignore[attr-defined]
        await desk.press("enter")
        assert first in desk.screen
        await desk.press("t")
        assert second in desk.screen


async def test_a_reason_of_hers_stands_beside_the_line(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await on_glue(desk, "enter 4 enter w c a p s space b r e a k enter")
        assert "why: caps break" in desk.screen
        await desk.press("enter")
        assert the_rule(tmp_path).because == "caps break"
        line = next(line for line in desk.book.day(MONDAY).lines if line.key == GLUE)
        assert any(because.text == "caps break" for because in line.because)


async def test_never_forbids_and_counts_nothing(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await on_glue(desk, "n e v e r enter 4")
        assert "Nothing is counted" in desk.screen
        await looked(desk)
        assert "must not come along" in desk.screen
        await desk.press("enter")
        assert desk.state(GLUE) == "forbidden"
        await desk.press("u")
        assert desk.state(GLUE) != "forbidden"


async def test_more_to_spare_has_a_number(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to("box-1/green-6x9")
        before = need(desk, "box-1/green-6x9")
        await desk.press("full_stop s p a r e space e v e r y enter 2 0 enter enter")
        assert the_rule(tmp_path).raises
        assert need(desk, "box-1/green-6x9") == 22 * 3 + 20 > before


async def test_zero_and_half_typed_numbers_make_no_rule(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await on_glue(desk, "enter 0 enter")
        assert "would be no rule" in desk.screen
        await desk.press("4 escape escape escape")
        assert desk.app.screen is desk.app.screen_stack[0]
        assert not (tmp_path / "rules.toml").exists()


async def test_no_rule_is_made_of_a_folder_or_of_a_thing_to_do(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to(next(line.key for line in desk.book.day(MONDAY).lines if line.supply == "folder 3-B"))
        await desk.press("full_stop")
        assert "No rule can be made of" in desk.screen
        assert desk.app.screen is desk.app.screen_stack[0]


async def test_a_second_window_keeps_no_rule(tmp_path: Path) -> None:
    async with at_desk(tmp_path):
        pass
    with Book.open(tmp_path):
        async with at_desk(tmp_path) as desk:
            await on_glue(desk, "enter enter")
            assert "Not saved: Another window" in desk.screen
            assert not (tmp_path / "rules.toml").exists()


@pytest.mark.parametrize("size", [(20, 5), (60, 20), (120, 40)])
async def test_a_rule_can_be_made_in_a_window_of_any_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await on_glue(desk, "enter enter")
        assert the_rule(tmp_path)
