"""Bringing in on the screen: choose what, paste or choose a file, look at what was understood, take it, or not."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from textual import events

from tests.bringing_in.schools import tansy_hollow
from tests.tui.desk import Desk, at_desk, open_subject

PASTED = "Class\tStudents\tRoom\r3-B\t26\t12\r3-Q\t20\t14\rHale\t20\t4\r"
"""As a terminal hands it on: lines end as on an old Mac."""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home folder of her own, so that no file of this computer is offered."""
    folder = tmp_path / "home"
    (folder / "Downloads").mkdir(parents=True)
    monkeypatch.setenv("HOME", str(folder))
    monkeypatch.setenv("USERPROFILE", str(folder))
    return folder


def a_file(folder: Path, name: str, text: str, *, hours_ago: int = 0) -> Path:
    path = folder / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8")
    when = 1_790_000_000 - 3600 * hours_ago
    os.utime(path, (when, when))
    return path


async def paste(desk: Desk, text: str) -> None:
    desk.app.post_message(events.Paste(text))
    await desk.pilot.pause()
    await desk.pilot.pause()


async def go_to_row(desk: Desk, number: int) -> None:
    """Down or up to the row about a row, or an event, of the file."""
    away = next(n for n, each in enumerate(desk.rows) if each.startswith(f"row {number} "))
    for _ in desk.rows:
        at = desk.rows.index(desk.in_hand)
        if at == away:
            return
        await desk.press("down" if at < away else "up")
    raise AssertionError(f"row {number} was never reached:\n{desk.screen}")


async def test_rows_are_pasted_looked_at_brought_in_and_taken_back_from_the_keyboard(
    tmp_path: Path, home: Path
) -> None:
    async with at_desk(tmp_path / "school") as desk:
        before = desk.book.plan_files
        await open_subject(desk, "Bring in what exists")
        await desk.press("1")
        assert "Classes: paste the rows here, or choose a file" in desk.screen
        await paste(desk, PASTED)
        assert "Classes: 2 classes, 1 line not understood: row 4." in desk.screen
        assert desk.screen.index("? row 4") < desk.screen.index("~ row 2 3-B: 26 children instead of 24")
        assert desk.book.plan_files == before
        await desk.press("y")
        assert "Done: 2 classes brought in. u takes it back." in desk.screen
        assert "On the list of Mon 5 Oct" in desk.screen
        assert "Box 3: put in" in desk.screen
        assert desk.book.plan.class_by_id["3-B"].students == 26
        await desk.press("u")
        assert "Taken back: 2 classes brought in." in desk.screen
        assert desk.book.plan_files == before
        await desk.press("y")
        assert desk.book.plan.class_by_id["3-Q"].students == 20
    async with at_desk(tmp_path / "school") as desk:
        assert desk.book.plan.class_by_id["3-Q"].room == "14"


async def test_escape_leaves_everything_as_it_was(tmp_path: Path, home: Path) -> None:
    async with at_desk(tmp_path / "school") as desk:
        before = desk.book.plan_files
        await open_subject(desk, "Bring in what exists")
        await desk.press("1")
        await paste(desk, PASTED)
        await desk.press("escape escape escape escape")
        assert desk.book.plan_files == before


async def test_files_of_the_usual_folders_are_offered_newest_first(tmp_path: Path, home: Path) -> None:
    a_file(home, "Downloads/supplies.csv", "felt,10\nyarn,20\n", hours_ago=2)
    a_file(home, "Desktop/old [list].txt", "felt,11\nyarn,20\n", hours_ago=9)
    a_file(home, "Documents/photo.png", "x")
    async with at_desk(tmp_path / "school", size=(60, 20)) as desk:
        await open_subject(desk, "Bring in what exists")
        await desk.press("3")
        offered = [row.name for row in desk.app.screen.list.rows]  # type: ignore[attr-defined]
        assert [each.split("   ")[0] for each in offered] == ["supplies.csv", "old [list].txt"]
        await desk.press("l i s t enter")
        assert "Supplies: 2 supplies." in desk.screen
        assert "felt: material, 11 there" in desk.screen


async def test_a_path_is_typed_or_pasted_as_it_is_copied_or_dropped(tmp_path: Path, home: Path) -> None:
    path = a_file(home, "my lists/week.csv", ",A,B\nP1,3-B,3-K\n")
    async with at_desk(tmp_path / "school") as desk:
        await open_subject(desk, "Bring in what exists")
        await desk.press("2")
        for written in (f'"{path}"', path.as_uri(), "~/my lists/week.csv", str(path).replace(" ", "\\ ")):
            await paste(desk, written)
            assert "The timetable: 2 periods." in desk.screen, written
            await desk.press("escape")
        await desk.press("tilde slash m y space l i s t s slash w e e k full_stop c s v enter")
        assert "row 2, column 2 A P1: 3-B instead of K-M" in desk.screen


CALENDAR = "BEGIN:VCALENDAR\n" + "".join(
    f"BEGIN:VEVENT\nSUMMARY:{name}\nDTSTART;VALUE=DATE:202611{day}\nEND:VEVENT\n"
    for name, day in (("No school", 10), ("Picture day", 11), ("Conferences", 12))
)


async def test_single_events_of_a_calendar_are_switched_by_one_key(tmp_path: Path, home: Path) -> None:
    a_file(home, "Downloads/school.ics", CALENDAR)
    async with at_desk(tmp_path / "school") as desk:
        await open_subject(desk, "Bring in what exists")
        await desk.press("4 enter")
        assert "Days off: 1 day off or break, 2 not taken." in desk.screen
        await go_to_row(desk, 3)
        await desk.press("enter")
        assert "+ event 3 Thu 12 Nov 2026 Conferences" in desk.screen
        assert desk.in_hand.startswith("row 3")
        await desk.press("space enter")
        await go_to_row(desk, 1)
        await desk.press("enter y")
        assert [each.reason for each in desk.book.plan.school.days_off] == ["Labor Day", "holiday", "Conferences"]


async def test_what_would_not_fit_is_told_with_its_row_and_can_be_left_out(tmp_path: Path, home: Path) -> None:
    async with at_desk(tmp_path / "school") as desk:
        await open_subject(desk, "Bring in what exists")
        await desk.press("2")
        await paste(desk, "hello\nworld")
        assert "No days were found." in desk.screen
        before = desk.book.plan_files
        await desk.press("y")
        assert desk.book.plan_files == before
        assert "Nothing is to be changed." in desk.screen


ODD = ["3-[b]x[/b]", "3-\x1b[31m", "3-שלום", "3-👩‍🎨", "3-$(x)", "3-\u202edlrow"]


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_odd_text_is_shown_as_typed_and_harmless(tmp_path: Path, home: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path / "school", size=size) as desk:
        await open_subject(desk, "Bring in what exists")
        await desk.press("1")
        await paste(desk, "class\tstudents\troom\n" + "".join(f"{each}\t20\t12\n" for each in ODD))
        assert "3-[b]x[-b]" in desk.screen and "3-$(x)" in desk.screen and "3-👩‍🎨" in desk.screen
        assert "\x1b" not in desk.screen and "\u202e" not in desk.screen
        await desk.press("y")
        assert "Done: 6 classes brought in." in desk.screen
        assert len(desk.book.plan.classes) == len(tansy_hollow().classes.classes) + len(ODD)
        await desk.press("h")
        assert "What was understood" in desk.screen


async def test_a_paste_before_the_kind_is_chosen_asks_for_the_kind(tmp_path: Path, home: Path) -> None:
    async with at_desk(tmp_path / "school") as desk:
        await open_subject(desk, "Bring in what exists")
        await paste(desk, PASTED)
        assert "First choose what it is: 1 to 4. Then paste." in desk.screen
