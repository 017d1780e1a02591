"""The battery falls out while she backs up, or puts a backup back: the old or the new, never a mixture."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest

from checklists.backing_up import put_back_in_folder
from checklists.book import Book, CannotOpen
from checklists.files.backup_contents import contents_of
from checklists.files.backup_making import make_backup
from checklists.files.backup_reading import read_backup
from checklists.files.lock import take_lock
from checklists.files.year_pending import is_changing
from tests.days import at, line_of, opened, packed
from tests.lost.stopping import cut_off_at_every_step
from tests.schools import MONDAY, a_lesson, a_part, an_item, in_the_evening, small_school, write_toml


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A school, a stick with a backup of it, and the school as it became since: ticks, a lesson more, a day less."""
    place = tmp_path / "place"
    school = in_the_evening(small_school(place / "school"), contents={"cart": {"scissors": 30}})
    (place / "stick").mkdir()
    make_backup(school, place / "stick", at("7:00")).rename(place / "stick" / "backup.zip")
    with opened(school) as book:
        book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))
    write_toml(school / "lessons" / "new.toml", a_lesson("new", [a_part("fold", [an_item("white-12x18")])]))
    (school / "daybook" / "2026-10-02.toml").unlink()
    (school / "classes.toml").write_bytes((school / "classes.toml").read_bytes() + b"# later\n")
    return place


def put_back_in(place: Path) -> None:
    put_back_in_folder(place / "school", read_backup(place / "stick" / "backup.zip"), at("16:00"))


def back_up_in(as_folder: bool) -> Callable[[Path], None]:
    def back_up(place: Path) -> None:
        make_backup(place / "school", place / "stick", at("16:00"), as_folder=as_folder)

    return back_up


def test_cut_off_anywhere_the_next_start_finds_what_was_there_or_what_was_put_back(place: Path, tmp_path: Path) -> None:
    old = contents_of(place / "school")
    new = read_backup(place / "stick" / "backup.zip").contents
    found, finished = [], 0
    for cut in cut_off_at_every_step(place, tmp_path / "cut", put_back_in):
        finished += is_changing(cut / "school")
        with Book.open(cut / "school", write=False, today=MONDAY) as book:
            found.append(contents_of(cut / "school"))
            assert ("new" in book.plan.lesson_by_id) == (found[-1] == old)
        assert not is_changing(cut / "school")
    assert all(each in (old, new) for each in found)
    assert found == sorted(found, key=lambda each: each == new)
    assert (found[0], found[-1]) == (old, new)
    assert finished > 3


def test_cut_off_while_it_is_finished_the_start_after_finishes_it(place: Path, tmp_path: Path) -> None:
    new = read_backup(place / "stick" / "backup.zip").contents
    cuts = cut_off_at_every_step(place, tmp_path / "cut", put_back_in)
    half_way = next(cut for cut in cuts if is_changing(cut / "school"))
    copytree(half_way, tmp_path / "half way")
    for cut in cut_off_at_every_step(tmp_path / "half way", tmp_path / "again", start):
        Book.open(cut / "school", write=False, today=MONDAY).release()
        assert contents_of(cut / "school") == new


def start(place: Path) -> None:
    Book.open(place / "school", write=False, today=MONDAY).release()


@pytest.mark.parametrize("as_folder", [False, True])
def test_cut_off_while_backing_up_there_is_a_whole_backup_or_none(as_folder: bool, place: Path, tmp_path: Path) -> None:
    before = contents_of(place / "school")
    found = []
    for cut in cut_off_at_every_step(place, tmp_path / "cut", back_up_in(as_folder)):
        made = [each for each in (cut / "stick").iterdir() if each.name.startswith("trundle-")]
        found.append(len(made))
        assert all(read_backup(each).contents == before for each in made)
        assert contents_of(cut / "school") == before
    assert found == sorted(found)
    assert found[-1] == 1


def test_while_a_backup_is_being_put_back_nobody_sees_half_of_it(place: Path, tmp_path: Path) -> None:
    cuts = cut_off_at_every_step(place, tmp_path / "cut", put_back_in)
    school = next(cut for cut in cuts if is_changing(cut / "school")) / "school"
    with take_lock(school) or pytest.fail("nobody has the lock"), pytest.raises(CannotOpen, match="not finished"):
        Book.open(school, write=False, today=MONDAY)
    assert is_changing(school)
