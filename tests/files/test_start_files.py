"""Where the start files go, and that nothing else is ever written over."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from checklists.demo import open_demo
from checklists.files.safely import NotSaved
from checklists.files.start_files import icon_places, put_icon, start_of
from checklists.start_file import Start

OWN, OTHER = Start("/opt/trundle/python"), Start("/opt/trundle/python", "/home/reyes/second school")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home with a desktop and documents. Source of the names: XDG user directories, base directories."""
    for name in ("Desktop", "Documents"):
        (tmp_path / name).mkdir()
        monkeypatch.setenv(f"XDG_{name.upper()}_DIR", str(tmp_path / name))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.delenv("TRUNDLE_DATA", raising=False)
    return tmp_path


def test_the_desktop_comes_first_and_linux_has_its_menu(home: Path) -> None:
    assert [each.path for each in icon_places("windows")] == [home / "Desktop", home / "Documents"]
    assert [each.name for each in icon_places("linux")] == ["Desktop", "Start menu", "Documents"]
    (home / "Desktop").rmdir()
    assert icon_places("linux")[0].path == home / "data" / "applications"


def test_the_files_can_be_run_and_are_made_anew_for_the_same_school_only(home: Path) -> None:
    desktop = home / "Desktop"
    first = put_icon(desktop, OWN, "linux")
    assert [path.name for path in first.paths] == ["Trundle.desktop", "Trundle.sh"]
    assert all(os.access(path, os.X_OK) for path in first.paths)
    again = put_icon(desktop, OWN, "linux")
    assert (again.paths, again.was_there, first.was_there) == (first.paths, True, False)
    moved = put_icon(desktop, Start("/srv/trundle/python"), "linux")
    assert (moved.paths, moved.was_there) == (first.paths, False)
    assert b"/srv/trundle/python" in first.paths[0].read_bytes()
    assert [path.name for path in put_icon(desktop, OTHER, "linux").paths] == ["Trundle 2.desktop", "Trundle 2.sh"]


def test_what_is_something_else_stays_as_it_is(home: Path) -> None:
    desktop = home / "Desktop"
    (desktop / "Trundle.command").write_text("a picture of mine", encoding="utf-8")
    (desktop / "Trundle 2.command").mkdir()
    (desktop / "Trundle 3.command").symlink_to(home / "nowhere")
    assert put_icon(desktop, OWN, "mac").paths == (desktop / "Trundle 4.command",)
    assert (desktop / "Trundle.command").read_text(encoding="utf-8") == "a picture of mine"
    assert not (home / "nowhere").exists()


def test_the_menu_has_the_entry_alone_and_is_made_where_it_is_not_there(home: Path) -> None:
    (path,) = put_icon(home / "data" / "applications", OWN, "linux").paths
    assert path.name == "Trundle.desktop"


def test_a_folder_that_is_not_there_is_said(home: Path) -> None:
    with pytest.raises(NotSaved, match="no such place is not a folder that can be written"):
        put_icon(home / "no such place", OWN, "linux")


def test_the_icon_opens_her_own_school_and_from_the_demo_not_the_demo(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usual = home / "data" / "trundle"
    assert start_of(usual).folder == ""
    assert start_of(home / "Documents" / "my school").folder == str(home / "Documents" / "my school")
    open_demo(usual / "demo")
    assert start_of(usual / "demo").folder == ""
    monkeypatch.setenv("TRUNDLE_DATA", str(home / "elsewhere"))
    assert start_of(home / "elsewhere").folder == str(home / "elsewhere")
