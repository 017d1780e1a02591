"""Everything of the plan changed on screen, by keys alone: written at once, taken back by one key, told on the list."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec import structs
from textual import events

from checklists.book import Book
from checklists.files.plan_check import parts_by_file
from checklists.forms.fields import fields_of_form
from checklists.plan.plan_files import PlanFiles
from checklists.words import clean
from tests.schools import MONDAY, reference_school
from tests.tui.desk import AT_7_41, Desk, at_desk, go_to_row, open_subject
from tui.screens.plan_asking import PlanAskingScreen
from tui.screens.plan_form import PlanFormScreen
from tui.screens.plan_list import PlanListScreen

BELL_SCHEDULES, ROOMS, WALKS = "Bell schedules", "Rooms", "Walks"


async def type_in(desk: Desk, text: str) -> None:
    """Type a text sign by sign."""
    names = {" ": "space", "-": "minus", "/": "slash", ":": "colon", ".": "full_stop", "'": "apostrophe", ",": "comma"}
    await desk.press(" ".join(names.get(sign, sign) for sign in text))


async def paste(desk: Desk, text: str) -> None:
    desk.app.screen.post_message(events.Paste(text))
    await desk.pilot.pause()


def kept(folder: Path) -> PlanFiles:
    """The plan as the files have it now, with nothing wrong in it."""
    with Book.open(folder, write=False) as book:
        assert not [each for each in book.problems if each.level == "grave"]
        return book.plan_files


def lines_of(desk: Desk) -> dict[str, int]:
    return {line.key: line.need for line in desk.book.day(MONDAY).lines}


async def test_a_class_grows_and_todays_list_says_at_once_what_follows(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-B")
        await desk.press("enter")
        await go_to_row(desk, "students")
        await desk.press("3 0")
        assert "Children? 30_" in desk.screen
        await desk.press("enter")
        assert kept(tmp_path).classes.classes != before.classes.classes
        assert "3-B: children 30. u takes it back." in desk.screen
        assert "On the list of Mon 5 Oct" in desk.screen and "yarn ball" in desk.screen
        await desk.press("u")
        assert kept(tmp_path) == before and "Taken back: 3-B: children 30." in desk.screen


async def test_while_it_is_typed_it_is_said_what_cannot_be(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, BELL_SCHEDULES)
        await desk.press("enter down enter enter")  # regular, its periods, the first one
        await go_to_row(desk, "end")
        await desk.press("2 9")
        assert "A time of day is typed 8:05" in desk.screen
        await desk.press("backspace backspace 7 3 0")
        assert "A time of day" not in desk.screen
        await desk.press("enter")  # a time, but before it begins
        assert "It ends at 7:30, and begins at 8:00." in desk.screen
        assert "7 3 0_".replace(" ", "") in desk.screen
        await desk.press("escape")
        assert "Left as it was." in desk.screen
        assert kept(tmp_path).school.bells[0].periods[0].end == "8:45"


async def test_a_lesson_started_from_a_usual_one_gets_another_part_with_a_new_supply(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        lessons = {each.id for each in kept(tmp_path).lessons}
        await open_subject(desk, "Lessons")
        await desk.press("a c l a enter")  # add: the first letters of a usual lesson
        (new,) = {each.id for each in kept(tmp_path).lessons} - lessons
        assert desk.in_hand == new
        await desk.press("enter")
        await go_to_row(desk, "parts")
        await desk.press("enter a")
        await type_in(desk, "glaze it")
        await desk.press("enter")
        await desk.press("enter")  # the new part is in hand
        await go_to_row(desk, "items")
        await desk.press("enter a")
        await type_in(desk, "sea salt")
        await desk.press("enter")  # new: nothing else is called so
        await desk.press("enter 3 enter enter")  # a material; 3; for each child
        await desk.press("escape escape escape escape")
        files = kept(tmp_path)
        lesson = next(each for each in files.lessons if each.id == new)
        item = lesson.parts[-1].items[0]
        assert (lesson.parts[-1].title, item.supply, item.count, item.per) == ("glaze it", "sea-salt", 3, "student")
        assert next(each for each in files.supplies if each.id == "sea-salt").name == "sea salt"


async def test_what_uses_a_thing_is_said_before_it_is_touched_and_stops_it_from_going(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "Supplies")
        await go_to_row(desk, "yarn-ball")
        before = kept(tmp_path)
        await desk.press("x")
        assert "Burlap Birds" in desk.screen
        assert kept(tmp_path) == before
        await desk.press("w")
        assert "Burlap Birds, part 2" in desk.screen
        await desk.press("b enter")
        assert "Used: Burlap Birds" in desk.screen


async def test_the_order_of_lessons_is_changed_by_carrying_one_along(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "What each grade is taught")
        await go_to_row(desk, "3")
        await desk.press("enter a down enter")
        two = kept(tmp_path).classes.teaching["3"]
        assert len(two) == 2
        await desk.press("m up enter")
        assert kept(tmp_path).classes.teaching["3"] == two[::-1]
        await desk.press("u u")
        assert kept(tmp_path).classes.teaching["3"] == two[:1]


async def test_the_timetable_is_filled_one_period_after_the_other(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(60, 20)) as desk:
        await open_subject(desk, "Timetable")
        await go_to_row(desk, "B\nP1")
        await desk.press("enter 3 minus b enter enter 4 enter x")
        assert kept(tmp_path).classes.timetable["B"] == {"P1": "3-B", "P2": "4-D"}
        await go_to_row(desk, "C\nP1")
        await desk.press("c b enter")
        assert kept(tmp_path).classes.timetable["C"] == {"P1": "3-B", "P2": "4-D"}
        await desk.press("x u u")
        assert "C" not in kept(tmp_path).classes.timetable


async def test_a_class_moves_into_a_room_that_is_new(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-B")
        await desk.press("enter")
        await go_to_row(desk, "room")
        await desk.press("enter 3 1 enter")
        files = kept(tmp_path)
        assert next(each.room for each in files.classes.classes if each.id == "3-B") == "31"
        assert files.school.rooms[-1].id == "31" and "3-B is in Room 31." in desk.screen
        await desk.press("u")
        assert kept(tmp_path) == before


async def test_a_field_put_back_leaves_the_one_before_as_it_was_said(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-B")
        await desk.press("enter")
        await go_to_row(desk, "adults")
        await desk.press("2 enter")
        await go_to_row(desk, "room")
        await desk.press("enter 3 1 enter")  # a room that is made on the way
        await go_to_row(desk, "adults")
        await desk.press("x")
        class_ = next(each for each in kept(tmp_path).classes.classes if each.id == "3-B")
        assert (class_.room, class_.adults) == ("31", 1)
        await desk.press("u u u")
        assert kept(tmp_path) == before


async def test_where_a_class_is_can_be_said_and_the_list_follows(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, "What each grade is taught")
        await go_to_row(desk, "class 5-H")
        assert "Paper Masks, part 2" in desk.screen
        await desk.press("enter")
        assert "Paper Masks, part 1: " in desk.screen and "Paper Masks, part 2: " in desk.screen, "none is cut short"
        await desk.press("enter")  # the first part of the grade's first lesson
        assert next(visit for visit in desk.book.day(MONDAY).visits if visit.class_id == "5-H").steps[0].part == 1
        assert "5-H        Paper Masks, part 1" in desk.screen
        assert "5-H is at Paper Masks, part 1. u takes it back." in desk.screen
        assert "On the list of Mon 5 Oct" in desk.screen
        await desk.press("u")
        assert "5-H        Paper Masks, part 2" in desk.screen


async def test_a_line_leads_to_everything_about_its_supply_its_lesson_and_its_class(tmp_path: Path) -> None:
    async with at_desk(tmp_path, size=(120, 40)) as desk:
        await desk.go_to("stitching/blunt-needle")
        for page in ("all of the supply", "all of burlap-birds", "all of 3-B"):
            await desk.press("slash")
            await go_to_row(desk, page)
            await desk.press("enter")
            assert isinstance(desk.app.screen, PlanFormScreen)
            await desk.press("escape")


async def test_a_supply_that_comes_with_the_program_is_hers_once_she_changes_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Supplies")
        await go_to_row(desk, "sponge")
        await desk.press("enter")
        await go_to_row(desk, "shelf")
        await desk.press("enter")
        await type_in(desk, "b2")
        await desk.press("enter")
        hers = {each.id: each for each in kept(tmp_path).supplies}
        assert hers["sponge"].shelf == "b2" and len(hers) == len(before.supplies) + 1
        await desk.press("u")
        assert kept(tmp_path) == before


async def test_a_box_nobody_has_described_is_there_and_written_once_it_is(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    with Book.open(folder) as book:
        files = book.plan_files
        book.change_files(structs.replace(files, kits=structs.replace(files.kits, boxes=())), "no boxes", AT_7_41)
    async with at_desk(folder) as desk:
        before = kept(folder)
        await open_subject(desk, "Boxes")
        await go_to_row(desk, "3")
        await desk.press("enter")
        await go_to_row(desk, "shelf")
        await desk.press("enter")
        await type_in(desk, "s1")
        await desk.press("enter")
        assert [(each.grade, each.shelf) for each in kept(folder).kits.boxes] == [("3", "s1")]
        await desk.press("u")
        assert kept(folder) == before


async def test_another_rotation_takes_the_timetable_along(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "School year and rotation")
        await go_to_row(desk, "rotation")
        await desk.press("enter enter 1")
        files = kept(tmp_path)
        assert files.school.rotation.days == () and files.classes.timetable["Mon"] == before.classes.timetable["A"]
        await desk.press("u")
        assert kept(tmp_path) == before


async def test_a_class_renamed_keeps_its_place_and_what_was_ticked(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("enter")
        packed = [key for key, state in desk.states().items() if state == "packed"]
        at = desk.book.opening(MONDAY).progress["3-B"]
        await open_subject(desk, "Classes")
        await go_to_row(desk, "3-B")
        await desk.press("n 3 minus h a l e enter")  # the first sign takes the place of the name there was
        assert "3-hale" in desk.screen
        assert desk.book.opening(MONDAY).progress["3-hale"] == at
        assert [key for key, state in desk.states().items() if state == "packed"] == packed
        await desk.press("u")
        assert "3-B" in desk.book.plan.class_by_id


async def test_a_lesson_in_the_archive_is_offered_nowhere_and_comes_back(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Lessons")
        await go_to_row(desk, "paper-masks")
        await desk.press("x")
        assert "is in the archive" in desk.screen
        assert "paper-masks" not in kept(tmp_path).classes.teaching.get("5", ())
        await desk.press("y")
        assert "is in use again" in desk.screen
        await desk.press("u u")
        assert kept(tmp_path) == before


async def test_a_change_is_taken_back_after_the_window_was_closed(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        before = kept(tmp_path)
        await open_subject(desk, "Days off")
        await desk.press("a")
        await type_in(desk, "11/20")
        await desk.press("enter enter")
        assert len(kept(tmp_path).school.days_off) == len(before.school.days_off) + 1
    async with at_desk(tmp_path) as desk:
        await desk.press("u")
        assert "Taken back: new day off Fri 20 Nov" in desk.screen
        assert kept(tmp_path) == before


ODD = "[bold]a[/] \"b\" 'c' \\d \x1b[31me \u202ef ملعقة 🎨 {g} $h"


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_every_form_and_list_is_gone_through_by_keys_with_odd_text_in_every_field(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    folder = reference_school(tmp_path)
    async with at_desk(folder, size=size) as desk:
        for subject in subjects():
            await open_subject(desk, subject)
            await look_through(desk, depth=0, keep=size == (80, 24))
            while type(desk.app.screen).__name__ != "MorningScreen":
                await desk.press("escape")
    said = "".join(str(part) for part in parts_by_file(kept(folder)).values())
    assert size == (60, 20) or clean(ODD) in said.replace("\\\\", "\\").replace("\\'", "'")


def subjects() -> Iterator[str]:
    from tui.screens.plan_subjects import SUBJECTS

    yield from (each.label for each in SUBJECTS if each.place)


async def look_through(desk: Desk, depth: int, *, keep: bool) -> None:
    """Each field of the first entry: opened, typed into, kept or left; nothing is cut off that says what to do."""
    screen = desk.app.screen
    assert_keys_in_sight(desk)
    if isinstance(screen, PlanListScreen):
        if screen.of_records and screen.steps:
            await desk.press("enter")
            await look_through(desk, depth + 1, keep=keep)
        await desk.press("escape")
        return
    assert isinstance(screen, PlanFormScreen)
    asked: set[str] = set()
    for field in fields_of_form(type(screen.value)):
        await go_to_row(desk, field.name)
        if field.way in ("list", "several", "counts", "record"):
            is_said = getattr(screen.value, field.name) is not None
            if is_said and depth < 5:
                await desk.press("enter")
                await look_through(desk, depth + 1, keep=keep)
            continue
        if not keep and field.way in asked and field.way != "text":  # asked in the same words and width before
            continue
        asked.add(field.way)
        await desk.press("enter")
        assert_keys_in_sight(desk)
        if field.way == "text" and not field.is_own_name:
            assert isinstance(desk.app.screen, PlanAskingScreen)
            await paste(desk, ODD)
            assert "[bold]a[/]" in desk.screen
            await desk.press("enter" if keep else "escape")
            assert (getattr(screen.value, field.name) == " ".join(clean(ODD).split())) == keep
        else:
            await desk.press("escape")
        assert desk.app.screen is screen
    await desk.press("escape")


def assert_keys_in_sight(desk: Desk) -> None:
    last = desk.screen.splitlines()[-1]
    assert any(word in last for word in ("back", "Esc", "Enter", " 1 ", " 2 ", " 3 ")), desk.screen
    assert "Traceback" not in desk.screen


async def test_a_grade_without_lessons_opens_only_where_its_list_can_be_written(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        files = desk.book.plan_files
        teaching = {grade: each for grade, each in files.classes.teaching.items() if grade != "2"}
        files = structs.replace(files, classes=structs.replace(files.classes, teaching=teaching))
        desk.book.change_files(files, "nothing for grade 2", AT_7_41)
        desk.book.only_look("Another window writes here.")
        await open_subject(desk, "What each grade is taught")
        await go_to_row(desk, "2")
        await desk.press("enter")
        assert "Another window writes here." in desk.screen and desk.in_hand == "2"


async def test_nothing_pasted_into_a_question_steers_the_terminal(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await open_subject(desk, ROOMS)
        await desk.press("a")
        await paste(desk, "\x1b[31mArt\u202e")
        typed = desk.app.screen.typed  # type: ignore[attr-defined]
        assert "Art" in typed and clean(typed) == typed
