"""A change of several plan files, and taking it back, cut off before every step on the disk: all of it or nothing."""

from __future__ import annotations

from pathlib import Path

from checklists.book import Book
from tests.days import opened
from tests.lost.stopping import cut_off_at_every_step
from tests.schools import small_school
from tests.test_changing_plan_files import AT, with_chalk


def change(folder: Path) -> None:
    with Book.open(folder) as book:
        book.change_files(with_chalk(book.plan_files), "chalk for everybody", AT)


def take_back(folder: Path) -> None:
    with Book.open(folder) as book:
        book.take_files_back()


def test_a_change_is_there_or_not_and_can_be_taken_back_wherever_it_was_cut_off(tmp_path: Path) -> None:
    school = small_school(tmp_path / "school")
    with Book.open(school) as book:
        before, after = book.plan_files, with_chalk(book.plan_files)
    seen = []
    for folder in cut_off_at_every_step(school, tmp_path / "cut", change):
        book = opened(folder)
        seen.append(book.plan_files == after)
        assert seen[-1] or book.plan_files == before
        assert (book.newest_files_step() is not None) == seen[-1]
        if seen[-1]:
            assert book.take_files_back() == "chalk for everybody" and book.plan_files == before
        book.release()
    assert seen == sorted(seen) and seen[0] is False and seen[-1] is True


def test_taking_it_back_is_done_or_not_wherever_it_was_cut_off(tmp_path: Path) -> None:
    school = small_school(tmp_path / "school")
    with Book.open(school) as book:
        before, after = book.plan_files, with_chalk(book.plan_files)
    change(school)
    seen = []
    for folder in cut_off_at_every_step(school, tmp_path / "cut", take_back):
        book = opened(folder)
        seen.append(book.plan_files == before)
        assert seen[-1] or book.plan_files == after
        assert (book.newest_files_step() is None) == seen[-1]
        book.release()
    assert seen == sorted(seen) and seen[0] is False and seen[-1] is True
