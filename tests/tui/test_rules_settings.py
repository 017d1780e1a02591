"""The numbers the rules use: hers beside the built-in ones, typed, and back with one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.rules.read import settings_of
from tests.schools import MONDAY, reference_school
from tests.tui.desk import Desk, at_desk
from tests.tui.test_rules import rules_kept

TOWELS = "towels_a_child"
"""A number with decimals; built in 1.5."""
NEEDLES = "plastic_needle_grade"
"""A grade; built in 1."""


async def find_setting(desk: Desk, name: str) -> None:
    """Open the numbers and go to one by what it means."""
    meaning = next(each.meaning for each in settings_of(desk.book.rules) if each.name == name)
    await desk.press("comma s j")
    words = " ".join(word for word in meaning.casefold().split() if word.isalpha())[:40].rsplit(" ", 1)[0]
    await desk.press(" ".join("space" if sign == " " else sign for sign in words))
    await desk.press("enter")
    assert desk.in_hand == name


def value(desk: Desk, name: str) -> float:
    return next(each.value for each in settings_of(desk.book.rules) if each.name == name)


async def test_another_number_is_typed_and_the_built_in_one_stands_beside_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_setting(desk, TOWELS)
        await desk.press("2 full_stop 5 enter")
        assert rules_kept(tmp_path).settings == {TOWELS: 2.5}
        assert "2.5 (built in 1.5)" in desk.screen
        assert value(desk, TOWELS) == 2.5


async def test_back_to_the_built_in_number_with_one_key_and_undone_with_one(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_setting(desk, TOWELS)
        await desk.press("3 enter n")
        assert rules_kept(tmp_path).settings == {}
        assert value(desk, TOWELS) == 1.5
        await desk.press("u")
        assert value(desk, TOWELS) == 3
        await desk.press("u")
        assert value(desk, TOWELS) == 1.5


async def test_another_number_changes_the_list_and_keeps_the_ticks(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
        packed = {key for key, state in desk.states().items() if state == "packed"}
        before = {key: line for key, line in lines(desk).items() if "towel" in key}
        assert before
        await find_setting(desk, TOWELS)
        await desk.press("4 enter b b")
        after = lines(desk)
        assert all(after[key] > need for key, need in before.items())
        assert {key for key, state in desk.states().items() if state == "packed"} == packed


def lines(desk: Desk) -> dict[str, int]:
    return {line.key: line.need for line in desk.book.day(MONDAY).lines}


async def test_a_grade_may_be_kindergarten(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_setting(desk, NEEDLES)
        await desk.press("k enter")
        assert rules_kept(tmp_path).settings == {NEEDLES: "K"}
        assert value(desk, NEEDLES) == 0
        await desk.press("p enter")
        assert rules_kept(tmp_path).settings == {NEEDLES: "PK"}
        await desk.press("1 enter")
        assert rules_kept(tmp_path).settings == {}


@pytest.mark.parametrize(
    ("name", "keys", "said"),
    [
        (TOWELS, "9 9 enter", "cannot be: a number from 0 to"),
        (NEEDLES, "9 enter", "cannot be: a grade from PK to 8"),
        (NEEDLES, "1 full_stop 5 enter", "cannot be: a grade"),
        (TOWELS, "minus 1 enter", "cannot be"),
        (TOWELS, "full_stop full_stop enter", "cannot be"),
    ],
)
async def test_what_cannot_be_is_told_and_nothing_is_written(tmp_path: Path, name: str, keys: str, said: str) -> None:
    async with at_desk(tmp_path) as desk:
        await find_setting(desk, name)
        await desk.press(keys)
        assert said in desk.screen
        assert not (tmp_path / "rules.toml").exists()


async def test_what_is_typed_is_let_go_of_by_going_on_or_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_setting(desk, TOWELS)
        await desk.press("3 down enter 4 backspace backspace enter 5 escape enter")
        assert not (tmp_path / "rules.toml").exists()
        await desk.press("n")
        assert "is the built-in number" in desk.screen
        await desk.press("b b")
        assert desk.app.screen is desk.app.screen_stack[0]


async def test_a_second_window_sets_nothing(tmp_path: Path) -> None:
    reference_school(tmp_path)
    with Book.open(tmp_path):
        async with at_desk(tmp_path) as desk:
            await find_setting(desk, TOWELS)
            await desk.press("3 enter")
            assert "Not saved: Another window" in desk.screen


@pytest.mark.parametrize("size", [(20, 5), (60, 20), (120, 40)])
async def test_a_number_can_be_set_in_a_window_of_any_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await find_setting(desk, TOWELS)
        await desk.press("3 enter")
        assert rules_kept(tmp_path).settings == {TOWELS: 3}
