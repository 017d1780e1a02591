"""The Route's Next line: what, where and by when, counted from the clock.

Monday of the reference school with a cart of two slots, common practice, no source. V1 at 8:00 is 2 min away, 4 to set
up, 2 of slack: the cart leaves at 7:52, and the round with Box K of 6 min begins at 7:46. V5 at 12:30 is as far.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.daybook.entries import LeftStore, Stands
from checklists.pages.route_next import say_next
from tests.commandline.running import trundle
from tests.days import at, opened
from tests.schools import MONDAY, reference_school
from tests.tui.test_leaving_ahead import TWO_SLOTS


def next_at(folder: Path, hour: int, minute: int, *said: LeftStore | Stands) -> str:
    with opened(folder) as book:
        if said:
            book.do(MONDAY, *said)
        return say_next(book.plan, book.day(MONDAY), book.marks(MONDAY), book.route(MONDAY), hour * 60 + minute)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return reference_school(tmp_path, school=TWO_SLOTS)


def test_before_school_it_names_what_goes_ahead_and_where(folder: Path) -> None:
    assert next_at(folder, 7, 40) == "Next, by 7:46: Box K to Room 4, then leave by 7:52 for V1, Room 4"


def test_once_it_stands_there_only_the_way_of_the_cart_is_left(folder: Path) -> None:
    said = next_at(folder, 7, 45, Stands(at=at("7:44"), container="box-K", place="4"))
    assert said == "Next: leave by 7:52 for Room 4 at 8:00, V1 K-M"


def test_a_time_that_is_past_is_said_as_late(folder: Path) -> None:
    assert next_at(folder, 7, 50).startswith("Next, 4 min late: Box K to Room 4, then leave by 7:52")
    assert "leave now, not by 7:52 any more, for V1" in next_at(folder, 7, 56)


def test_in_a_break_it_counts_from_now_and_names_what_to_load_and_to_leave_ahead(folder: Path) -> None:
    """Both rounds, of 6 and of 10 min, before 12:22."""
    assert next_at(folder, 11, 40) == (
        "Next, by 12:06 (26 min): Box 2 to Room 11 and Box 5 to Room 23; load Printing kit, Box 4 and Clay kit,"
        " then leave by 12:22 for V5, Room 11"
    )


def test_by_the_store_it_names_what_is_loaded(folder: Path) -> None:
    assert next_at(folder, 9, 0).startswith(
        "Next: by the store, load Box 3 and Stitching kit, then Room 12 at 9:35, V3"
    )


def test_after_the_bell_minutes_to_spare_are_counted_from_the_clock(folder: Path) -> None:
    """From Room 12 to Room 14 it is 1 min; V3 ends at 10:20, V4 begins at 10:25."""
    assert next_at(folder, 10, 0).endswith("1 min, 4 to spare")
    assert next_at(folder, 10, 23).endswith("1 min, 1 to spare")
    assert next_at(folder, 10, 24).endswith("1 min, 0 to spare")


def test_where_she_said_that_she_left_she_is_on_the_way(folder: Path) -> None:
    assert (
        next_at(folder, 7, 55, LeftStore(at=at("7:52"), open_lines=())) == "Next: on the way to Room 4 at 8:00, V1 K-M"
    )


def test_where_nothing_fits_ways_and_what_is_late_are_still_there(tmp_path: Path) -> None:
    """From Room 4 to Room 9 it takes 1 min and there is none between the bells."""
    data = reference_school(tmp_path, school={"cart": {"half_slots": 2, "standing": {"scissors": 30}}})
    assert next_at(data, 8, 10).startswith("Next: straight to Room 9 at 8:45, V2 1-P: 1 min, 1 LATE")
    page = trundle("route", "--date", "2026-10-05", "--at", "8:10", data=data).out
    assert "LATE" in next(row for row in page.splitlines() if " V2 " in row)
    assert "Next: straight to Room 9" in page
