"""A tick is on disk before the screen says so; what cannot be saved is marked and tried again."""

from __future__ import annotations

from pathlib import Path

from checklists.book import Book
from checklists.daybook.line_states import state_of
from tests.schools import MONDAY
from tests.tui.desk import at_desk


async def test_a_tick_is_on_disk_before_the_next_key(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        ticked = desk.in_hand
        await desk.press("enter")
        with Book.open(tmp_path, write=False) as other:
            line = next(line for line in other.day(MONDAY).lines if line.key == ticked)
            assert state_of(line, other.marks(MONDAY)) == "packed"


async def test_what_cannot_be_saved_is_marked_and_saved_once_it_can(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        ticked = desk.in_hand
        daybook, away = tmp_path / "daybook", tmp_path / "away"
        daybook.rename(away)
        daybook.write_text("in the way")
        await desk.press("enter")
        assert "Not saved" in desk.screen
        assert "not saved: Tab 1 tries again" in desk.screen
        await desk.go_to(ticked)
        assert "unsaved" in next(text for text in desk.screen.splitlines() if text.startswith("▸"))
        daybook.unlink()
        away.rename(daybook)
        await desk.press("tab 1")
        assert "not saved: Tab" not in desk.screen
    with Book.open(tmp_path) as book:
        line = next(line for line in book.day(MONDAY).lines if line.key == ticked)
        assert state_of(line, book.marks(MONDAY)) == "packed"


async def test_a_later_step_that_is_saved_saves_what_waited_and_shows_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        with Book.open(tmp_path, write=False) as other:
            waits, follows, *_ = [
                line.key for line in other.day(MONDAY).lines if line.container == "box-2" and line.add
            ]
        await desk.go_to(waits)
        daybook, away = tmp_path / "daybook", tmp_path / "away"
        daybook.rename(away)
        daybook.write_text("in the way")
        await desk.press("enter")
        assert "unsaved" in desk.screen
        daybook.unlink()
        away.rename(daybook)
        await desk.press("down")
        assert desk.in_hand == follows
        await desk.press("enter")
        assert "unsaved" not in desk.screen


async def test_a_second_window_reads_and_says_so(tmp_path: Path) -> None:
    async with at_desk(tmp_path), at_desk(tmp_path) as second:
        await second.press("enter")
        assert "Not saved" in second.screen
        assert "Another window" in second.screen
        await second.press("u")
        assert "Another window" in second.screen


async def test_a_plan_file_that_does_not_read_never_stops_the_morning(tmp_path: Path) -> None:
    async with at_desk(tmp_path):
        pass
    classes = tmp_path / "classes.toml"
    classes.write_text(classes.read_text(encoding="utf-8").replace("students = 24", "students = 24a"), encoding="utf-8")
    async with at_desk(tmp_path) as desk:
        assert "classes.toml" in desk.screen
        ticked = desk.in_hand
        await desk.press("enter")
        assert desk.state(ticked) == "packed"


async def test_leaving_writes_the_day_file_and_leaves_no_journal_behind(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("enter q q")
    assert (tmp_path / "daybook" / "2026-10-05.toml").is_file()
    assert not [path for path in (tmp_path / "daybook").rglob("*journal*") if path.stat().st_size]
