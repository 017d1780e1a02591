"""Her school on a new computer: the first start finds the backup, tells what is in it, and y puts it back."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path
from shutil import copytree

import pytest
from textual import events

from checklists.book import Book
from checklists.demo import SIGN
from checklists.files.backup_contents import BACKUPS, contents_of
from checklists.files.backup_making import make_backup
from checklists.files.backup_places import path_typed
from checklists.files.backup_reading import read_backup
from checklists.files.lock import take_lock
from checklists.files.set_up_file import keep_set_up, what_is_in
from checklists.files.year_pending import PENDING
from checklists.first_start.answers import Answers
from tests.schools import reference_school
from tests.terminal import SCREENS, Terminal
from tests.tui.test_first_start import SIZES, Newcomer, newcomer, words_of

OCTOBER_4 = datetime(2026, 10, 4, 18, 5)
NOVEMBER_13 = datetime(2026, 11, 13, 15, 30)
ROW = "3"
"""Its number in the menu of an empty folder."""


@pytest.fixture(scope="module")
def old_school(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return reference_school(tmp_path_factory.mktemp("the old computer") / "school")


@pytest.fixture
def documents(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Her documents on the new computer, where the system says they are; it has no desktop and no stick."""
    for name, variable in (("Documents", "XDG_DOCUMENTS_DIR"), ("none", "XDG_DESKTOP_DIR")):
        monkeypatch.setenv(variable, str(tmp_path / name))
    monkeypatch.setattr("checklists.files.backup_places.drives", lambda: ())
    (tmp_path / "Documents").mkdir()
    return tmp_path / "Documents"


async def paste(she: Newcomer, text: str) -> None:
    she.app.screen.post_message(events.Paste(text))
    await she.pilot.pause()


@SIZES
async def test_the_newest_stands_first_enter_tells_what_is_in_it_and_y_puts_it_back(
    size: tuple[int, int], tmp_path: Path, documents: Path, old_school: Path
) -> None:
    make_backup(old_school, documents, OCTOBER_4)
    newest = make_backup(old_school, documents, NOVEMBER_13)
    own = tmp_path / "own"
    async with newcomer(own, size) as she:
        assert f"{ROW}  I have a backup: put it back" in she.shown
        await she.answer(ROW)
        shown = she.shown
        assert shown.index("Fri 13 Nov 2026 at 15:30") < shown.index("Sun 4 Oct 2026 at 18:05")
        assert words_of(shown).count("Tansy Hollow Elementary: 1 day, the last Fri 2 Oct 2026") == 2
        await she.press("enter")
        assert not own.exists()
        read = words_of(she.shown)
        assert "Tansy Hollow Elementary, backed up on Fri 13 Nov 2026 at 15:30." in read
        assert "Nothing is here yet: all of it is put here." in read
        assert "y puts it back, Esc leaves all as it is." in read
        await she.press("y")
        assert she.app.return_value == "put back"
    assert contents_of(own) == read_backup(newest).contents == contents_of(old_school)
    assert not (own / BACKUPS).exists()
    with Book.open(own, today=NOVEMBER_13.date()) as book:
        assert book.writable and book.plan.school.name == "Tansy Hollow Elementary"
        assert not [each for each in book.problems if each.level == "grave"]


@SIZES
async def test_where_none_is_found_it_says_where_it_looked_and_a_path_can_be_typed_or_dragged_in(
    size: tuple[int, int], tmp_path: Path, documents: Path, old_school: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    stick = tmp_path / "her blue stick"
    stick.mkdir()
    made = make_backup(old_school, stick, OCTOBER_4)
    async with newcomer(tmp_path / "own", size) as she:
        await she.answer(ROW)
        assert "No backup is in Documents." in words_of(she.shown)
        assert "Or type where it is" in words_of(she.shown)
        await she.press("enter")
        assert "None was found." in she.shown
        await she.press(*"gone [b]y", "enter")
        assert "There is no folder or file gone [b]y." in she.shown
        await she.press(*"Documents", "enter")
        assert "No backup is in Documents." in words_of(she.shown)
        await paste(she, "her blue stic")
        await she.press("k", "enter")
        assert "Enter shows what is in it." in she.shown
        await she.press("enter")
        assert "backed up on Sun 4 Oct 2026 at 18:05" in words_of(she.shown)
        await she.press("escape")
        await paste(she, f"'{made}'\n")
        assert f"{made.name}'_" in she.shown
        await she.press("escape", "up")
        assert f"{made.name}'_" not in she.shown
        await paste(she, f"'{made}' ")
        await she.press("enter")
        assert f"In {made.name}" in she.shown
        await she.press("y")
        assert she.app.return_value == "put back"
    assert contents_of(tmp_path / "own") == contents_of(old_school)


async def test_a_stick_plugged_in_meanwhile_is_found_by_looking_again(
    tmp_path: Path, documents: Path, old_school: Path
) -> None:
    async with newcomer(tmp_path / "own", (60, 20)) as she:
        await she.answer(ROW)
        make_backup(old_school, documents, OCTOBER_4, as_folder=True)
        await she.press("enter")
        assert "1 backup found." in she.shown and "▸      Sun 4 Oct 2026 at 18:05" in she.shown


@SIZES
async def test_a_damaged_one_and_a_newer_one_say_why_and_nothing_is_there_then(
    size: tuple[int, int], tmp_path: Path, documents: Path, old_school: Path
) -> None:
    (documents / "trundle-cut-short-2026-10-01.zip").write_bytes(b"PK nothing")
    other = make_backup(old_school, documents, OCTOBER_4, as_folder=True)
    (other / "school.toml").write_bytes((other / "school.toml").read_bytes() + b"\n")
    later = copytree(old_school, tmp_path / "of later")
    (later / "daybook" / "2026-11-12.toml").write_text("format = 99\n")
    make_backup(later, documents, NOVEMBER_13)
    own = tmp_path / "own"
    async with newcomer(own, size) as she:
        await she.answer(ROW)
        assert "is no backup, or it is damaged. Choose another one." in words_of(she.shown)
        assert "Tansy Hollow Elementary: 2 days, the last Thu 12 Nov 2026" in words_of(she.shown)
        await she.press("enter")
        assert "This one cannot be put back. Why is said above." in she.shown
        assert "was made by a newer version of Trundle. Use that one for it." in words_of(she.shown)
        await paste(she, str(other))
        await she.press("enter")
        assert "school.toml is not as it was: it is damaged or was changed." in words_of(she.shown)
        await she.press("y", "escape", "escape")
        assert "Where would you like to begin?" in she.shown
    assert not own.exists()


async def test_esc_goes_back_step_by_step_to_where_to_begin(tmp_path: Path, documents: Path, old_school: Path) -> None:
    make_backup(old_school, documents, OCTOBER_4)
    async with newcomer(tmp_path / "own") as she:
        await she.answer("I have")
        await she.press("enter", "escape")
        assert "Found, the newest first" in she.shown
        await she.press("escape")
        assert "Where would you like to begin?" in she.shown
        await she.answer(ROW)
        await she.press("tab")
        assert she.app.return_value == "quit"
    assert not (tmp_path / "own").exists()


async def test_answers_given_so_far_and_files_of_others_are_told_of_and_kept(
    tmp_path: Path, documents: Path, old_school: Path
) -> None:
    make_backup(old_school, documents, OCTOBER_4)
    own = tmp_path / "own"
    keep_set_up(own, Answers({"school name": "Applewick"}))
    (own / "letter to parents.txt").write_text("Dear parents")
    async with newcomer(own) as she:
        await she.answer("I have")
        await she.press("enter")
        read = words_of(she.shown)
        assert "Here now: no plan that reads." in read and "What is here now is backed up first" in read
        assert "1 answer of setting up your own school are not used then." in read
        await she.press("y")
        assert she.app.return_value == "put back"
    assert what_is_in(own) == "a plan" and not (own / "set-up.toml").exists()
    assert (own / "letter to parents.txt").read_text() == "Dear parents"
    (kept,) = (own / BACKUPS).iterdir()
    assert b"Applewick" in read_backup(kept).contents["set-up.toml"]


async def test_where_it_cannot_be_put_it_says_why_and_the_next_start_asks_again(
    tmp_path: Path, documents: Path, old_school: Path
) -> None:
    make_backup(old_school, documents, OCTOBER_4)
    own = tmp_path / "own"
    other_window = take_lock(own)
    assert other_window is not None
    async with newcomer(own) as she:
        with other_window:
            await she.answer(ROW)
            await she.press("enter", "y")
            assert "Not put back. Why is said above." in she.shown
        assert what_is_in(own) == "nothing"
        await she.press("down", "down", "down", "enter", "y")
        assert she.app.return_value == "put back"


async def test_the_demo_school_is_not_put_in_place_of_her_own(
    tmp_path: Path, documents: Path, old_school: Path
) -> None:
    demo = copytree(old_school, tmp_path / "demo")
    (demo / SIGN).touch()
    make_backup(demo, documents, OCTOBER_4)
    async with newcomer(tmp_path / "own", (60, 20)) as she:
        await she.answer(ROW)
        await she.press("enter", "y")
        assert "That is a backup of the demo school." in words_of(she.shown)
    assert what_is_in(tmp_path / "own") == "nothing"


def test_a_folder_in_which_putting_back_was_cut_off_is_no_empty_one(tmp_path: Path) -> None:
    """Opening it finishes that; setting up a school over it would lose what is not there yet."""
    (tmp_path / PENDING).write_bytes(b"PK")
    assert what_is_in(tmp_path) == "a plan"


@pytest.mark.skipif(os.name == "nt", reason="backslashes part folders there")
def test_a_path_is_read_as_terminals_write_it_when_a_file_is_dragged_in(tmp_path: Path) -> None:
    """Source: POSIX.1-2017, XCU 2.2 "Quoting"; RFC 8089, section 2, and RFC 3986, 2.1, for the address."""
    there = tmp_path / "Mrs O'Hara (art).zip"
    there.touch()
    inside_quotes = str(there).replace("'", "'\\''")
    with_backslashes = "".join(f"\\{each}" if each in " '()" else each for each in str(there))
    address = f"file://{tmp_path}/Mrs%20O%27Hara%20%28art%29.zip"
    for written in (str(there), f" {there} ", f"'{inside_quotes}'", f'"{there}"', with_backslashes, address):
        assert path_typed(written) == there, written
    for nothing in ("", " ", "'", "it's", "~nobody-of-this-name/x", "\0", "a" * 399, "file:", "\ud800"):
        assert path_typed(nothing) is None, nothing


def test_in_a_terminal_the_list_opens_on_what_was_put_back(tmp_path: Path, old_school: Path) -> None:
    (tmp_path / "Documents").mkdir()
    make_backup(old_school, tmp_path / "Documents", OCTOBER_4)
    words = (*SCREENS, "--data", str(tmp_path / "own"), "--date", "2026-10-05", "--at", "7:41")
    with Terminal(*words, environment={"XDG_DOCUMENTS_DIR": str(tmp_path / "Documents")}) as terminal:
        terminal.wait_for("Where would you like to begin?")
        terminal.press(f"{ROW}\r")
        terminal.wait_for("Sun 4 Oct 2026 at 18:05")
        terminal.press("\r")
        terminal.wait_for("y puts it back")
        terminal.press("y")
        terminal.wait_for("Put back. An icon to start it", "to pack")
        terminal.press("qq")
        assert terminal.wait_for_end() == 0 and terminal.is_restored
