"""Faults that a cold look found in what is left over: containers in rooms, short lines, kits, folders, class lists.

On the small and the reference school; common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.entries import CameUpShort, PutRight, Stands, Ticked
from checklists.daybook.state import Place
from checklists.daybook.typing_in import entries_typed
from tests.days import (
    NEXT_DAY_A,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    asked_at_the_end,
    at,
    choose,
    close,
    line_of,
    opened,
    packed,
    teach,
    teach_all,
)
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_kit,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    in_the_evening,
    reference_school,
    small_school,
)

SHORT = "short/box-3/white-12x18"


def asked_before_leaving(book: Book, day: date) -> set[str]:
    return {each.key for each in before_leaving(book.day(day), book.marks(day), at("7:50", day))}


def carried(book: Book, day: date) -> dict[str, date]:
    """Key of what the day opens with -> since when."""
    return {each.key: each.since for each in book.opening(day).carried}


# --------------------------------------------------------------------------------------- where things are


@pytest.fixture
def left_on_monday(tmp_path: Path) -> Book:
    """The printing kit stayed in room 11 on Monday and is not needed on Tuesday, which has begun."""
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY)
    book.do(MONDAY, Stands(at=at("15:00"), container="printing", place="11", period="P5"))
    close(book)
    assert book.opening(TUESDAY).places["printing"].where == "11"
    book.today = TUESDAY
    return book


def test_everything_at_the_store_includes_what_was_left_the_day_before(left_on_monday: Book) -> None:
    choose(left_on_monday, TUESDAY, "places", "everything is at the store")
    close(left_on_monday, TUESDAY)
    assert left_on_monday.opening(WEDNESDAY).places == {}
    assert "left/printing" not in carried(left_on_monday, WEDNESDAY)


@pytest.mark.parametrize(("answer", "is_left"), [("at the store", False), ("still there", True)])
def test_what_was_left_the_day_before_is_asked_about_by_itself(
    left_on_monday: Book, answer: str, is_left: bool
) -> None:
    choose(left_on_monday, TUESDAY, "places", "something stayed in a room")
    assert "since Mon 5 Oct" in asked_at_the_end(left_on_monday, TUESDAY)["place/printing"].text
    choose(left_on_monday, TUESDAY, "place/printing", answer)
    assert asked_at_the_end(left_on_monday, TUESDAY)["place/printing"].answer
    close(left_on_monday, TUESDAY)
    assert ("printing" in left_on_monday.opening(WEDNESDAY).places) == is_left
    assert carried(left_on_monday, WEDNESDAY).get("left/printing") == (MONDAY if is_left else None)


def test_one_answer_is_enough_where_everything_came_back(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY)
    asked = [key for key in asked_at_the_end(book, MONDAY) if key.startswith("place")]
    assert asked == ["places"]


def test_where_something_stayed_every_container_that_went_out_can_be_named(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY)
    choose(book, MONDAY, "places", "something stayed in a room")
    day = book.day(MONDAY)
    went_out = {each.id for each in day.containers if each.kind != "cart" and each.visits}
    asked = asked_at_the_end(book, MONDAY)
    assert {key.removeprefix("place/") for key in asked if key.startswith("place/")} == went_out
    last_room = {visit.key: visit.room for visit in day.visits}
    for container in sorted(went_out):
        room = last_room[next(each for each in day.containers if each.id == container).visits[-1]]
        choose(book, MONDAY, f"place/{container}", f"stayed in Room {room}")
        assert book.closing_of(MONDAY).places[container].where == room


def test_a_container_known_to_be_in_a_room_is_at_the_store_when_everything_is(tmp_path: Path) -> None:
    """Also where no carried matter speaks of it any more."""
    school = in_the_evening(reference_school(tmp_path), places={"stitching": Place("21", FRIDAY_BEFORE)})
    book = opened(school)
    teach_all(book, MONDAY)
    choose(book, MONDAY, "places", "everything is at the store")
    assert book.closing_of(MONDAY).places == {}


def test_a_box_left_in_another_room_is_left_since_that_day(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY)
    book.do(MONDAY, Stands(at=at("15:00"), container="box-3", place="14"))
    close(book)
    book.today = TUESDAY
    book.do(TUESDAY, Stands(at=at("7:30", TUESDAY), container="box-3", place="store"))
    book.do(TUESDAY, Stands(at=at("15:00", TUESDAY), container="box-3", place="12"))
    close(book, TUESDAY)
    assert carried(book, WEDNESDAY)["left/box-3"] == TUESDAY
    assert book.opening(WEDNESDAY).places["box-3"].where == "12"


# ------------------------------------------------------------------------------------------------ what is short


def short_on_monday(folder: Path) -> Book:
    """20 of 51 white sheets on Monday, both classes taught; 3-K comes on Tuesday too. It is Tuesday."""
    timetable = {"Mon": {"P1": "3-B"}, "Tue": {"P1": "3-K"}}
    book = opened(small_school(folder, timetable=timetable))
    book.do(MONDAY, CameUpShort(at=at("7:40"), line=line_of(book.day(MONDAY), "white-12x18").key, count=20))
    teach_all(book, MONDAY)
    close(book)
    book.today = TUESDAY
    assert carried(book, TUESDAY)[SHORT] == MONDAY
    return book


def test_a_short_matter_ticked_done_stays_done_though_its_line_came_up_short_again(tmp_path: Path) -> None:
    book = short_on_monday(tmp_path)
    book.do(TUESDAY, CameUpShort(at=at("7:40", TUESDAY), line="box-3/white-12x18", count=10))
    teach_all(book, TUESDAY)
    book.do(TUESDAY, Ticked(at=at("15:09", TUESDAY), matter=SHORT))
    close(book, TUESDAY)
    assert SHORT not in carried(book, WEDNESDAY)


def test_it_is_there_again_where_the_line_came_up_short_after_the_tick(tmp_path: Path) -> None:
    book = short_on_monday(tmp_path)
    book.do(TUESDAY, Ticked(at=at("7:30", TUESDAY), matter=SHORT))
    book.do(TUESDAY, CameUpShort(at=at("7:40", TUESDAY), line="box-3/white-12x18", count=10))
    teach_all(book, TUESDAY)
    close(book, TUESDAY)
    assert carried(book, WEDNESDAY)[SHORT] == TUESDAY


def test_it_is_no_longer_asked_before_leaving_once_its_line_is_packed(tmp_path: Path) -> None:
    book = short_on_monday(tmp_path)
    assert SHORT in asked_before_leaving(book, TUESDAY)
    book.do(TUESDAY, packed(line_of(book.day(TUESDAY), "white-12x18"), day=TUESDAY))
    assert SHORT not in asked_before_leaving(book, TUESDAY)
    assert asked_at_the_end(book, TUESDAY)[SHORT].answer == "done"


def test_packing_a_catch_up_kit_does_not_end_what_is_short_of_the_same_supply(tmp_path: Path) -> None:
    parts = [a_part("fold", [an_item("white-12x18")]), a_part("glue", [an_item("glue-stick")])]
    book = opened(small_school(tmp_path, lessons=[a_lesson("fold", parts)], teaching={"3": ["fold"]}))
    book.do(MONDAY, CameUpShort(at=at("7:40"), line="box-3/white-12x18", count=20))
    teach(book, MONDAY, "3-B", absent=(4,))
    teach(book, MONDAY, "3-K")
    close(book)
    book.today = THURSDAY
    book.do(THURSDAY, packed(line_of(book.day(THURSDAY), "white-12x18", catch_up_for="3-B"), day=THURSDAY))
    assert SHORT in asked_before_leaving(book, THURSDAY)
    close(book, THURSDAY)
    assert carried(book, date(2026, 10, 9))[SHORT] == MONDAY


def test_a_folder_is_never_short(tmp_path: Path) -> None:
    lesson = a_lesson("long", [a_part(f"part {n}", [an_item("yarn-ball")]) for n in (1, 2, 3)])
    book = opened(
        small_school(
            tmp_path,
            lessons=[lesson],
            teaching={"3": ["long"]},
            supplies=[a_supply("yarn-ball"), a_supply("scissors", kind="tool")],
        )
    )
    teach_all(book, MONDAY)
    close(book)
    book.today = THURSDAY
    folder = line_of(book.day(THURSDAY), "folder 3-B")
    book.do(THURSDAY, CameUpShort(at=at("7:40", THURSDAY), line=folder.key, count=0, remedy="fetch"))
    teach_all(book, THURSDAY)
    close(book, THURSDAY)
    assert not any(key.startswith("short/") for key in carried(book, date(2026, 10, 9)))


# ---------------------------------------------------------------------------------- kits, and class lists


def test_a_kit_not_put_right_can_be_answered_though_its_lesson_was_not_taught(tmp_path: Path) -> None:
    kits = [
        a_kit("stitching", {"blunt-needle": 30}, reset="count the needles"),
        a_kit("watercolour", {"fish-brush": 24, "fish-pans": 12, "fish-cup": 12}),
        a_kit("printing", {"brayer": 6}),
        a_kit("clay", {"clay-mat": 30}),
    ]
    book = opened(reference_school(tmp_path, kits=kits))
    teach_all(book, MONDAY)
    close(book)
    book.today = NEXT_DAY_A
    for class_id in ("3-B", "3-K"):
        teach(book, NEXT_DAY_A, class_id, "not taught")
    key = "put right/stitching"
    asked = asked_at_the_end(book, NEXT_DAY_A)[key]
    assert "since Mon 5 Oct" in asked.text
    assert asked.answer == ""
    choose(book, NEXT_DAY_A, key, "done")
    assert asked_at_the_end(book, NEXT_DAY_A)[key].answer == "done"
    close(book, NEXT_DAY_A)
    assert key not in carried(book, date(2026, 10, 15))


def test_a_kit_put_right_on_the_way_is_not_asked_about(tmp_path: Path) -> None:
    kits = [a_kit("stitching", {"blunt-needle": 30}, reset="count the needles")]
    lessons = [a_lesson("sew", [a_part("sew", [an_item("blunt-needle")])] * 3, kits=["stitching"])]
    supplies = [a_supply("blunt-needle", kind="tool"), a_supply("scissors", kind="tool")]
    school = small_school(tmp_path, kits=kits, lessons=lessons, supplies=supplies, teaching={"3": ["sew"]}, boxes=[])
    book = opened(school)
    teach_all(book, MONDAY)
    close(book)
    assert carried(book, TUESDAY) == {"put right/stitching": MONDAY}
    book.do(TUESDAY, PutRight(at=at("7:30", TUESDAY), container="stitching", done=True))
    assert "put right/stitching" not in asked_before_leaving(book, TUESDAY)
    assert asked_at_the_end(book, TUESDAY)["put right/stitching"].answer == "done"


@pytest.mark.parametrize(
    ("typed", "is_known"), [("24", True), ("33", True), ("34", False), ("240", False), ("4 99", False)]
)
def test_a_number_far_beyond_the_class_list_is_refused_in_words(tmp_path: Path, typed: str, is_known: bool) -> None:
    """Numbers never shift when a child leaves, so that a class of 24 may well have a number 30."""
    book = opened(small_school(tmp_path))
    said = entries_typed(asked_at_the_end(book, MONDAY)["missed/P1 3-B"], typed, at("15:01"))
    assert isinstance(said, str) != is_known
    if isinstance(said, str):
        assert said == f"There is no number {typed.split()[-1]} on the list of a class of 24."
