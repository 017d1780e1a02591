"""What a day leaves behind: where classes are, what was used, who is owed what. Common practice, no source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import CountedStock, FoundLevel, HandedOut, OutcomeKind, Stands, Ticked
from checklists.daybook.state import Owed, Place, Progress, State, Unfinished
from tests.days import TUESDAY, at, close, line_of, opened, packed, teach, teach_all, visit_of
from tests.schools import FRIDAY_BEFORE, MONDAY, in_the_evening, small_school

HILLS = "paper-hills"
Missed = tuple[tuple[int, ...], int]


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """Mon 5 Oct of the small school: 3-B (24) and 3-K (22) at part 1 of 2 of Paper Hills."""
    return opened(small_school(tmp_path))


def after(book: Book) -> State:
    close(book)
    return book.opening(TUESDAY)


def evening_with(folder: Path, **state: Any) -> Book:
    """The small school after a Friday that left ``state``."""
    return opened(in_the_evening(small_school(folder), **state))


# --------------------------------------------------------------------------------------------- where classes are


@pytest.mark.parametrize(
    ("outcome", "more", "place"),
    [
        ("done", {}, Progress(HILLS, 2, MONDAY)),
        ("done except", {"not_done": 4}, Progress(HILLS, 2, MONDAY)),
        ("about half", {}, Progress(HILLS, 1, again=True)),
        ("not taught", {}, Progress(HILLS, 1)),
        ("went further", {"reached_part": 2}, Progress("yarn-birds", 1, lessons_done=(HILLS,))),
        ("unknown", {}, Progress(HILLS, 1)),
    ],
)
def test_a_class_moves_on_by_its_outcome(
    book: Book, outcome: OutcomeKind, more: dict[str, int], place: Progress
) -> None:
    teach(book, MONDAY, "3-B", outcome, **more)
    assert after(book).progress["3-B"] == place


def test_a_class_that_went_further_is_told_and_owed_for_both_parts(book: Book) -> None:
    teach(book, MONDAY, "3-B", "went further", reached_part=2, absent=(9,))
    state = after(book)
    assert state.owed["3-B"] == (Owed(HILLS, 1, MONDAY, (9,)), Owed(HILLS, 2, MONDAY, (9,)))


def test_went_further_with_a_part_that_is_not_further_is_one_part(book: Book) -> None:
    teach(book, MONDAY, "3-B", "went further", reached_part=1)
    assert after(book).progress["3-B"].part == 2


def test_about_half_keeps_the_day_from_which_something_dries(tmp_path: Path) -> None:
    book = evening_with(tmp_path, progress={"3-B": Progress(HILLS, 2, FRIDAY_BEFORE)})
    teach(book, MONDAY, "3-B", "about half")
    assert after(book).progress["3-B"] == Progress(HILLS, 2, FRIDAY_BEFORE, again=True)


def test_closing_says_what_it_did_in_words(book: Book) -> None:
    teach(book, MONDAY, "3-B", "done", absent=(4, 11))
    teach(book, MONDAY, "3-K", "about half")
    said = close(book)
    assert "3-B: next is part 2 of Paper Hills." in said
    assert "3-B: catch-up owed, 4: part 1; 11: part 1." in said
    assert "3-K: stays at part 1 of Paper Hills, again from the middle." in said


def test_an_untold_class_is_said_to_be_untold(book: Book) -> None:
    assert "3-B: nobody has told yet; packed next time for either answer." in close(book)


# ------------------------------------------------------------------------------------------------ who missed it


@pytest.mark.parametrize(
    ("said", "owed"),
    [
        ({"absent": (4, 11)}, (Owed(HILLS, 1, MONDAY, (4, 11)),)),
        ({"absent_count": 2}, (Owed(HILLS, 1, MONDAY, (), 2),)),
        ({"absent": (4,), "absent_count": 2}, (Owed(HILLS, 1, MONDAY, (4,), 2),)),
        ({"absences_known": False}, (Owed(HILLS, 1, MONDAY, unknown=True),)),
        ({}, ()),
    ],
    ids=["by number", "by count", "by both", "nobody could say", "nobody missing"],
)
def test_who_missed_a_part_is_owed_it(book: Book, said: dict[str, Any], owed: tuple[Owed, ...]) -> None:
    teach(book, MONDAY, "3-B", **said)
    assert after(book).owed.get("3-B", ()) == owed


def test_nobody_is_owed_a_part_that_was_not_taught(book: Book) -> None:
    teach(book, MONDAY, "3-B", "not taught", absent=(4,))
    assert after(book).owed == {"3-K": (Owed(HILLS, 1, MONDAY, unknown=True),)}


def test_an_untold_visit_owes_a_reserve(book: Book) -> None:
    assert after(book).owed["3-B"] == (Owed(HILLS, 1, MONDAY, unknown=True),)


@pytest.mark.parametrize(
    ("was", "today", "still"),  # (class-list numbers, a count without numbers)
    [
        (((4, 11), 0), {}, None),
        (((4, 11), 0), {"absent": (4,)}, ((4,), 0)),
        (((), 2), {"absent_count": 1}, ((), 1)),
        (((), 2), {"absent": (4,)}, ((), 1)),
        (((4, 11), 0), {"absent_count": 1}, ((), 1)),
        (((4, 11), 2), {"absent": (4, 7), "absent_count": 5}, ((4,), 3)),
        (((4,), 0), {"absent": (7,)}, None),
    ],
    ids=[
        "all came",
        "one of the two is absent again",
        "one is absent, of two that were counted",
        "a listed one is absent and may be one of the two that were counted",
        "one is absent and may be one of the two that were listed",
        "some listed and some counted, both times",
        "another child is absent",
    ],
)
def test_who_is_absent_when_the_kit_is_handed_out_stays_owed_at_the_worst_case(
    tmp_path: Path,
    was: tuple[tuple[int, ...], int],
    today: dict[str, Any],
    still: tuple[tuple[int, ...], int] | None,
) -> None:
    numbers, count = was
    owed = {"3-B": (Owed(HILLS, 1, FRIDAY_BEFORE, numbers, count),)}
    book = evening_with(tmp_path, owed=owed, progress={"3-B": Progress(HILLS, 2)})
    teach(book, MONDAY, "3-B", **today)
    book.do(MONDAY, HandedOut(at=at("15:06"), visit=visit_of(book.day(MONDAY), "3-B").key, given=True))
    kept = [each for each in after(book).owed.get("3-B", ()) if each.since == FRIDAY_BEFORE]
    assert kept == ([] if still is None else [Owed(HILLS, 1, FRIDAY_BEFORE, *still)])


def owed_if(book: Book, outcome: OutcomeKind) -> tuple[Owed, ...]:
    """What 3-B is owed after Monday if it ended so."""
    teach(book, MONDAY, "3-B", outcome)
    return book.closing_of(MONDAY).owed.get("3-B", ())


def test_a_reserve_rides_until_the_next_visit_that_is_told_of(tmp_path: Path) -> None:
    """Nobody could say who missed part 1: the reserve is along the next time, and not for the rest of the year."""
    unknown = Owed(HILLS, 1, FRIDAY_BEFORE, unknown=True)
    book = evening_with(tmp_path, owed={"3-B": (unknown,)}, progress={"3-B": Progress(HILLS, 2)})
    assert owed_if(book, "not taught") == (unknown,)
    assert owed_if(book, "unknown") == (unknown,)
    assert owed_if(book, "done") == ()


def test_a_kit_kept_back_owes_what_it_owed(tmp_path: Path) -> None:
    owed = (Owed(HILLS, 1, FRIDAY_BEFORE, (4, 11)),)
    book = evening_with(tmp_path, owed={"3-B": owed}, progress={"3-B": Progress(HILLS, 2)})
    teach(book, MONDAY, "3-B")
    book.do(MONDAY, HandedOut(at=at("15:06"), visit=visit_of(book.day(MONDAY), "3-B").key, given=False))
    assert after(book).owed["3-B"] == owed


def test_those_not_done_are_remembered_until_the_next_visit_that_takes_place(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path, timetable={day: {"P1": "3-B"} for day in ("Mon", "Tue", "Wed")}))
    teach(book, MONDAY, "3-B", "done except", not_done=4)
    assert after(book).unfinished == {"3-B": (Unfinished(HILLS, 1, 4, MONDAY),)}

    book.today = TUESDAY
    teach(book, TUESDAY, "3-B", "not taught")
    close(book, TUESDAY)
    wednesday = TUESDAY.replace(day=7)
    assert book.opening(wednesday).unfinished == {"3-B": (Unfinished(HILLS, 1, 4, MONDAY),)}

    book.today = wednesday
    teach(book, wednesday, "3-B")
    close(book, wednesday)
    assert book.opening(TUESDAY.replace(day=8)).unfinished == {}


# ------------------------------------------------------------------------------------------ what was used


def test_what_the_children_who_came_needed_is_taken_off_box_and_stock(book: Book) -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))  # 51
    teach(book, MONDAY, "3-B", absent=(4, 11))
    teach(book, MONDAY, "3-K")
    state = after(book)
    assert state.contents["box-3"]["white-12x18"] == 51 - 22 - 22
    assert state.on_hand["white-12x18"] == 400 - 22 - 22


def test_a_headcount_told_counts_more_than_the_list(book: Book) -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))
    teach(book, MONDAY, "3-B", students=25)
    teach(book, MONDAY, "3-K", "not taught")
    assert after(book).on_hand["white-12x18"] == 400 - 25


def test_a_visit_that_was_not_taught_uses_nothing(book: Book) -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "white-12x18")))
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id, "not taught")
    state = after(book)
    assert (state.contents["box-3"]["white-12x18"], state.on_hand["white-12x18"]) == (51, 400)


def test_tools_come_back_into_their_container(book: Book) -> None:
    teach_all(book, MONDAY)
    assert after(book).contents["cart"]["scissors"] == 30


def test_what_a_further_part_used_comes_off_the_stock_as_well(tmp_path: Path) -> None:
    state: dict[str, Any] = {"progress": {"3-B": Progress(HILLS, 1)}, "on_hand": {"white-12x18": 400, "yarn-ball": 100}}
    book = evening_with(tmp_path, **state)
    teach(book, MONDAY, "3-B", "went further", reached_part=2)
    teach(book, MONDAY, "3-K", "not taught")
    assert after(book).on_hand["white-12x18"] == 400 - 24


def test_a_box_that_held_less_than_was_used_is_empty_and_not_below(book: Book) -> None:
    teach_all(book, MONDAY)
    state = after(book)
    assert state.contents.get("box-3", {}).get("white-12x18", 0) == 0
    assert state.on_hand["white-12x18"] == 400 - 46


def test_a_count_of_the_stock_and_a_glance_are_kept_with_their_date(book: Book) -> None:
    book.do(MONDAY, CountedStock(at=at("7:30"), supply="white-12x18", count=120))
    book.do(MONDAY, FoundLevel(at=at("7:31"), supply="glue-stick", level="low"))
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id, "not taught")
    state = after(book)
    assert (state.on_hand["white-12x18"], state.counted["white-12x18"]) == (120, MONDAY)
    assert state.levels["glue-stick"] == "low"


def test_what_is_out_is_none(book: Book) -> None:
    book.do(MONDAY, FoundLevel(at=at("7:31"), supply="white-12x18", level="out"))
    assert after(book).on_hand["white-12x18"] == 0


# ------------------------------------------------------------------------------------------ places, preparation


def test_a_box_left_in_a_room_is_there_the_next_morning_and_back_when_it_is_fetched(book: Book) -> None:
    teach_all(book, MONDAY)
    book.do(MONDAY, Stands(at=at("15:08"), container="box-3", place="14", period="P2"))
    assert after(book).places == {"box-3": Place("14", MONDAY, "P2")}
    book.do(TUESDAY, Stands(at=at("7:30", TUESDAY), container="box-3", place="store"))
    close(book, TUESDAY)
    assert book.opening(TUESDAY.replace(day=7)).places == {}


def test_preparation_that_was_done_is_not_asked_for_again(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path), today=FRIDAY_BEFORE)
    (task,) = [each for each in book.day(FRIDAY_BEFORE).tasks if each.class_id == "3-B"]
    assert (task.what, task.due, task.for_date) == ("cut green strips", FRIDAY_BEFORE, MONDAY)
    book.do(FRIDAY_BEFORE, Ticked(at=at("15:00", FRIDAY_BEFORE), matter=task.key))
    close(book, FRIDAY_BEFORE)
    assert task.key in book.opening(MONDAY).prepared
    assert not any(each.key == task.key for each in book.day(MONDAY).tasks)


def test_what_was_prepared_is_forgotten_once_its_part_is_taught(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    tasks = [each for each in book.day(MONDAY).tasks if each.class_id == "3-B"]
    book.do(MONDAY, *(Ticked(at=at("7:20"), matter=each.key) for each in tasks))
    assert tasks
    teach_all(book, MONDAY)
    assert not any(key.startswith("prep/3-B/paper-hills/1") for key in after(book).prepared)
