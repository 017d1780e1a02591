"""Plan lists used in an order nobody plans for, and names that cannot be: nothing is lost, nothing private shows."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.schools import reference_school
from tests.tui.desk import at_desk
from tests.tui.test_plan_screens import go_to_row, kept, open_subject, paste


async def test_what_is_moved_stays_where_it_was_when_something_else_is_pressed(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Classes")
        await desk.press("c")  # a copy of the first one, in hand
        copied = kept(tmp_path)
        await desk.press("m down u enter")  # undo while it is carried lets go of it; Enter opens it
        assert kept(tmp_path) == copied and "Classes > K-M 2" in desk.screen
        await desk.press("escape m down h escape enter")  # help comes between
        assert kept(tmp_path) == copied
        await desk.press("escape m right left down enter")  # no other row is taken instead
        order = [each.id for each in kept(tmp_path).classes.classes]
        assert order[:3] == ["K-M", "1-P", "K-M 2"]


async def test_a_row_is_put_down_where_it_was_carried_whatever_is_archived_between(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Classes")
        for class_id in ("K-M", "2-R"):
            await desk.press("up up up up up up up")
            await go_to_row(desk, class_id)
            await desk.press("x")
        shown = [key for key in desk.rows if not key.startswith("heading")]
        assert shown == ["1-P", "3-B", "3-K", "4-D", "5-H", "K-M", "2-R"]
        await desk.press("up up up up up up up m down enter")
        assert "1-P is number 2 now" in desk.screen
        await go_to_row(desk, "5-H")
        await desk.press("m up up enter")
        await go_to_row(desk, "2-R")
        await desk.press("m up up up enter")  # the archive is not left by carrying
        shown = [key for key in desk.rows if not key.startswith("heading")]
        assert shown == ["3-B", "1-P", "5-H", "3-K", "4-D", "2-R", "K-M"]


@pytest.mark.parametrize(
    ("subject", "name", "why"),
    [
        ("Rooms", "Store", "is the name of something else"),
        ("Rooms", "12", 'There is a room "12" already'),
        ("Classes", "3-B/2", 'Write it as "3-B-2"'),
        ("Classes", "3-b", 'There is a class "3-B" already'),
        ("Bell schedules", "Regular", 'There is a bell schedule "regular" already'),
    ],
)
async def test_a_new_thing_cannot_have_a_name_that_is_taken(tmp_path: Path, subject: str, name: str, why: str) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        before = kept(tmp_path)
        await open_subject(desk, subject)
        await desk.press("a")
        await paste(desk, name)
        await desk.press("enter")
        assert why in desk.screen and f"{name}_" in desk.screen  # before anything else is asked
        assert kept(tmp_path) == before


async def test_a_new_class_can_be_in_a_room_that_is_not_in_the_plan_yet(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Classes")
        await desk.press("a")
        await paste(desk, "4-Z")
        await desk.press("enter enter 3 1 enter enter")  # grade 4, by its name; room 31 is new
        files = kept(tmp_path)
        assert files.classes.classes[-1].room == "31" and files.school.rooms[-1].id == "31"
        assert "nothing is different" in desk.screen
        await desk.press("u")
        assert "31" not in {each.id for each in kept(tmp_path).school.rooms}


@pytest.mark.parametrize("field", ["needs", "avoid"])
async def test_a_private_note_is_taken_back_on_the_list_without_a_word_of_what_it_was(
    tmp_path: Path, field: str
) -> None:
    folder = reference_school(tmp_path)
    async with at_desk(folder) as desk:
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-B")
        await desk.press("enter")
        await go_to_row(desk, field)
        await desk.press("enter a enter")
        if field == "needs":
            await desk.press("enter")  # one child
        assert "u takes it back" in desk.screen
    async with at_desk(folder) as desk:
        await desk.press("u")
        assert "Taken back: a private note about 3-B." in desk.screen


async def test_a_building_is_new_before_it_has_rooms(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Other buildings")
        await desk.press("a")
        await paste(desk, "Annex")
        await desk.press("enter")
        assert "New building Annex." in desk.screen
        await desk.press("enter")
        await go_to_row(desk, "rooms")
        await desk.press("enter a 2 1 enter")
        assert kept(tmp_path).school.buildings[0].rooms == ("21",)


async def test_the_list_tells_of_every_visit_that_falls_out_comes_in_or_has_another_room(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await open_subject(desk, "Timetable")
        await desk.press("x")
        assert "K-M does not come in P1." in desk.screen and "Box K and Watercolour kit stay" in desk.screen
        await desk.press("enter k enter escape")
        await go_to_row(desk, "Days off")
        await desk.press("enter a")
        await paste(desk, "10/5")
        await desk.press("enter enter")
        assert "K-M does not come in P1." in desk.screen
        await desk.press("u")
        assert "nothing is different" not in desk.screen and kept(tmp_path).school.days_off[1].first.day != 5
        await desk.press("escape")
        await desk.press("1 enter down down enter 2 1 enter")  # the first class
        assert "K-M is in Room 21." in desk.screen


async def test_the_same_thing_cannot_be_said_twice_and_the_last_one_cannot_go(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Walks")
        await desk.press("a enter down enter 3 enter")
        assert "That walk is in the list already." in desk.screen
        await desk.press("escape a enter enter 3 enter")
        assert "two places that are not the same" in desk.screen
        await desk.press("escape enter enter x")
        assert "There are just 2 of them." in desk.screen
        await desk.press("escape escape escape 6 a 3 enter")
        assert "That box is in the list already." in desk.screen
        assert kept(tmp_path) == before
        await desk.press("escape 4 enter")
        await go_to_row(desk, "parts")
        await desk.press("enter x x x x x x")
        assert "It is the only one, and one must be there. Say it\n otherwise" in desk.screen


async def test_no_more_children_need_something_than_the_class_has(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-B")
        await desk.press("enter")
        await go_to_row(desk, "needs")
        await desk.press("enter a enter 2 5 enter")
        assert "3-B has 24 children: 25 cannot need it." in desk.screen
        await desk.press("backspace 4 enter a enter 1 enter")
        assert "That need is in the list already." in desk.screen
        (need,) = next(each for each in kept(tmp_path).classes.classes if each.id == "3-B").needs
        assert need.count == 24


async def test_what_was_taken_out_in_an_editor_meanwhile_closes_its_form(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-K")
        await desk.press("enter down down down 2 0")
        classes = tmp_path / "classes.toml"
        classes.write_text(classes.read_text("utf-8").replace('"3-K"', '"3-X"'), "utf-8")
        await desk.press("enter")
        assert desk.in_hand == "3-X" and desk.screen.startswith(" Classes\n")
        await desk.press("enter down down down 2 0")
        classes.write_text(classes.read_text("utf-8").replace('"14"', '"21"'), "utf-8")
        await desk.press("enter")
        assert "classes.toml was changed outside this window and was read again." in desk.screen
        assert "Room 21" in desk.screen and "20_" in desk.screen
        await desk.press("enter")
        assert "3-X: children 20." in desk.screen


async def test_rows_are_laid_out_anew_when_the_window_is_made_smaller_while_something_is_typed(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Days off")
        await desk.press("a 1 0")
        await desk.resize(40, 10)
        assert "Labor Day" in desk.screen and "10_" in desk.screen
        await desk.press("slash 2 0 enter enter")
        assert "Tue 20 Oct" in desk.screen
        await desk.resize(200, 60)
        assert "Tue 20 Oct" in desk.screen and len(kept(tmp_path).school.days_off) == 3
