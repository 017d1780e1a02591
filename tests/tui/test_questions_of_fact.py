"""What nobody has said and the list turns on is asked on top of it: one key answers, once, and never again."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.state import Progress
from checklists.plan.records import Room
from tests.days import TUESDAY, at, close, opened, teach_all
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_class,
    a_lesson,
    a_part,
    a_room,
    an_item,
    in_the_evening,
    small_school,
    write_toml,
)
from tests.tui.desk import at_desk


def painting(folder: Path, *, students: int | str = 24, tags: tuple[str, ...] = ("demo",)) -> Path:
    """3-B comes to Room 12 on Monday and on Tuesday; its two parts have these tags. No room is known."""
    parts = [a_part(f"part {n}", [an_item("white-12x18")], tags=list(tags)) for n in (1, 2)]
    small_school(
        folder,
        lessons=[a_lesson("paint", parts)],
        teaching={"3": ["paint"]},
        classes=[a_class("3-B", room="12", students=students)],
        timetable={"Mon": {"P1": "3-B"}, "Tue": {"P1": "3-B"}},
    )
    school = tomllib.loads((folder / "school.toml").read_text(encoding="utf-8"))
    write_toml(folder / "school.toml", {**school, "rooms": []})
    return folder


def room_12(folder: Path) -> Room | None:
    with Book.open(folder, write=False) as book:
        return book.plan.room_by_id.get("12")


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_one_key_answers_and_what_follows_stands_below_the_list_with_the_cursor_where_it_was(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with at_desk(painting(tmp_path), size=size) as desk:
        assert "Room 12, V1 3-B: is there a projector?" in desk.screen and "y yes" in desk.screen
        in_hand = desk.in_hand
        await desk.press("y")
        assert room_12(tmp_path) == Room("12", projector=True)
        assert desk.in_hand == in_hand
        assert "Room 12 has a projector. u takes it back." in desk.screen
        assert "document camera" in desk.screen
        assert "is there a projector?" not in desk.screen
        await desk.press("down")
        assert "u takes it back" not in desk.screen


async def test_no_is_a_key_as_well_and_u_takes_the_answer_back_so_that_it_is_asked_again(tmp_path: Path) -> None:
    async with at_desk(painting(tmp_path)) as desk:
        await desk.press("m")
        assert room_12(tmp_path) == Room("12", projector=False)
        await desk.press("u")
        assert room_12(tmp_path) is None
        assert "is there a projector?" in desk.screen


async def test_later_is_not_asked_again_that_day_also_after_a_restart_but_on_the_next(tmp_path: Path) -> None:
    painting(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press("semicolon")
        assert "is there a projector?" not in desk.screen
        assert room_12(tmp_path) is None
    async with at_desk(tmp_path, now=at("12:00")) as desk:
        assert "is there a projector?" not in desk.screen
        await desk.press("u")
        assert "Taken back: room 12, projector: not asked again that day" in desk.screen
        assert "is there a projector?" in desk.screen
        await desk.press("semicolon")
    with Book.open(tmp_path, today=TUESDAY) as book:
        assert [each.fact for each in book.facts_asked(TUESDAY)] == ["projector"]


async def test_several_are_asked_one_after_the_other_and_places_are_typed(tmp_path: Path) -> None:
    async with at_desk(painting(tmp_path, tags=("watercolour",))) as desk:
        assert "is there a sink? (2 more to ask)" in desk.screen
        await desk.press("m")
        assert "is the floor carpeted? (1 more to ask)" in desk.screen
        await desk.press("m")
        assert "how many wet sheets can lie there to dry?" in desk.screen
        await desk.press("y 9 9 9")
        assert "0 to 500" in desk.screen
        await desk.press("enter")
        assert room_12(tmp_path) == Room("12", sink=False, carpet=False)
        await desk.press("backspace backspace backspace 1 2 enter")
        assert room_12(tmp_path) == Room("12", sink=False, carpet=False, drying_places=12)
        assert " ? " not in desk.screen


async def test_a_number_typed_on_the_list_can_be_for_the_question(tmp_path: Path) -> None:
    async with at_desk(painting(tmp_path, tags=("watercolour",))) as desk:
        await desk.press("m m 1 2")
        assert "12_ y: for the question" in desk.screen
        await desk.press("y")
        assert room_12(tmp_path) == Room("12", sink=False, carpet=False, drying_places=12)
        assert not desk.entries()


async def test_a_room_that_needs_nothing_of_what_is_unknown_is_not_asked_about(tmp_path: Path) -> None:
    async with at_desk(painting(tmp_path, tags=("drawing",))) as desk:
        assert "more to ask" not in desk.screen and "is there" not in desk.screen
        before = desk.screen
        await desk.press("y m semicolon")
        assert desk.screen == before
        assert desk.entries() == 0


async def test_a_class_of_about_so_many_is_asked_at_its_second_visit_and_y_says_that_it_is_right(
    tmp_path: Path,
) -> None:
    painting(tmp_path, students="about 24", tags=("drawing",))
    async with at_desk(tmp_path) as desk:
        assert "is that right?" not in desk.screen
    in_the_evening(tmp_path, MONDAY, progress={"3-B": Progress("paint", 2, taught_on=MONDAY)})
    async with at_desk(tmp_path, now=at("7:41", TUESDAY)) as desk:
        assert "3-B, V1: 24 children, is that right?" in desk.screen
        await desk.press("y")
        assert desk.book.plan.class_by_id["3-B"].students == 24
        await desk.press("u m 2 x")
        assert "A number of children is written 25" in desk.screen
        await desk.press("backspace 6 enter")
        assert desk.book.plan.class_by_id["3-B"].students == 26
        assert "is that right?" not in desk.screen


async def test_a_visit_nobody_told_of_comes_first_and_the_room_is_asked_after_it(tmp_path: Path) -> None:
    painting(tmp_path)
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
    async with at_desk(tmp_path, now=at("7:41", TUESDAY)) as desk:
        assert "done? (1 more to ask)" in desk.screen
        await desk.press("y")
        assert "is there a projector?" in desk.screen
        await desk.press("y")
        assert room_12(tmp_path) == Room("12", projector=True)


def test_where_the_rooms_are_known_nothing_is_worked_out(tmp_path: Path) -> None:
    known = a_room("12", sink=True, carpet=False, projector=True, drying_places=30)
    facts = {"name": "S", "first_day": FRIDAY_BEFORE, "last_day": TUESDAY, "rooms": [known, {**known, "id": "14"}]}
    periods = [{"name": "P1", "start": "8:00", "end": "8:45"}, {"name": "P2", "start": "8:50", "end": "9:35"}]
    small_school(tmp_path, school={**facts, "bells": [{"id": "regular", "periods": periods}]})
    with Book.open(tmp_path, today=MONDAY) as book:
        assert book.facts_asked(MONDAY) == ()
        assert not book._asked


def test_a_day_that_is_closed_or_past_asks_nothing(tmp_path: Path) -> None:
    with opened(painting(tmp_path)) as book:
        assert book.facts_asked(MONDAY)
        teach_all(book, MONDAY)
        close(book)
        assert book.facts_asked(MONDAY) == ()
        assert book.facts_asked(TUESDAY)
        book.today = TUESDAY
        assert book.facts_asked(MONDAY) == ()
