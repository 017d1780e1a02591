"""A box stands in a room when the day opens, or came to stand there in the morning: at which stop is it fetched?

Monday of the reference school with a cart of two slots: at the store before V1, V3 and, at lunch and in the planning
period, V5. Walks by practice.md section 0: to Room 4 two minutes, to Room 23 four, to Room 12 two. Common practice, no
source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checklists.book import Book
from checklists.daybook.entries import Changed, Stands
from checklists.daybook.fetching import to_fetch
from checklists.daybook.state import Place
from checklists.leaving import open_before_leaving
from checklists.pages.cart_sheet_words import say_stop
from checklists.pages.morning import morning_page
from checklists.pages.route_page import route_page
from checklists.route.differences import say_differences
from checklists.sheets import sheet_of
from checklists.words import clock
from tests.days import at, opened
from tests.schools import MONDAY, in_the_evening, reference_school

FRIDAY_BEFORE = date(2026, 10, 2)
BELL = 8 * 60 - 2 - 4 - 2
"""When to leave for V1 where nothing is to be fetched: the bell, the walk, setting up, some slack."""


def a_book(folder: Path, **places: str) -> Book:
    small = {"cart": {"half_slots": 4, "standing": {"scissors": 30}}}
    stood = {each.replace("_", "-"): Place(room, FRIDAY_BEFORE, "P5") for each, room in places.items()}
    return opened(in_the_evening(reference_school(folder, school=small), places=stood))


def fetched(book: Book) -> list[tuple[int, tuple[str, str, int]]]:
    """Each thing fetched, with the visit after the stop, counted from 0."""
    told = book.route(MONDAY).told
    assert told is not None
    return [(stop.before, tuple(each)) for stop in told.stops for each in stop.fetch]


def minutes_of_the_morning(book: Book) -> int:
    """What the time to set out is before the bell's, without what is left ahead."""
    leave_by = book.leave_by(MONDAY)
    assert leave_by is not None
    return BELL - leave_by.minute - book.departure(MONDAY).minutes_left(book.marks(MONDAY))


def test_what_the_first_leg_needs_is_fetched_before_school_and_counts(tmp_path: Path) -> None:
    book = a_book(tmp_path, box_1="23")
    assert fetched(book) == [(0, ("box-1", "23", 8))]
    assert minutes_of_the_morning(book) == 8
    (asked,) = [each for each in open_before_leaving(book, MONDAY, book.marks(MONDAY), at()) if each.section == "Fetch"]
    assert asked.critical and asked.text.startswith("FETCH Box 1, Room 23, needed P2 (1-P, 8:45), +8 min")


def test_what_is_needed_after_lunch_is_fetched_there_and_costs_the_morning_nothing(tmp_path: Path) -> None:
    book = a_book(tmp_path, box_4="4")
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    assert fetched(book) == [(4, ("box-4", "4", 4))]
    assert minutes_of_the_morning(book) == 0
    (asked,) = [each for each in open_before_leaving(book, MONDAY, marks, at()) if each.section == "Fetch"]
    assert not asked.critical
    assert asked.when == "after V4, lunch and planning"
    page = " ".join(morning_page(book.plan, day, marks, None, book.departure(MONDAY)).split())
    assert "> FETCH Box 4, Room 4, needed P6 (4-D, 13:15), 4 min, can wait until lunch and planning" in page
    route = route_page(book.plan, day, marks, book.route(MONDAY), None)
    assert route.index("AFTER V4") < route.index("Fetch first: Box 4 from Room 4, 4 min.") < route.index("V5 12:30")
    stops = sheet_of(book, MONDAY, at()).stops
    assert [say for stop in stops for say in say_stop(stop) if say[0] == "FETCH"] == [
        ("FETCH", "Box 4 from Room 4, 4 min")
    ]
    assert sheet_of(book, MONDAY, at()).leave_by == BELL


def test_the_time_to_leave_a_later_stop_is_earlier_by_what_is_fetched_there(tmp_path: Path) -> None:
    """V5 at 12:30, 2 min away: the cart leaves at 12:22, with 4 min to fetch Box 4 at 12:18."""
    book = a_book(tmp_path, box_4="4")
    day, lunch = book.day(MONDAY), 11 * 60 + 30
    assert [clock(each.leave_by) for each in sheet_of(book, MONDAY, at()).stops[-1:]] == ["12:18"]
    assert "leave by 12:18" in route_page(book.plan, day, book.marks(MONDAY), book.route(MONDAY), None)
    said = book.departure(MONDAY, lunch).leave_by(day, book.marks(MONDAY))
    ahead = book.departure(MONDAY, lunch).minutes_left(book.marks(MONDAY))
    assert said is not None and clock(said.minute + ahead) == "12:18"
    book.do(MONDAY, Stands(at=at("11:40"), container="box-4", place="store"))
    assert [clock(each.leave_by) for each in sheet_of(book, MONDAY, at()).stops[-1:]] == ["12:22"]


def test_where_a_stop_leaves_no_minute_it_is_fetched_before_school(tmp_path: Path) -> None:
    """On the way by the store to V3 there is nothing to spare."""
    book = a_book(tmp_path, box_3="23")
    assert fetched(book) == [(0, ("box-3", "23", 8))]
    assert minutes_of_the_morning(book) == 8


def test_two_that_stand_in_one_room_are_one_way(tmp_path: Path) -> None:
    book = a_book(tmp_path, box_1="23", watercolour="23")
    assert [minutes for _, (_, _, minutes) in fetched(book)] in ([8, 0], [0, 8])
    assert minutes_of_the_morning(book) == 8
    assert sum(each.minutes for each in to_fetch(book.day(MONDAY), book.marks(MONDAY))) == 8


def test_what_is_fetched_and_then_left_ahead_is_fetched_from_there_after_school(tmp_path: Path) -> None:
    book = a_book(tmp_path, box_5="4")
    told = book.route(MONDAY).told
    assert told is not None
    assert fetched(book) == [(4, ("box-5", "4", 4))]
    assert ("box-5", "23") in told.behind


def test_what_she_left_ahead_in_vain_this_morning_costs_the_minutes_of_the_way(tmp_path: Path) -> None:
    book = a_book(tmp_path)
    book.do(MONDAY, Stands(at=at("7:35"), container="box-1", place="12"))
    (fetch,) = to_fetch(book.day(MONDAY), book.marks(MONDAY))
    assert fetch.words.endswith("+4 min")
    assert fetched(book) == [(0, ("box-1", "12", 4))]
    assert minutes_of_the_morning(book) == 4


def test_what_a_visit_that_is_over_left_in_its_room_is_not_to_be_fetched_for_it(tmp_path: Path) -> None:
    book = a_book(tmp_path)
    book.do(MONDAY, Stands(at=at("13:00"), container="box-1", place="9"))
    assert to_fetch(book.day(MONDAY), book.marks(MONDAY)) == ()
    assert fetched(book) == []


def test_a_change_says_that_what_stands_there_is_to_be_fetched(tmp_path: Path) -> None:
    book = a_book(tmp_path)
    book.do(MONDAY, Stands(at=at("7:35"), container="box-K", place="4"))
    before, was = book.day(MONDAY), book.route(MONDAY)
    book.do(MONDAY, Changed(at=at("7:36"), rooms={"P1 K-M": "9"}))
    said = say_differences(book.plan, before, was, book.day(MONDAY), book.route(MONDAY))
    assert "Box K stands in Room 4: fetch it at the store before V1." in said
