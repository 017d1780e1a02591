"""The cart sheet on the screen: read there, and written into files to print."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from tests.pages.sheets import Read
from tests.schools import reference_school
from tests.tui.desk import Desk, at_desk
from tui.screens.more import PAGES

DIGIT = next(str(n) for n, page in enumerate(PAGES, 1) if page.key == "cart sheet")


async def open_sheet(desk: Desk) -> None:
    await desk.press(f"tab {DIGIT}")


async def test_the_sheet_is_read_on_the_screen_as_it_will_be_printed(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_sheet(desk)
        assert "CART SHEET  Tansy Hollow Elementary              Mon 5 Oct, day A, regular bells" in desk.screen
        assert "V1  8:00-8:45  Room 4  K-M  20 children, 6 tables ----------- clean up from 8:36" in desk.screen
        assert "p write it   o to print   x as text   f and r scroll" in desk.screen
        for _ in range(40):
            await desk.press("f")
        assert "Local rules decide." in desk.screen


async def test_one_key_writes_it_as_html_and_as_text_and_says_where(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_sheet(desk)
        await desk.press("p")
        assert "2026-10-05.html" in desk.screen.replace("\n", "").replace(" ", "")
        page = (tmp_path / "sheets" / "2026-10-05.html").read_text()
        assert Read(page).mistakes == [] and "OUT <b>13</b>" in page
        text = (tmp_path / "sheets" / "2026-10-05.txt").read_text()
        assert "OUT 13 BACK ____ scissors #11" in text
        await desk.press("p")
        assert sorted(each.name for each in (tmp_path / "sheets").iterdir()) == ["2026-10-05.html", "2026-10-05.txt"]


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="asks the desktop of Linux")
async def test_one_key_opens_it_to_be_printed_and_where_nothing_can_it_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The desktop is asked by its own command; here that is a script which notes what it was given."""
    programs, noted = tmp_path / "programs", tmp_path / "noted"
    programs.mkdir()
    (programs / "xdg-open").write_text(f'#!/bin/sh\nprintf "%s" "$1" > "{noted}.new"; mv "{noted}.new" "{noted}"\n')
    (programs / "xdg-open").chmod(0o700)
    monkeypatch.setenv("PATH", f"{programs}:{os.environ['PATH']}")
    monkeypatch.setenv("DISPLAY", ":0")
    async with at_desk(tmp_path / "school") as desk:
        await open_sheet(desk)
        for key, ending in (("o", "html"), ("x", "txt")):
            await desk.press(key)
            asked = str(tmp_path / "school" / "sheets" / f"2026-10-05.{ending}")
            for _ in range(300):
                if noted.exists() and noted.read_text() == asked:
                    break
                await desk.pilot.pause()
            assert noted.read_text() == asked
            assert "Opened in another window" in desk.screen
        for variable in ("DISPLAY", "WAYLAND_DISPLAY"):
            monkeypatch.delenv(variable, raising=False)
        await desk.press("o")
        assert "Nothing here can open it: open it in a browser yourself." in " ".join(desk.screen.split())


async def test_what_was_crossed_off_before_is_not_on_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.go_to("cart/scissors")
        await desk.press("n 1")
        await open_sheet(desk)
        await desk.press("p")
        assert "scissors #11" not in (tmp_path / "sheets" / "2026-10-05.txt").read_text()


async def test_a_window_that_only_reads_says_so_and_writes_nothing(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as first:
        async with at_desk(tmp_path) as second:
            await open_sheet(second)
            await second.press("p")
            assert "Not written" in second.screen
            assert not (tmp_path / "sheets").exists()
        assert first.book.writable


async def test_where_the_disk_refuses_it_is_said_in_words(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    (folder / "sheets").write_text("a file where the folder should be")
    async with at_desk(folder) as desk:
        await open_sheet(desk)
        await desk.press("p")
        assert "Not written: something else of this name stands in the way." in desk.screen
        await desk.press("b b")
        assert desk.in_hand


async def test_in_a_narrow_window_its_rows_are_as_wide_as_that(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        await open_sheet(desk)
        assert "clean up" in desk.screen and "V1" in desk.screen
        assert "absent ____________" in desk.screen
        assert all(len(row) <= 60 for row in desk.screen.splitlines())
        await desk.press("p")
        assert "Written" in desk.screen
