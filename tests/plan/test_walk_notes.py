"""A walk that she says, in the plan and on the disk."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.book import Book, NotSaved
from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Plan, Walk
from checklists.plan.walk_notes import put_walk_back, say_walk, with_walk
from checklists.walks import STORE, walk_between
from tests.days import needs_by_supply, opened, opened_again
from tests.schools import MONDAY, reference_school
from tests.some_walks import PLACES, plan_with, plans


@given(plans(), st.sampled_from(PLACES), st.sampled_from(PLACES), st.integers(0, 60))
def test_what_is_said_holds_either_way_round_and_no_other_said_walk_changes(
    plan: Plan, start: str, end: str, minutes: int
) -> None:
    known = {*PLACES} - {"L1", "L2"}  # of the other building only classes have rooms, and there are none here
    if start == end or not {start, end} <= known:
        with pytest.raises(CannotNote):
            say_walk(plan, start, end, minutes)
        return
    school = say_walk(plan, start, end, minutes)
    after = {frozenset(each.between): each.minutes for each in school.walks}
    assert after == plan.walk_minutes | {frozenset((start, end)): minutes}
    assert len(school.walks) == len(plan.walk_minutes | after)


@pytest.mark.parametrize(
    ("start", "end", "minutes", "why"),
    [
        ("12", "99", 2, "There is no room 99 in the plan. There are store, 9, 12"),
        ("12", "12", 2, "From Room 12 to Room 12 there is no way to walk."),
        ("12", STORE, 61, "A walk of 61 min is too long: 0 to 60."),
    ],
)
def test_what_cannot_be_is_refused_in_words(start: str, end: str, minutes: int, why: str) -> None:
    with pytest.raises(CannotNote, match=why.replace(".", r"\.")):
        say_walk(plan_with(), start, end, minutes)


def test_a_walk_that_was_said_keeps_its_place_among_the_others() -> None:
    school = plan_with({(STORE, "9"): 1, ("9", "12"): 2, (STORE, "12"): 3}).school
    assert with_walk(school, "12", "9", 5).walks == (
        Walk((STORE, "9"), 1),
        Walk(("9", "12"), 5),
        Walk((STORE, "12"), 3),
    )


@pytest.mark.parametrize("before", [{(STORE, "9"): 1, ("12", "9"): 2}, {(STORE, "9"): 1}])
def test_put_back_it_is_as_before_and_another_walk_said_since_stays(before: dict[tuple[str, str], int]) -> None:
    school = plan_with(before).school
    since = with_walk(with_walk(school, "9", "12", 7), "12", "14", 3)
    assert put_walk_back(since, school, "12", "9") == with_walk(school, "12", "14", 3)


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path / "school"))


def test_it_is_in_use_at_once_and_in_the_file_and_nothing_else_is_different(book: Book) -> None:
    needs = needs_by_supply(book.day(MONDAY))
    book.change_school(say_walk(book.plan, "14", "11", 6))
    assert [visit.walk_before for visit in book.day(MONDAY).visits] == [2, 1, 1, 1, 6, 4, 1]
    assert needs_by_supply(book.day(MONDAY)) == needs
    assert walk_between(opened_again(book).plan, "11", "14") == 6


def test_what_was_changed_outside_is_not_written_over(book: Book) -> None:
    school = book.folder / "school.toml"
    text = school.read_text(encoding="utf-8").replace("Tansy Hollow", "Tansy Hollow and Brook")
    before = book.plan.school
    school.write_text(text, encoding="utf-8")
    with pytest.raises(NotSaved, match="changed outside this window"):
        book.change_school(with_walk(before, "14", "11", 6))
    assert school.read_text(encoding="utf-8") == text
    assert book.plan.school.name == "Tansy Hollow and Brook Elementary"


def test_a_school_that_does_not_fit_the_rest_is_not_kept(book: Book) -> None:
    school = book.folder / "school.toml"
    before, text = book.plan, school.read_bytes()
    with pytest.raises(NotSaved, match="99"):
        book.change_school(with_walk(before.school, "14", "99", 6))
    assert (book.plan, school.read_bytes()) == (before, text)
