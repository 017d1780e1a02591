"""Where plan and daybook are looked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.files.places import data_folder


def test_the_folder_asked_for_wins_over_the_environment(tmp_path: Path) -> None:
    assert data_folder(tmp_path / "a", {"TRUNDLE_DATA": str(tmp_path / "b")}) == tmp_path / "a"


def test_the_environment_wins_over_the_usual_place(tmp_path: Path) -> None:
    assert data_folder(None, {"TRUNDLE_DATA": str(tmp_path / "b")}) == tmp_path / "b"


def test_an_empty_variable_is_as_good_as_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))  # XDG Base Directory Specification, where it is followed
    assert data_folder(None, {"TRUNDLE_DATA": ""}).name == "trundle"


def test_a_folder_named_from_home_or_from_here_becomes_a_whole_path(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    assert data_folder("~/art", {}) == tmp_path / "art"
    assert data_folder("art", {}) == Path.cwd() / "art"
