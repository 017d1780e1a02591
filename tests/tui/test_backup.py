"""Backing up and putting back on the screen: places in rows, Enter does it, y puts back, u takes that back."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.files.backup_contents import BACKUPS, contents_of
from checklists.files.backup_making import make_backup
from checklists.files.backup_reading import read_backup
from tests.days import opened
from tests.schools import MONDAY, in_the_evening, reference_school, small_school
from tests.tui.desk import Desk, at_desk

PAGE = "Back up everything"


@pytest.fixture
def documents(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Her documents, where the system says they are."""
    for name, variable in (("Documents", "XDG_DOCUMENTS_DIR"), ("none", "XDG_DESKTOP_DIR")):
        monkeypatch.setenv(variable, str(tmp_path / name))
    (tmp_path / "Documents").mkdir()
    return tmp_path / "Documents"


async def type_in(desk: Desk, text: str) -> None:
    await desk.pilot.press(*text)
    await desk.pilot.pause()


async def test_two_keys_on_the_page_back_up_all_that_was_ticked(tmp_path: Path, documents: Path) -> None:
    async with at_desk(tmp_path / "school") as desk:
        await desk.press("1 2 enter")
        ticked = desk.book.marks(MONDAY).lines
        await desk.open_page(PAGE)
        assert "Documents" in desk.screen
        await desk.press("enter")
        (made,) = documents.iterdir()
        assert made.name == "trundle-tansy-hollow-elementary-2026-10-05.zip"
        assert made.name in desk.screen
        await desk.press("o enter")
        assert (documents / "trundle-tansy-hollow-elementary-2026-10-05-2" / "school.toml").exists()
        assert desk.screen.count("Mon 5 Oct 2026 at 7:41") == desk.screen.count("Tansy Hollow Elementary: ") == 2
    with opened(tmp_path / "school") as book:
        assert book.marks(MONDAY).lines == ticked
    assert read_backup(made).contents == contents_of(tmp_path / "school")


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_what_it_would_do_is_shown_y_does_it_and_u_takes_it_back(
    size: tuple[int, int], tmp_path: Path, documents: Path
) -> None:
    school = reference_school(tmp_path / "school")
    make_backup(school, documents, datetime(2026, 10, 4, 18, 5))
    async with at_desk(school, size=size) as desk:
        line = desk.book.day(MONDAY).lines[0].key
        await desk.go_to(line)
        await desk.press("enter")
        assert desk.book.marks(MONDAY).lines
        await desk.open_page(PAGE)
        await desk.press("right right enter")
        assert "backed up on Sun 4 Oct 2026 at 18:05" in " ".join(desk.screen.split())
        await desk.press("down down down down down")
        assert "gone from the list: Mon 5 Oct" in " ".join(desk.screen.split()).replace(" │", "")
        assert desk.book.marks(MONDAY).lines
        await desk.press("y")
        assert "Put back. u takes it back." in desk.screen
        assert not desk.book.marks(MONDAY).lines
        assert desk.book.writable
        await desk.press("b")
        await desk.go_to(line)
        assert desk.state(line) == "open"
        await desk.press("enter u")
        assert desk.state(line) == "open"
        await desk.press("u")
        said = "Taken back: putting back the backup"
        assert size[0] < 80 or said in desk.screen  # a narrow line cuts it
        assert desk.state(line) == "packed"
        assert len(list((school / BACKUPS).iterdir())) == 2
    with opened(school) as book:
        assert list(book.marks(MONDAY).lines) == [line]


async def test_another_school_is_worked_with_at_once(
    tmp_path: Path, documents: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The list, the classes and the notices of what was put back; a path is typed, and a stick's folder too."""
    monkeypatch.chdir(tmp_path)
    small = in_the_evening(small_school(tmp_path / "small"), contents={"cart": {"scissors": 30}})
    (tmp_path / "stick").mkdir()
    make_backup(small, tmp_path / "stick", datetime(2026, 10, 4, 18, 5), as_folder=True).rename("stick/old")
    async with at_desk(tmp_path / "school") as desk:
        before = desk.book.day(MONDAY).lines
        await desk.open_page(PAGE)
        await desk.press("t")
        await type_in(desk, "stick/old")
        await desk.press("enter")
        assert "Sun 4 Oct 2026 at 18:05" in desk.screen and "Small School: 1 day" in desk.screen
        await desk.press("enter y")
        assert desk.book.plan.school.name == "Small School"
        await desk.press("b")
        assert "3-K" in desk.screen
        assert "2-R" not in desk.screen
        await desk.press("u")
        assert desk.book.day(MONDAY).lines == before
        assert "2-R" in desk.screen
        await desk.open_page(PAGE)
        await desk.press("t")
        await type_in(desk, "stick")
        await desk.press("enter enter")
        assert len(list((tmp_path / "stick").iterdir())) == 2


async def test_what_cannot_be_is_said_and_nothing_changes(tmp_path: Path, documents: Path) -> None:
    (documents / "trundle-damaged-2026-10-01.zip").write_bytes(b"PK nothing")
    async with at_desk(tmp_path / "school") as desk:
        before = contents_of(tmp_path / "school")
        await desk.open_page(PAGE)
        assert "is no backup, or it is damaged" in desk.screen
        await desk.press("right right enter y")
        assert "This one cannot be put back. Why is said above." in desk.screen
        assert "Choose another one." in " ".join(desk.screen.split())
        await desk.press("t")
        await type_in(desk, "/gone [b]x")
        assert "/gone [b]x_" in desk.screen
        await desk.press("enter")
        assert "There is no folder or file /gone [b]x." in desk.screen
        while "Documents" not in desk.in_hand:
            await desk.press("up")
        documents.rename(tmp_path / "pulled out")
        await desk.press("enter")
        assert "Not backed up. Why is said above." in desk.screen
        assert "There is no folder" in desk.screen
        assert contents_of(tmp_path / "school") == before
