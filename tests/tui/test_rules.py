"""Looking through the rules and switching them off and on: for whom, until when, why; ticks stay."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.rules.records import CheckFor, Rule, RuleFile, SwitchedOff
from tests.schools import MONDAY, reference_school, write_toml
from tests.tui.desk import Desk, at_desk

COVERS = "covers-for-wet-work"
NEEDLES = "plastic-needles"
"""A safety rule: needles of plastic for the young."""


async def find_rule(desk: Desk, ident: str) -> None:
    """Open the rules and go to one by typing its title."""
    title = next(rule.title for rule in desk.book.rules.rules if rule.id == ident)
    await desk.press("comma j")
    await desk.press(
        " ".join("space" if sign == " " else sign.casefold() for sign in title if sign.isalnum() or sign == " ")
    )
    await desk.press("enter")
    assert desk.in_hand == ident


def rules_kept(folder: Path) -> RuleFile:
    """Her rule file as it is now."""
    with Book.open(folder, write=False) as book:
        assert not [each for each in book.problems if each.level == "grave"]
        return book.own_rules


async def test_the_rules_behind_the_line_in_hand_stand_first(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        folder = next(line for line in desk.book.day(MONDAY).lines if line.supply == "folder 3-B")
        rule = next(each.rule for each in folder.because if each.rule)
        await desk.go_to(folder.key)
        await desk.press("comma")
        assert f"Behind {folder.name}" in desk.screen
        assert desk.in_hand == f"behind {rule}"
        assert "does: adds class folder" in desk.screen
        await desk.press("enter")
        assert "source: " in desk.screen
        await desk.press("b b")
        assert desk.in_hand == folder.key


async def test_from_why_the_rules_behind_a_thing_can_be_switched_off(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        folder = next(line for line in desk.book.day(MONDAY).lines if line.supply == "folder 3-B")
        await desk.go_to(folder.key)
        await desk.press("w comma n 2 b")
        assert rules_kept(tmp_path).off[0].class_id == "3-B"
        assert desk.app.screen is desk.app.screen_stack[0]
        assert folder.key not in desk.states()


async def test_hers_come_first_and_the_others_by_subject(tmp_path: Path) -> None:
    own = {
        "id": "fans",
        "title": "A fan for wet rooms",
        "when": ["wet"],
        "because": "it dries",
        "checks": [{"what": "fan"}],
    }
    reference_school(tmp_path)
    write_toml(tmp_path / "rules.toml", {"rules": [own]})
    async with at_desk(tmp_path) as desk:
        await desk.press("comma")
        assert desk.rows[:2] == ["heading Your own", "fans"]
        assert "1 of them yours" in desk.screen
        await desk.press("right")
        assert desk.in_hand == desk.rows[3]
        await desk.press("left t")
        assert rules_kept(tmp_path).rules == ()
        await desk.press("u")
        assert rules_kept(tmp_path).rules == (
            Rule("fans", "A fan for wet rooms", ("wet",), "it dries", checks=(CheckFor("fan"),)),
        )


async def test_a_rule_is_off_for_one_class_and_on_again_and_ticks_stay(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
        packed = {key for key, state in desk.states().items() if state == "packed"}
        key = next(line.key for line in desk.book.day(MONDAY).lines if line.supply == "folder 3-B")
        await desk.go_to(key)
        await desk.press("comma n 2")
        assert rules_kept(tmp_path).off[0].class_id == "3-B"
        assert desk.rows[0] == "heading Switched off"
        await desk.press("b")
        assert key not in desk.states()
        assert {key for key, state in desk.states().items() if state == "packed"} == packed
        await desk.press("comma y")
        assert rules_kept(tmp_path).off == ()
        await desk.press("b")
        assert key in desk.states()


async def test_undo_takes_a_switching_off_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_rule(desk, COVERS)
        await desk.press("n 1")
        assert rules_kept(tmp_path).off
        await desk.press("u")
        assert rules_kept(tmp_path).off == ()
        assert "Taken back: " in desk.screen


async def test_a_safety_rule_is_switched_off_only_with_a_reason_and_it_is_said_who_decides(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_rule(desk, NEEDLES)
        await desk.press("n 1")
        assert "the nurse and the building's safety person decide" in " ".join(desk.screen.split())
        await desk.press("enter")
        assert "only with a reason" in desk.screen
        assert rules_kept(tmp_path).off == ()
        await desk.press("n 1 o k space b y space n u r s e enter")
        (off,) = rules_kept(tmp_path).off
        assert (off.reason, off.since, off.class_id, off.until) == ("ok by nurse", MONDAY, "", None)
        await desk.press(" ".join(["left"] * 20))
        assert "ok by nurse" in desk.screen


@pytest.mark.parametrize(
    ("typed", "until"),
    [
        ("3 0 space o c t", date(2026, 10, 30)),
        ("1 0 slash 3 0", date(2026, 10, 30)),
        ("o c t space 9", date(2026, 10, 9)),
        ("4", date(2026, 11, 4)),
        ("2 0 2 6 minus 1 2 minus 0 1", date(2026, 12, 1)),
    ],
)
async def test_a_rule_is_off_until_a_day(tmp_path: Path, typed: str, until: date) -> None:
    async with at_desk(tmp_path) as desk:
        line = desk.book.day(MONDAY).lines[0]
        await find_rule(desk, COVERS)
        await desk.press("n")
        until_a_day = next(digit for digit in "123456789" if f"{digit} until a day" in desk.screen)
        await desk.press(f"{until_a_day} {typed} enter")
        (off,) = rules_kept(tmp_path).off
        assert off.until == until
        assert line.key in desk.states()


async def test_a_last_day_can_be_said_later(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_rule(desk, COVERS)
        await desk.press("n 1 d 9 space o c t enter")
        (off,) = rules_kept(tmp_path).off
        assert off.until == date(2026, 10, 9)
        await desk.press("u")
        assert rules_kept(tmp_path).off == (structs.replace(off, until=None),)


@pytest.mark.parametrize(("typed", "said"), [("s o o n", "is not a day"), ("2 0 2 6 minus 0 1 minus 0 1", "is past")])
async def test_what_is_no_day_is_told_and_the_rule_stays_on(tmp_path: Path, typed: str, said: str) -> None:
    async with at_desk(tmp_path) as desk:
        await find_rule(desk, COVERS)
        await desk.press("n 1")
        await desk.press(f"d {typed} enter")
        assert said in desk.screen
        assert [each.until for each in rules_kept(tmp_path).off] == [None]


async def test_a_rule_that_comes_switched_off_can_be_used(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        sleeping = next(rule.id for rule in desk.book.rules.rules if not rule.on)
        await find_rule(desk, sleeping)
        await desk.press("y")
        assert next(rule for rule in desk.book.rules.rules if rule.id == sleeping).on
        await desk.press("u")
        assert not next(rule for rule in desk.book.rules.rules if rule.id == sleeping).on


async def test_what_is_switched_off_says_for_whom_until_when_and_why(tmp_path: Path) -> None:
    reference_school(tmp_path)
    off = SwitchedOff("needles-plastic", class_id="3-B", until=date(2026, 10, 30), reason="the nurse agreed")
    with Book.open(tmp_path) as book:
        rule = next(each.id for each in book.rules.rules if each.safety)
        book.switch_off(structs.replace(off, rule=rule))
    async with at_desk(tmp_path) as desk:
        await desk.press("comma")
        assert "for 3-B until Fri 30 Oct" in desk.screen
        await desk.press("up up up up left left")
        assert "the nurse agreed" in desk.screen


async def test_a_second_window_switches_nothing(tmp_path: Path) -> None:
    reference_school(tmp_path)
    with Book.open(tmp_path):
        async with at_desk(tmp_path) as desk:
            await find_rule(desk, COVERS)
            await desk.press("n 1")
            assert "Not saved: Another window" in desk.screen
            assert rules_kept(tmp_path).off == ()


@pytest.mark.parametrize("size", [(20, 5), (60, 20), (120, 40)])
async def test_a_rule_can_be_switched_off_in_a_window_of_any_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await find_rule(desk, COVERS)
        await desk.press("n 1 b")
        assert len(rules_kept(tmp_path).off) == 1


async def test_a_rule_taken_out_of_the_file_meanwhile_is_told_and_nothing_breaks(tmp_path: Path) -> None:
    own = {"id": "fans", "title": "Fan", "when": ["wet"], "because": "it dries", "checks": [{"what": "fan"}]}
    reference_school(tmp_path)
    write_toml(tmp_path / "rules.toml", {"rules": [own]})
    async with at_desk(tmp_path) as desk:
        await desk.press("comma")
        assert desk.in_hand == "fans"
        (tmp_path / "rules.toml").unlink()
        await desk.press("t")
        assert "Not saved" in desk.screen
        await desk.press("n 1 b")
        assert desk.app.screen is desk.app.screen_stack[0]


async def test_steps_of_the_day_and_of_the_rules_are_taken_back_in_the_order_they_were_made(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        first = desk.in_hand
        await desk.press("enter")
        await find_rule(desk, COVERS)
        await desk.press("n 1 b")
        second = desk.in_hand
        await desk.press("enter u")
        assert (desk.state(first), len(rules_kept(tmp_path).off)) == ("packed", 1)
        assert desk.state(second) != "packed"
        await desk.press("u")
        assert (desk.state(first), len(rules_kept(tmp_path).off)) == ("packed", 0)
        await desk.press("u")
        assert desk.state(first) != "packed"


async def test_closing_the_day_is_taken_back_before_an_earlier_change_of_the_rules(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await find_rule(desk, COVERS)
        await desk.press("n 1 b e c c")
        assert desk.book.is_closed(MONDAY)
        await desk.press("u")
        assert not desk.book.is_closed(MONDAY)
        assert len(rules_kept(tmp_path).off) == 1
