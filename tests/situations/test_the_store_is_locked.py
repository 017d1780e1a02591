"""The store is locked until 7:55. Situation T48; numbers of the reference school, common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.lines.records import Decision
from tests.commandline.running import on_monday
from tests.days import after_the_battery_died, at, close, opened, teach_all
from tests.schools import MONDAY, reference_school
from tests.tui.desk import at_desk


@pytest.fixture
def locked(tmp_path: Path) -> Book:
    """Locked until 7:55: from there to Room 4 and set up she is ready at 8:01, V1 begins at 8:00."""
    rubbings = {"habits": {"filler": "leaf-rubbings"}}
    book = opened(reference_school(tmp_path / "school", school=rubbings))
    book.do(MONDAY, Changed(at=at("7:26"), store_opens="7:55"))
    return book


def decided(book: Book) -> tuple[Decision, ...]:
    return book.day(MONDAY).decisions


def test_leave_by_moves_and_what_can_ride_without_the_store_is_listed(locked: Book) -> None:
    assert locked.day(MONDAY).leave_by == 7 * 60 + 55
    (decision,) = decided(locked)
    assert decision.text.startswith("The store opens at 7:55, 1 min too late for V1 K-M.")
    assert "30 scissors" in decision.text
    assert not decision.stops
    assert [offer.label for offer in decision.offers] == [
        "teach Leaf Rubbings",
        "leave it as it is",
        "K-M is not visited",
    ]


@pytest.mark.parametrize("choice", [0, 1, 2])
def test_each_way_out_settles_it_and_the_class_moves_on_only_where_its_own_part_was_taught(
    locked: Book, choice: int
) -> None:
    locked.do(MONDAY, decided(locked)[0].offers[choice].change)
    assert decided(locked) == ()
    teach_all(locked, MONDAY)
    close(locked, MONDAY)
    progress = locked.closing_of(MONDAY).progress["K-M"]
    moved_on = (progress.lesson, progress.part) != ("striped-fish", 2)
    assert moved_on is (choice == 1)


def test_a_store_that_opens_early_enough_asks_nothing(locked: Book) -> None:
    locked.do(MONDAY, Changed(at=at("7:27"), store_opens="7:40"))
    assert decided(locked) == ()
    assert locked.day(MONDAY).leave_by == 7 * 60 + 52


def test_it_is_there_after_the_battery_died_and_undone_it_is_not(locked: Book, tmp_path: Path) -> None:
    with after_the_battery_died(locked, into=tmp_path / "again") as again:
        assert len(decided(again)) == 1
        again.undo(MONDAY)
        assert decided(again) == ()
        assert again.day(MONDAY).leave_by == 7 * 60 + 52


def test_by_command_and_taken_back(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = " ".join(on_monday("change", "--store-from", "7:55", data=data).out.split())
    assert "the store opens at 7:55" in said and "Leave the store by 7:55" in said
    assert on_monday("change", "--store-from", "usual", data=data).status == 0
    assert on_monday("morning", "--json", data=data).fields["leave_by"] == "7:52"
    assert on_monday("change", "--store-from", "soon", data=data).status == 2


async def test_on_screen_in_six_keys(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("t o 7 5 5 enter")
        assert "The store opens at 7:55" in desk.screen
        await desk.press("b")
        assert "leave by 7:55" in desk.screen
