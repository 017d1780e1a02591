"""Faults that random weeks found beside an independent model of them: looks, ticks and counts of one day in any order.

On the small school: on Mon 5 Oct 24 and 22 white sheets are used, 51 packed; she has 400. Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

from checklists.book import Book
from checklists.daybook.entries import CameUpShort, CountedStock, FoundInContainer, Lent, TakenOut
from checklists.daybook.state import Owed, State, Unfinished
from tests.days import at, line_of, opened, packed, teach
from tests.schools import FRIDAY_BEFORE, MONDAY, small_school, write_evening

WHITE = "white-12x18"


def monday(folder: Path, in_the_box: int = 0, owed: tuple[Owed, ...] = ()) -> Book:
    """The small school on a Monday that opens with so many white sheets in Box 3, and what 3-B is owed."""
    small_school(folder)
    contents = {"box-3": {WHITE: in_the_box}} if in_the_box else {}
    state = State(contents=contents, on_hand={WHITE: 400}, owed={"3-B": owed} if owed else {})
    write_evening(folder, FRIDAY_BEFORE, state)
    return opened(folder)


def white_after(book: Book) -> tuple[int, int]:
    """White sheets she has, and in Box 3, after Monday."""
    state = book.closing_of(MONDAY)
    return state.on_hand[WHITE], state.contents.get("box-3", {}).get(WHITE, 0)


def look(count: int, clock: str, container: str = "box-3") -> FoundInContainer:
    return FoundInContainer(at=at(clock), container=container, supply=WHITE, count=count)


def take_out(count: int, left: int, clock: str) -> TakenOut:
    return TakenOut(at=at(clock), container="box-3", supply=WHITE, count=count, left=left)


def short(book: Book, count: int, clock: str) -> CameUpShort:
    line = line_of(book.day(MONDAY), WHITE)
    return CameUpShort(at=at(clock), line=line.key, count=count, remedy="go without")


def nobody_is_taught(book: Book) -> None:
    teach(book, MONDAY, "3-B", "not taught")
    teach(book, MONDAY, "3-K", "not taught")


def test_children_who_are_absent_use_nothing_up_where_a_reserve_is_along_as_well(tmp_path: Path) -> None:
    book = monday(tmp_path, owed=(Owed("paper-hills", 1, FRIDAY_BEFORE, unknown=True),))
    teach(book, MONDAY, "3-B", absent=(1, 2, 3, 4))
    teach(book, MONDAY, "3-K", "not taught")
    assert white_after(book)[0] == 400 - 20


def test_a_look_into_a_catch_up_kit_counts_after_it_was_packed(tmp_path: Path) -> None:
    book = monday(tmp_path, owed=(Owed("paper-hills", 1, FRIDAY_BEFORE, numbers=(4, 7, 9)),))
    kit = line_of(book.day(MONDAY), WHITE, catch_up_for="3-B")
    book.do(MONDAY, packed(kit, 3))
    book.do(MONDAY, look(2, "15:20", "catch-up 3-B"))
    nobody_is_taught(book)
    assert book.closing_of(MONDAY).contents["catch-up 3-B"][WHITE] == 2


def test_what_is_taken_out_after_a_look_leaves_what_was_found_less_that(tmp_path: Path) -> None:
    book = monday(tmp_path)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), WHITE)))
    teach(book, MONDAY, "3-B")
    teach(book, MONDAY, "3-K")
    book.do(MONDAY, look(5, "15:20"))
    book.do(MONDAY, take_out(2, 3, "15:21"))
    assert white_after(book) == (400 - 46, 3)


def test_what_is_taken_out_of_a_box_that_came_up_short_is_on_the_shelf(tmp_path: Path) -> None:
    """Eight fewer than thought are gone; the thirty that were there are not."""
    book = monday(tmp_path, in_the_box=38)
    book.do(MONDAY, short(book, 30, "7:30"))
    book.do(MONDAY, take_out(30, 0, "7:35"))
    nobody_is_taught(book)
    assert white_after(book) == (392, 0)


def test_only_what_was_thought_to_be_there_after_a_look_can_be_gone(tmp_path: Path) -> None:
    book = monday(tmp_path, in_the_box=38)
    book.do(MONDAY, take_out(8, 30, "7:30"))
    book.do(MONDAY, short(book, 25, "7:35"))
    nobody_is_taught(book)
    assert white_after(book) == (395, 25)


def test_what_was_gone_before_a_stock_count_is_in_the_count_whatever_is_found_later(tmp_path: Path) -> None:
    book = monday(tmp_path, in_the_box=38)
    book.do(MONDAY, short(book, 30, "7:30"))
    book.do(MONDAY, CountedStock(at=at("7:40"), supply=WHITE, count=380))
    book.do(MONDAY, look(29, "7:50"))
    nobody_is_taught(book)
    assert white_after(book) == (380, 29)


def test_after_a_stock_count_a_class_uses_no_more_than_the_class_before_has_left(tmp_path: Path) -> None:
    book = monday(tmp_path)
    book.do(MONDAY, packed(line_of(book.day(MONDAY), WHITE), 30))
    book.do(MONDAY, CountedStock(at=at("8:47"), supply=WHITE, count=376))
    teach(book, MONDAY, "3-B")
    teach(book, MONDAY, "3-K")
    assert white_after(book) == (370, 0)


def test_who_is_not_done_with_a_part_beyond_the_last_is_not_done_with_the_last(tmp_path: Path) -> None:
    """She said "to part 3" when the class was thought to be further than it was: the lesson has two."""
    book = monday(tmp_path)
    teach(book, MONDAY, "3-B", "went further", reached_part=3, half=(5,))
    assert book.closing_of(MONDAY).unfinished["3-B"] == (Unfinished("paper-hills", 2, 1, MONDAY, (5,)),)


def test_what_was_lent_out_of_a_catch_up_kit_before_it_was_packed_is_not_missing_from_it(tmp_path: Path) -> None:
    book = monday(tmp_path, owed=(Owed("paper-hills", 1, FRIDAY_BEFORE, numbers=(4, 7, 9)),))
    book.do(MONDAY, Lent(at=at("7:30"), supply=WHITE, count=2, container="catch-up 3-B"))
    book.do(MONDAY, packed(line_of(book.day(MONDAY), WHITE, catch_up_for="3-B"), 3))
    nobody_is_taught(book)
    assert book.closing_of(MONDAY).contents["catch-up 3-B"][WHITE] == 3
