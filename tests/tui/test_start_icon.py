"""An icon to start it with, put onto the desktop by keys alone; and the same by the command."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commandline.running import trundle
from tests.tui.desk import at_desk
from tests.tui.test_plan_screens import open_subject


@pytest.fixture
def desktop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    desktop = tmp_path / "[b]Desktop of O'Brien"
    desktop.mkdir()
    monkeypatch.setenv("XDG_DESKTOP_DIR", str(desktop))
    monkeypatch.setenv("XDG_DOCUMENTS_DIR", str(tmp_path / "none"))
    return desktop


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_one_key_puts_it_there_and_says_what_to_do(size: tuple[int, int], tmp_path: Path, desktop: Path) -> None:
    async with at_desk(tmp_path / "school", size=size) as desk:
        await open_subject(desk, "An icon to start it")
        assert "where to?" in desk.screen and "1 Desktop" in desk.screen
        assert not list(desktop.iterdir())
        await desk.press("enter")
        assert {each.suffix for each in desktop.iterdir()} <= {".desktop", ".sh", ".cmd", ".command"}
        assert all(str(tmp_path / "school").encode() in each.read_bytes() for each in desktop.iterdir())
        said = "".join(desk.screen.replace("│", "").split())
        assert "[b]DesktopofO'Brien/Trundle." in said
        assert "Written: Trundle." in desk.screen and "A double click on it" in desk.screen
        await desk.press("1")
        assert "There already: Trundle." in desk.screen


async def test_where_it_cannot_be_written_it_says_why(tmp_path: Path, desktop: Path) -> None:
    async with at_desk(tmp_path / "school") as desk:
        await open_subject(desk, "An icon to start it")
        desktop.rmdir()
        await desk.press("enter")
        assert "Not written." in desk.screen
        assert "is not a folder that can be written" in " ".join(desk.screen.split())


def test_the_command_says_where_it_is(tmp_path: Path, desktop: Path) -> None:
    ran = trundle("icon", data=tmp_path / "school", XDG_DESKTOP_DIR=str(desktop))
    assert ran.status == 0
    assert "A double click on it starts Trundle" in ran.out
    fields = trundle("icon", "--json", data=tmp_path / "school", XDG_DESKTOP_DIR=str(desktop)).fields
    assert (fields["was_there"], fields["data"]) == (True, str(tmp_path / "school"))
    assert {Path(each).parent for each in fields["made"]} == {desktop}
    assert all(Path(each).is_file() for each in fields["made"])
    refused = trundle("icon", str(tmp_path / "nowhere"), data=tmp_path / "school")
    assert (refused.status, "Name another folder" in refused.err) == (2, True)
