"""A day changed on two computers before the folder was kept in step: merged, it is as if she had said all on one."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book, NotSaved
from checklists.daybook.entries import Joined, Reported
from tests.commandline.running import on_monday, refused, trundle
from tests.days import (
    FRIDAY,
    NEXT_DAY_A,
    THURSDAY,
    TUESDAY,
    at,
    close,
    line_of,
    opened,
    opened_again,
    packed,
    teach,
    teach_all,
    visit_of,
)
from tests.lost.stopping import cut_off_at_every_step
from tests.schools import MONDAY, reference_school, small_school
from tests.two_versions import COPY, kept_in_step


@pytest.fixture
def school(tmp_path: Path) -> Path:
    return reference_school(tmp_path / "school")


def pack(book: Book, supply: str, count: int | None = None, clock: str = "7:41") -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), supply), count, clock))


def ticked_here(book: Book) -> None:
    pack(book, "yarn-ball", 40, "7:41")
    pack(book, "brayer", clock="7:42")


def ticked_there(book: Book) -> None:
    pack(book, "yarn-ball", 54, "7:50")
    pack(book, "foam-plate", clock="7:51")


def has(book: Book, supply: str) -> int | None:
    mark = book.marks(MONDAY).lines.get(line_of(book.day(MONDAY), supply).key)
    return mark.count if mark is not None else None


def test_ticks_of_both_count_and_the_newest_number(school: Path) -> None:
    kept_in_step(school, ticked_here, ticked_there)
    with opened(school) as book:
        assert book.days_in_two_versions == (MONDAY,)
        assert (has(book, "yarn-ball"), has(book, "foam-plate")) == (40, None)
        merged = book.merge_versions(MONDAY)
        assert len(merged.came_in) == 2
        assert (has(book, "yarn-ball"), has(book, "brayer"), has(book, "foam-plate")) == (54, 6, 26)
        book = opened_again(book)
        assert (has(book, "yarn-ball"), has(book, "brayer"), has(book, "foam-plate")) == (54, 6, 26)
        assert book.days_in_two_versions == ()
        book.release()


def test_a_copied_journal_is_merged_too(school: Path) -> None:
    kept_in_step(school, ticked_here, ticked_there, suffix="journal")
    with opened(school) as book:
        book.merge_versions(MONDAY)
        assert (has(book, "yarn-ball"), has(book, "brayer"), has(book, "foam-plate")) == (54, 6, 26)


def test_a_day_that_only_the_other_computer_told_of_is_taken_in(school: Path) -> None:
    kept_in_step(school, lambda book: None, ticked_there)
    with opened(school) as book:
        book.merge_versions(MONDAY)
        book = opened_again(book)
        assert (has(book, "yarn-ball"), has(book, "foam-plate")) == (54, 26)
        book.release()


def test_the_other_version_and_the_one_before_are_kept(school: Path) -> None:
    copy = kept_in_step(school, ticked_here, ticked_there)
    there = copy.read_bytes()
    with opened(school) as book:
        merged = book.merge_versions(MONDAY)
    assert (school / "daybook" / f"{COPY}.toml.merged-1").read_bytes() == there
    before = (school / "daybook" / merged.kept).read_text()
    assert "count = 40" in before
    assert "count = 54" not in before
    assert not copy.exists()


def test_undo_takes_back_one_step_at_a_time_the_newest_of_both_first(school: Path) -> None:
    kept_in_step(school, ticked_here, ticked_there)
    with opened(school) as book:
        book.merge_versions(MONDAY)
        assert "foam plate" in (book.undo(MONDAY) or "")
        assert "54" in (book.undo(MONDAY) or "")
        assert (has(book, "yarn-ball"), has(book, "brayer"), has(book, "foam-plate")) == (40, 6, None)


def test_closed_days_after_it_follow(school: Path) -> None:
    """There 3-K was reported as not taught; here nobody said, and the days after it were closed meanwhile."""

    def here(book: Book) -> None:
        teach_all(book, MONDAY, but=("3-K",))
        close(book)
        close(book, TUESDAY)

    def there(book: Book) -> None:
        visit = visit_of(book.day(MONDAY), "3-K")
        book.do(MONDAY, Reported(at=at("14:00"), visit=visit.key, outcome="not taught"))

    kept_in_step(school, here, there, today=TUESDAY)
    with opened(school, TUESDAY) as book:
        assert book.opening(NEXT_DAY_A).unsure["3-K"]
        book.merge_versions(MONDAY)
        assert "3-K" not in book.opening(NEXT_DAY_A).unsure
        assert book.opening(NEXT_DAY_A).progress["3-K"].part == 2
        assert book.is_closed(MONDAY)
        assert book.is_closed(TUESDAY)
        assert not book.check_chain()


def test_closed_in_one_it_is_closed_and_everything_said_in_the_other_counts(school: Path) -> None:
    def here(book: Book) -> None:
        teach(book, MONDAY, "3-B")

    def there(book: Book) -> None:
        teach(book, MONDAY, "3-K", absent=(4, 11))
        close(book)

    kept_in_step(school, here, there)
    with opened(school) as book:
        assert not book.is_closed(MONDAY)
        book.merge_versions(MONDAY)
        closing = book.closing_of(MONDAY)
        assert book.is_closed(MONDAY)
        assert closing.progress["3-B"].part == closing.progress["3-K"].part == 3
        assert closing.owed["3-K"][0].numbers == (4, 11)
        assert not book.check_chain()


def test_a_child_who_joined_there_is_on_the_class_list_here(school: Path) -> None:
    kept_in_step(school, ticked_here, lambda book: book.do(MONDAY, Joined(at=at("8:00"), class_id="3-B", number=25)))
    with opened(school) as book:
        book.merge_versions(MONDAY)
        assert book.plan.class_by_id["3-B"].students == 25


def test_a_damaged_copy_merges_nothing_and_stays(school: Path) -> None:
    copy = kept_in_step(school, ticked_here, ticked_there)
    copy.write_bytes(copy.read_bytes()[:100])
    with opened(school) as book:
        with pytest.raises(NotSaved, match="conflicted copy"):
            book.merge_versions(MONDAY)
        assert has(book, "yarn-ball") == 40
    assert copy.exists()
    assert not list(copy.parent.glob("*before-merge*"))


def test_a_window_that_only_reads_merges_nothing(school: Path) -> None:
    copy = kept_in_step(school, ticked_here, ticked_there)
    with Book.open(school, write=False, today=MONDAY) as book, pytest.raises(NotSaved):
        book.merge_versions(MONDAY)
    assert copy.exists()


def merge(folder: Path) -> None:
    book = opened(folder, THURSDAY)
    book.merge_versions(MONDAY)
    book.release()


def test_cut_off_anywhere_nothing_is_lost_and_nothing_is_merged_twice(tmp_path: Path) -> None:
    """Monday is closed here, and Thursday after it; there 3-K was reported as not taught, and glue packed."""
    school = small_school(tmp_path / "school")

    def here(book: Book) -> None:
        teach(book, MONDAY, "3-B")
        close(book)
        close(book, THURSDAY)

    def there(book: Book) -> None:
        pack(book, "glue-stick", 27, "7:50")
        teach(book, MONDAY, "3-K", "not taught")

    kept_in_step(school, here, there, today=THURSDAY)
    seen = set()
    for left in cut_off_at_every_step(school, tmp_path / "cut off", merge):
        with opened(left, THURSDAY) as book:
            reports = len(book.marks(MONDAY).reports)
            is_merged = "3-K" not in book.opening(FRIDAY).unsure
            assert not book.check_chain()
            assert is_merged or book.days_in_two_versions
            if book.days_in_two_versions:
                book.merge_versions(MONDAY)
            assert len(book.marks(MONDAY).reports) == 2
            assert has(book, "glue-stick") == 27
            assert "3-K" not in book.opening(FRIDAY).unsure
            assert not book.check_chain()
            seen.add((reports, is_merged))
    assert seen == {(1, False), (2, True)}


def test_the_command_shows_both_and_merges_only_when_told(school: Path) -> None:
    copy = kept_in_step(school, ticked_here, ticked_there)
    shown = trundle("versions", data=school)
    assert shown.status == 0
    assert "7:41 packed 40 of 54 yarn ball" in shown.out
    assert "(newer: stands)" in shown.out
    assert copy.exists()
    [fields] = on_monday("versions", "--json", data=school).fields["versions"]
    assert (fields["date"], fields["files"], fields["can_be_merged"]) == ("2026-10-05", [copy.name], True)
    assert sorted(each["where"] for each in fields["differences"]) == ["different", "only here", "only there"]
    merged = on_monday("versions", "--merge", "--json", data=school).fields
    assert (merged["came_in"], merged["set_aside"]) == (2, [f"{COPY}.toml.merged-1"])
    assert "one version of every day" in trundle("versions", data=school).out
    assert "nothing to merge" in refused("versions", "--merge", data=school)
