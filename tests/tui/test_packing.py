"""Packing at 7:41 on Monday, key by key. What a key must do: common practice, no source."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.daybook.line_states import is_open, state_of
from checklists.lines.records import Line
from tests.schools import MONDAY, reference_school
from tests.tui.desk import Desk, at_desk
from tui.widgets.line_list import LineList


def one_line(desk: Desk, *, critical: bool = False, more_than: int = 20) -> Line:
    """An open line of which nothing is in its container."""
    marks = desk.book.marks(MONDAY)
    return next(
        line
        for line in desk.book.day(MONDAY).lines
        if is_open(line, marks)
        and line.critical == critical
        and not line.counted
        and line.need > more_than
        and not line.in_it
    )


async def test_the_list_opens_on_the_first_open_critical_line_of_today(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = next(line for line in desk.book.day(MONDAY).lines if line.key == desk.in_hand)
        assert line.critical
        assert is_open(line, desk.book.marks(MONDAY))
        assert "Mon 5 Oct" in desk.screen


async def test_enter_packs_in_full_and_goes_on_to_the_next_open_line(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        first = desk.in_hand
        await desk.press("enter")
        assert desk.state(first) == "packed"
        assert desk.in_hand != first
        assert desk.state(desk.in_hand) in ("open", "part packed")


async def test_a_digit_alone_ticks_nothing_and_a_number_with_enter_packs_a_part(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("1 8")
        assert desk.state(line.key) == "open"
        assert f"18 of {line.need} in it" in desk.screen
        await desk.press("enter")
        assert desk.state(line.key) == "part packed"
        assert desk.book.marks(MONDAY).lines[line.key].count == 18


async def test_a_mistyped_digit_can_be_taken_away_and_a_half_typed_number_left_alone(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("1 9 backspace 8 enter")
        assert desk.book.marks(MONDAY).lines[line.key].count == 18
        before = desk.entries()
        await desk.press("7 escape")
        assert "7_" not in desk.screen
        assert desk.entries() == before


async def test_short_takes_a_digit_for_what_she_does_about_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("2 0 s")
        assert desk.state(line.key) == "open"
        await desk.press("4")
        mark = desk.book.marks(MONDAY).lines[line.key]
        assert (mark.count, mark.remedy) == (20, "fetch")
        assert desk.state(line.key) == "short"


async def test_what_is_enough_is_not_called_short(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press(" ".join([*str(line.need), "s"]))
        assert f"{line.need} of {line.need} is enough" in desk.screen
        await desk.press("1")
        assert desk.entries() == 0


async def test_not_needed_takes_a_digit_for_the_reason(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("n 2")
        assert desk.state(line.key) == "not needed"
        assert desk.book.marks(MONDAY).lines[line.key].reason == "room has it"


async def test_as_listed_never_ticks_what_is_critical_counted_short_or_part_packed(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        part, short = one_line(desk), one_line(desk)
        others = [
            line
            for line in desk.book.day(MONDAY).lines
            if line.container == part.container and not line.critical and not line.counted and line.key != part.key
        ]
        short = next(line for line in others if desk.state(line.key) == "open")
        await desk.go_to(part.key)
        await desk.press("5 enter")
        await desk.go_to(short.key)
        await desk.press("s 5")
        await desk.go_to(part.key)
        await desk.press("a")
        states = desk.states()
        assert states[part.key] == "part packed"
        assert states[short.key] == "short"
        lines = [line for line in desk.book.day(MONDAY).lines if line.container == part.container]
        for line in lines:
            if line.critical or line.counted:
                assert states[line.key] == "open", line.name
            elif line.key not in (part.key, short.key):
                assert states[line.key] == "packed", line.name
        assert any(line.critical for line in lines)


async def test_one_undo_takes_back_a_whole_container_and_says_so(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to(one_line(desk).key)
        before = desk.states()
        await desk.press("a")
        assert desk.states() != before
        await desk.press("u")
        assert desk.states() == before
        assert "Taken back: packed" in desk.screen


async def test_three_wrong_ticks_are_taken_back_in_order_also_after_a_restart(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        first = desk.in_hand
        await desk.press("enter")
        second = desk.in_hand
        await desk.press("enter")
        third = desk.in_hand
        await desk.press("enter")
    async with at_desk(tmp_path) as desk:
        for key in (third, second, first):
            assert desk.state(key) == "packed"
            await desk.press("u")
            assert desk.state(key) == "open"
            assert desk.in_hand == key
        assert desk.entries() == 0


async def test_ticks_are_there_after_a_restart_and_the_cursor_on_what_is_still_open(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        ticked = desk.in_hand
        await desk.press("enter")
    async with at_desk(tmp_path) as desk:
        assert desk.state(ticked) == "packed"
        assert desk.in_hand != ticked


async def test_a_packed_line_stays_in_place_until_she_goes_to_another_container(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        rows = desk.rows
        await desk.press("a")
        await desk.go_to(line.key)
        assert [row for row in desk.rows if row in rows] == rows
        await desk.press("right left")
        assert line.key not in desk.rows
        assert "packed" in desk.screen
        await desk.press("p")
        assert line.key in desk.rows


async def test_the_same_lines_stand_by_container_by_shelf_and_by_class_with_shared_ticks(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("o")
        assert desk.in_hand == line.key
        await desk.press("enter")
        assert desk.state(line.key) == "packed"
        await desk.press("o")
        assert "1-P" in desk.screen
        await desk.press("o")
        assert desk.state(line.key) == "packed"


async def test_low_is_one_key_and_goes_to_the_day_end(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        line = one_line(desk)
        await desk.go_to(line.key)
        await desk.press("l")
        assert desk.book.marks(MONDAY).levels == {line.supply: "low"}
        assert desk.in_hand == line.key


async def test_a_line_is_found_by_the_number_it_has_on_paper(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        for line in desk.book.day(MONDAY).lines[::7]:
            await desk.go_to(line.key)
            assert f"{line.number} " in desk.screen


async def test_a_key_without_meaning_does_nothing(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        screen = desk.screen
        for key in ("j", "home", "end", "pageup", "pagedown", "right_square_bracket", "f1", "f5"):
            await desk.press(key)
            assert desk.screen == screen, key
        assert desk.entries() == 0


async def test_letters_of_other_steps_do_nothing_while_a_digit_is_awaited(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to(one_line(desk).key)
        hand = desk.in_hand
        await desk.press("s enter a l 9 0")
        assert desk.entries() == 0
        await desk.press("b")
        assert "Short" not in desk.screen
        assert desk.in_hand == hand


async def test_tomorrow_is_one_key_away_and_keeps_its_ticks(tmp_path: Path) -> None:
    reference_school(tmp_path, timetable={"A": {"P1": "K-M"}, "B": {"P2": "3-B"}})
    async with at_desk(tmp_path) as desk:
        await desk.press("d")
        assert "NEXT DAY  Tue 6 Oct" in desk.screen
        ticked = desk.in_hand
        await desk.press("enter d")
        assert "Mon 5 Oct" in desk.screen
    tuesday = datetime(2026, 10, 6, 7, 30)
    async with at_desk(tmp_path, now=tuesday) as desk:
        day = desk.book.day(tuesday.date())
        line = next(line for line in day.lines if line.key == ticked)
        assert state_of(line, desk.book.marks(tuesday.date())) == "packed"


async def test_a_question_of_a_day_that_was_not_closed_is_answered_with_one_key(tmp_path: Path) -> None:
    """Monday the 14th is the next day A; what became of the last one was never told."""
    next_day_a = datetime(2026, 10, 14, 7, 41)
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
    async with at_desk(tmp_path, now=next_day_a) as desk:
        asked = desk.book.day(next_day_a.date()).questions
        assert "? " + asked[0].text[:30] in desk.screen
        await desk.press("y")
        assert desk.book.marks(asked[0].date).reports[asked[0].visit].outcome == "done"
        assert len(desk.book.day(next_day_a.date()).questions) == len(asked) - 1
        await desk.press("m")
        assert desk.book.marks(asked[1].date).reports[asked[1].visit].outcome == "not taught"
        await desk.press("u u")
        assert desk.book.day(next_day_a.date()).questions == asked


@pytest.mark.parametrize("keys", ["q", "g"])
async def test_what_is_critical_is_shown_once_and_never_locks_her_in(tmp_path: Path, keys: str) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press(keys)
        assert "critical" in desk.screen.splitlines()[1]
        assert desk.app.is_running
        await desk.press("q")
        assert desk.app.return_code == 0


async def test_the_mouse_takes_a_line_in_hand_and_a_second_click_packs_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to(one_line(desk).key)
        rows = desk.rows
        other = next(index for index, key in enumerate(rows) if key in desk.states() and key != desk.in_hand)
        await desk.pilot.click(LineList, offset=(20, other))
        assert desk.in_hand == rows[other]
        assert desk.entries() == 0
        await desk.pilot.click(LineList, offset=(20, other))
        assert desk.state(rows[other]) == "packed"
