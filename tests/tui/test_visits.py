"""The screen of the visits: what came back, typed from the cart sheet. Budgets of keys: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.daybook.entries import Reported
from checklists.daybook.marks import marks_of
from checklists.files.daybook_folder import load
from tests.days import after_the_battery_died
from tests.schools import MONDAY, reference_school
from tests.tui.desk import Desk, at_desk
from tui.screens.visits import VisitsScreen
from tui.widgets.message_line import MessageLine

KEYS = {"=": "equals_sign", ",": "comma", " ": "space", ".": "full_stop", "-": "minus"}


class Typist:
    """Presses keys and counts them. What is in quotes is typed sign by sign."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.keys = 0

    async def type(self, text: str) -> None:
        for sign in text:
            await self.press(KEYS.get(sign, sign))

    async def press(self, *keys: str) -> None:
        self.keys += len(keys)
        await self.desk.press(" ".join(keys))


def report(desk: Desk, key: str) -> Reported:
    return desk.book.marks(MONDAY).reports[key]


def back(desk: Desk) -> dict[tuple[str, str], int]:
    return {key: count.back for key, count in desk.book.marks(MONDAY).sharps.items()}


def message(desk: Desk) -> str:
    return desk.app.screen.query_one(MessageLine).said.plain


# ------------------------------------------------------------------------------------------------- the budget


async def test_four_visits_at_lunch_with_two_with_sharps_two_absent_and_one_half_take_at_most_24_keys(
    tmp_path: Path,
) -> None:
    """V1 as planned; V2 as planned, all back; V3 without 4 and 11, all back; V4 about half, all back."""
    async with at_desk(tmp_path) as desk:
        her = Typist(desk)
        await her.press("v", "enter")
        await her.type("=")
        await her.press("enter")
        await her.type("a4,11 =")
        await her.press("enter")
        await her.type(" h =")
        await her.press("enter")
        assert her.keys <= 24
        assert [report(desk, key).outcome for key in ("P1 K-M", "P2 1-P", "P3 3-B", "P4 3-K")] == [
            "done",
            "done",
            "done",
            "about half",
        ]
        assert report(desk, "P3 3-B").absent == (4, 11)
        assert back(desk) == {
            ("P2 1-P", "scissors-blunt"): 24,
            ("P3 3-B", "scissors"): 13,
            ("P3 3-B", "blunt-needle"): 26,
            ("P4 3-K", "scissors"): 14,
            ("P4 3-K", "blunt-needle"): 27,
        }
        assert "4 of 7 visits told" in desk.screen
        assert desk.in_hand == "P5 2-R"


# ---------------------------------------------------------------------------------- Enter with nothing typed, counts


async def test_enter_says_as_planned_and_then_waits_at_the_count_that_nobody_has_given(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("v down enter")
        assert report(desk, "P2 1-P").outcome == "done"
        assert report(desk, "P2 1-P").absences_known
        assert back(desk) == {}
        assert desk.in_hand == "P2 1-P"
        assert "Now 1 count of V2: = for all, or how many are back." in message(desk)
        assert "= or how many are back: 24 blunt-tip scissors (line" in desk.screen
        await desk.press("enter")
        assert back(desk) == {}
        assert "24 blunt-tip scissors not counted back yet" in message(desk)
        await desk.press("up 2 3 enter")
        assert back(desk) == {("P2 1-P", "scissors-blunt"): 23}
        assert "23/24!" in desk.screen


async def test_one_count_of_two_leaves_the_cursor_at_the_other(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("v down down 1 3 enter")
        assert desk.in_hand == "P3 3-B"
        assert "Now 1 count" in message(desk)
        assert "= or how many are back: 26 blunt needle (line" in desk.screen
        await desk.press("2 6 enter")
        assert back(desk) == {("P3 3-B", "scissors"): 13, ("P3 3-B", "blunt-needle"): 26}
        assert desk.in_hand == "P4 3-K"


async def test_counted_later_does_not_hold_the_cursor(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("v down l enter")
        assert ("P2 1-P", "scissors-blunt") in desk.book.marks(MONDAY).count_later
        assert "later/24" in desk.screen
        assert desk.in_hand == "P3 3-B"


# ------------------------------------------------------------------------------------------------- while it is typed


async def test_the_line_is_shown_as_it_is_understood_and_noted_only_by_enter(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        her = Typist(desk)
        await her.press("v")
        await her.type("v3 a4,11 3f")
        assert "V3 3-B, Room 12, 24 children: Burlap Birds, part 2 of 4" in desk.screen
        assert "Enter notes: V3 3-B: done except 3, no. 4 and 11 absent" in desk.screen
        assert not desk.book.marks(MONDAY).reports
        await her.press("escape")
        assert not desk.book.marks(MONDAY).reports
        assert "Typed" not in desk.screen


async def test_what_is_not_understood_is_said_and_enter_notes_nothing_and_keeps_the_line(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        her = Typist(desk)
        await her.press("v", "down", "down")
        await her.type("a4 a7x")
        assert "a7x is not understood. Type it like a4,11." in desk.screen
        await her.press("enter")
        assert not desk.book.marks(MONDAY).reports
        assert "Nothing is noted yet" in message(desk)
        await her.press("backspace", "backspace", "backspace", "backspace", "enter")
        assert report(desk, "P3 3-B").absent == (4,)


async def test_every_letter_is_a_letter_while_a_line_is_typed(tmp_path: Path) -> None:
    """b, h, q, r, u, z and f are keys of the screen else: "v3 rbox3 h" is a line."""
    async with at_desk(tmp_path) as desk:
        her = Typist(desk)
        await her.press("v")
        await her.type("v3 rbox3 h6 quzbf")
        assert isinstance(desk.app.screen, VisitsScreen)
        assert desk.app.screen.typing == "v3 rbox3 h6 quzbf"
        await her.press(*["backspace"] * 6, "enter")
        assert desk.book.marks(MONDAY).places["box-3"].place == "12"
        assert report(desk, "P3 3-B").half == (6,)


async def test_visits_are_typed_in_any_order_from_the_paper(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        her = Typist(desk)
        await her.press("v")
        await her.type("v4 2a =")
        await her.press("enter")
        await her.type("v1 n")
        await her.press("enter")
        assert report(desk, "P4 3-K").absent_count == 2
        assert report(desk, "P1 K-M").outcome == "not taught"


async def test_another_part_and_who_is_not_done_are_seen_in_the_list(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        her = Typist(desk)
        await her.press("v")
        await her.type("v3 i3 f9,12 =")
        await her.press("enter", "up")
        assert report(desk, "P3 3-B").reached_part == 3
        assert "part 3 instead, 2 not done (no. 9 and 12)" in desk.screen


# ------------------------------------------------------------------------------------------------ undo, battery, back


async def test_all_of_one_line_is_one_step_for_undo(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        her = Typist(desk)
        await her.press("v", "enter")
        await her.type("v3 a4 = l12 rb3")
        await her.press("enter", "u")
        marks = desk.book.marks(MONDAY)
        assert (list(marks.reports), marks.sharps, marks.levels, marks.places) == (["P1 K-M"], {}, {}, {})
        assert desk.in_hand == "P3 3-B"
        await her.press("z")
        assert not desk.book.marks(MONDAY).reports


async def test_what_was_noted_is_on_disk_when_the_battery_dies(tmp_path: Path) -> None:
    async with at_desk(tmp_path / "school") as desk:
        her = Typist(desk)
        await her.press("v")
        await her.type("v3 a4,11 13,26 9f")
        await her.press("enter")
        again = after_the_battery_died(desk.book, into=tmp_path / "again")
        kept = marks_of(load(again.folder, MONDAY).record.entries)
        assert kept.reports["P3 3-B"].absent == (4, 11)
        assert kept.reports["P3 3-B"].not_done == 9
        assert len(kept.sharps) == 2
        again.release()


async def test_it_is_opened_from_the_end_of_the_day_too_and_b_goes_back_there(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e v")
        assert isinstance(desk.app.screen, VisitsScreen)
        await desk.press("enter b")
        assert "End of the day" in desk.screen
        assert report(desk, "P1 K-M").outcome == "done"


async def test_help_shows_every_word_that_can_be_typed(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(80, 60)) as desk:
        await desk.press("v h")
        for form in ("a4,11", "rbox3", "p3", "k", "c25"):
            assert form in desk.screen
        await desk.press("h")
        assert isinstance(desk.app.screen, VisitsScreen)


# --------------------------------------------------------------------------------------------------- how it looks


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_the_seven_visits_and_what_can_be_typed_fit_the_window(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await desk.press("v down enter")
        rows = desk.screen.splitlines()
        assert all(any(f"V{n} " in row for row in rows) for n in range(1, 8))
        assert "__/24" in desk.screen
        assert "a4,11 absent" in desk.screen
        assert all(len(row) <= size[0] for row in rows)


async def test_names_with_brackets_and_control_signs_are_only_text(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    lesson = folder / "lessons" / "burlap-birds.toml"
    lesson.write_text(lesson.read_text().replace('title = "Burlap Birds"', 'title = "[red]Birds[/] \\u001b[31m"'))
    async with at_desk(folder) as desk:
        await desk.press("v down down")
        assert "[red]Birds[/]" in desk.screen
        assert "\x1b" not in desk.screen


async def test_a_day_without_visits_says_so(tmp_path: Path) -> None:
    """Tuesday is day B, on which the reference school has none."""
    async with at_desk(tmp_path) as desk:
        await desk.press("d v enter a enter escape")
        assert isinstance(desk.app.screen, VisitsScreen)
        assert "no visits on this day" in desk.screen
