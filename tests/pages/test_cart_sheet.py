"""What the cart sheet says of the reference school's day A. Quantities and minutes: common practice, no source."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import Changed, Guests, NotNeeded, Packed, Stands
from checklists.daybook.state import Owed, Place, Unfinished, Unsure
from checklists.pages.cart_sheet_html import cart_sheet_html
from checklists.pages.cart_sheet_records import Counted, FolderAlong, TableThing
from checklists.pages.cart_sheet_text import cart_sheet_text
from checklists.pages.cart_sheet_words import say_along, say_leave, say_way
from checklists.sheets import sheet_of
from tests.days import TUESDAY_13, at, line_of, opened
from tests.packing_schools import school_one_adult_short
from tests.pages.sheets import block_of, monday_sheet
from tests.schools import FRIDAY_BEFORE, MONDAY, a_class, in_the_evening, reference_school, small_school

CLASSES = {"K-M": "4", "1-P": "9", "3-B": "12", "3-K": "14", "2-R": "11", "4-D": "21", "5-H": "23"}
STUDENTS = (20, 22, 24, 25, 23, 26, 27)


def school_with(tmp_path: Path, class_id: str, **facts: Any) -> Path:
    """The reference school, with something more known of one class."""
    return reference_school(
        tmp_path,
        classes=[
            a_class(each, room=room, **({"students": students} | (facts if each == class_id else {})))
            for (each, room), students in zip(CLASSES.items(), STUDENTS, strict=True)
        ],
    )


def test_the_head_says_which_day_it_is_and_when_to_leave(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    assert (sheet.school, sheet.date, sheet.day_name, sheet.bells) == (
        "Tansy Hollow Elementary",
        MONDAY,
        "A",
        "regular",
    )
    assert sheet.leave_by == 7 * 60 + 52  # the bell at 8:00, less 2 min of walk, 4 to set up, 2 of slack


def test_a_visit_has_its_time_room_children_and_part(tmp_path: Path) -> None:
    visit = block_of(monday_sheet(reference_school(tmp_path)), "3-B")
    assert (visit.number, visit.start, visit.end, visit.room) == (3, 9 * 60 + 35, 10 * 60 + 20, "12")
    assert (visit.students, visit.about, visit.tables) == (24, False, 6)
    assert [(part.lesson, part.part, part.parts, part.title) for part in visit.taught] == [
        ("Burlap Birds", 2, 4, "stitch the outline")
    ]
    assert (visit.from_room, visit.walk, visit.gap) == ("9", 1, 5)
    assert [(each.name, each.sign) for each in visit.along] == [("Box 3", "yellow triangle"), ("Stitching kit", "")]


def test_what_is_counted_out_is_told_with_the_numbers_of_the_list(tmp_path: Path) -> None:
    folder = reference_school(tmp_path)
    sheet = monday_sheet(folder)
    with Book.open(folder, write=False, today=MONDAY) as book:
        day = book.day(MONDAY)
    scissors, needles = line_of(day, "scissors").number, line_of(day, "blunt-needle").number
    # 24 children in pairs are 12 and 1 spare; needles for 24 and the larger of 1 and 5 %, rounded up: 2.
    assert block_of(sheet, "3-B").counted == (
        Counted((scissors,), "scissors", "scissors", 13),
        Counted((needles,), "blunt-needle", "blunt needle", 26),
    )
    outs = {block.class_id: [each.out for each in block.counted if each.supply == "scissors"] for block in sheet.visits}
    assert outs == {"K-M": [], "1-P": [], "3-B": [13], "3-K": [14], "2-R": [], "4-D": [], "5-H": [29]}
    assert [block.number for block in sheet.visits] == [visit.number for visit in day.visits]


def test_every_number_on_the_sheet_is_that_of_the_list(tmp_path: Path) -> None:
    folder = school_with(tmp_path, "3-B", needs=[{"need": "fine-motor", "count": 2, "tables": [3]}])
    with Book.open(folder, write=False, today=MONDAY) as book:
        named = {line.number: line.name for line in book.day(MONDAY).lines}
    sheet = monday_sheet(folder)
    told = [(n, each.name) for block in sheet.visits for each in block.counted for n in each.numbers]
    told += [(each.number, each.name) for block in sheet.visits for each in (*block.trays, *block.at_tables)]
    told += [(each.number, f"class folder {each.class_id}") for block in sheet.visits for each in block.folders]
    assert len(told) > 15
    assert all(named[number] == name for number, name in told)


def test_cleaning_up_begins_by_how_wet_the_work_is_the_grade_and_the_sink(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    before_the_end = {block.class_id: block.end - block.clean_up_from for block in sheet.visits}
    assert before_the_end == {
        "K-M": 7 + 2,  # watercolour in kindergarten
        "1-P": 5 + 2 + 2,  # cutting in grade 1 without a sink
        "3-B": 5,
        "3-K": 5 + 2,  # no sink
        "2-R": 9 + 2,  # print without a sink
        "4-D": 9,  # clay
        "5-H": 5 + 2,
    }


def test_in_the_morning_and_at_lunch_the_cart_takes_four_boxes_worth_each(tmp_path: Path) -> None:
    morning, midday = monday_sheet(reference_school(tmp_path)).stops
    first = {"Box K", "Box 1", "Box 3", "Watercolour kit", "Stitching kit"}
    assert {each.name for each in morning.on} == first
    assert (morning.off, morning.since, morning.leave_by) == ((), None, 7 * 60 + 52)
    assert set(midday.off) == first
    assert {each.name for each in midday.on} == {"Box 2", "Box 4", "Box 5", "Printing kit", "Clay kit"}
    assert (midday.before_visit, midday.breaks) == (5, ("lunch", "planning"))
    assert (midday.since, midday.leave_by) == (11 * 60 + 12, 12 * 60 + 22)
    assert {(each.half_slots, each.holds, each.too_much) for each in (morning, midday)} == {(8, 8, False)}


def test_after_a_break_at_the_store_she_comes_from_there(tmp_path: Path) -> None:
    visit = block_of(monday_sheet(reference_school(tmp_path)), "2-R")
    assert (visit.from_room, visit.walk, visit.gap) == ("", 2, None)


def test_three_folders_lie_on_top_and_the_sheet_says_where_the_fourth_is(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    rides_in = {block.class_id: [each.container for each in block.folders] for block in sheet.visits}
    assert rides_in == {class_id: ["Box 3" if class_id == "3-K" else ""] for class_id in CLASSES}
    assert block_of(sheet, "3-B").folders == (FolderAlong("3-B", 28, ""),)


def test_adapted_things_stand_by_table_and_take_the_place_of_ordinary_ones(tmp_path: Path) -> None:
    needs = [
        {"need": "fine-motor", "count": 2, "tables": [3]},
        {"need": "english-learner", "count": 2, "tables": [5, 1]},
    ]
    visit = block_of(monday_sheet(school_with(tmp_path, "3-B", needs=needs)), "3-B")
    tables = {each.name: (each.count, each.tables) for each in visit.at_tables}
    assert tables["spring-opening scissors"] == (2, (3,))
    assert tables["picture step cards"] == (2, (1, 5))
    out = {each.name: each.out for each in visit.counted}
    assert (out["scissors"], out["spring-opening scissors"]) == (11, 2)  # 12 for pairs of 24: 10 and 1 spare, and 2


def test_where_nobody_has_said_the_table_the_thing_stands_there_without(tmp_path: Path) -> None:
    visit = block_of(monday_sheet(school_with(tmp_path, "3-B", needs=[{"need": "left-handed", "count": 2}])), "3-B")
    assert [(each.count, each.tables) for each in visit.at_tables] == [(2, ())]
    assert isinstance(visit.at_tables[0], TableThing)


def test_trays_are_told_for_the_class_and_not_for_the_largest_one(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path))
    sets = {block.class_id: each.sets for block in sheet.visits for each in block.trays if each.name == "scissors"}
    assert sets == {
        "3-B": "6 trays of 2, 1 spare",
        "3-K": "1 tray of 3, 5 trays of 2, 1 spare",
        "5-H": "3 trays of 5, 3 trays of 4, 2 spare",
    }


def test_what_the_room_has_and_what_the_children_have(tmp_path: Path) -> None:
    visit = block_of(monday_sheet(school_with(tmp_path, "3-B", has=["glue-stick"])), "3-B")
    assert (visit.sink, visit.projector, visit.own) == (True, None, ("glue stick",))


def test_a_class_of_about_so_many_is_told_so(tmp_path: Path) -> None:
    visit = block_of(monday_sheet(school_with(tmp_path, "3-B", students="about 24")), "3-B")
    assert (visit.students, visit.about) == (24, True)


def test_those_who_missed_a_part_are_a_number_of_children(tmp_path: Path) -> None:
    owed = {
        "3-B": (Owed("burlap-birds", 2, FRIDAY_BEFORE, numbers=(388,), count=1),),
        "3-K": (Owed("burlap-birds", 1, FRIDAY_BEFORE, unknown=True),),
    }
    unfinished = {"5-H": (Unfinished("paper-masks", 1, 4, FRIDAY_BEFORE),)}
    sheet = monday_sheet(in_the_evening(reference_school(tmp_path), owed=owed, unfinished=unfinished))
    assert block_of(sheet, "3-B").missed == ("part 2, 2 children: short version in the box",)
    assert block_of(sheet, "3-K").missed == ("part 1, nobody could say by whom: reserve along",)
    assert block_of(sheet, "5-H").missed == ("not done with part 1, 4 children: in the box",)
    assert block_of(sheet, "4-D").missed == ()


def test_what_is_crossed_off_is_not_on_the_sheet(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        day = book.day(MONDAY)
        book.do(MONDAY, NotNeeded(at=at(), line=line_of(day, "scissors").key))
        book.do(MONDAY, NotNeeded(at=at(), line=line_of(day, "folder 3-B").key))
        visit = block_of(sheet_of(book, MONDAY, at("7:45")), "3-B")
        assert [each.supply for each in visit.counted] == ["blunt-needle"]
        assert visit.folders == ()
        # what is packed or short changes nothing about what is wanted in the room
        book.do(MONDAY, Packed(at=at(), line=line_of(day, "blunt-needle").key, count=3))
        assert block_of(sheet_of(book, MONDAY, at("7:46")), "3-B").counted == visit.counted


def test_a_kit_that_stands_in_a_room_is_told_until_it_is_back(tmp_path: Path) -> None:
    folder = in_the_evening(reference_school(tmp_path), places={"printing": Place("11", FRIDAY_BEFORE, "P5")})
    with opened(folder) as book:
        stands = {each.name: each.stands_in for each in sheet_of(book, MONDAY, at()).stops[1].on}
        assert stands == {"Box 2": "", "Printing kit": "11", "Box 4": "", "Clay kit": "", "Box 5": ""}
        book.do(MONDAY, Stands(at=at("7:44"), container="printing", place="store"))
        assert not any(each.stands_in for each in sheet_of(book, MONDAY, at()).stops[1].on)


def test_where_it_is_not_known_what_was_taught_both_parts_are_told(tmp_path: Path) -> None:
    unsure = {"3-B": (Unsure(FRIDAY_BEFORE, "P3 3-B", "burlap-birds", 2),)}
    visit = block_of(monday_sheet(in_the_evening(reference_school(tmp_path), unsure=unsure)), "3-B")
    assert [each.part for each in visit.taught] == [2, 3]


def test_a_part_still_to_be_decided_is_told_and_has_nothing_counted(tmp_path: Path) -> None:
    folder = school_one_adult_short(tmp_path)
    with opened(folder) as book:
        visit = sheet_of(book, MONDAY, at()).visits[0]
        assert "two adults" in visit.to_decide
        assert (visit.counted, visit.along, visit.folders) == ((), (), ())
        book.do(MONDAY, book.day(MONDAY).decisions[0].offers[0].change)
        visit = sheet_of(book, MONDAY, at()).visits[0]
        assert (visit.to_decide, visit.own_part_waits) == ("", True)


def test_a_day_without_visits_says_why(tmp_path: Path) -> None:
    sheet = monday_sheet(reference_school(tmp_path), TUESDAY_13)
    assert (sheet.visits, sheet.stops, sheet.leave_by, sheet.why_no_visits) == ((), (), None, "no visits")
    with opened(reference_school(tmp_path)) as book:
        book.do(MONDAY, Changed(at=at("6:30"), no_school=True))
        assert sheet_of(book, MONDAY, at()).why_no_visits == book.day(MONDAY).why_no_school != ""


def test_on_a_day_with_a_substitute_nothing_sharp_and_no_folder_is_told(tmp_path: Path) -> None:
    folder = reference_school(tmp_path, school={"habits": {"filler": "leaf-rubbings"}})
    with opened(folder) as book:
        book.do(MONDAY, Changed(at=at("6:30"), substitute=True))
        sheet = sheet_of(book, MONDAY, at())
    assert sheet.substitute
    assert {part.lesson for block in sheet.visits for part in block.taught} == {"Leaf Rubbings"}
    assert not any(block.counted or block.folders for block in sheet.visits)


def test_another_bell_schedule_has_its_own_times_and_stops(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        book.do(MONDAY, Changed(at=at("6:30"), bells="two hours later"))
        sheet = sheet_of(book, MONDAY, at())
    assert (sheet.bells, [block.class_id for block in sheet.visits]) == (
        "two hours later",
        ["3-B", "3-K", "2-R", "4-D", "5-H"],
    )
    assert [stop.before_visit for stop in sheet.stops] == [1, 3]
    assert sheet.visits[0].from_room == ""


@pytest.mark.parametrize(
    ("half_slots", "on", "off", "ahead", "too_much"),
    [(8, 5, [0, 5], [0, 0], False), (6, 4, [0, 4], [1, 1], False), (2, 5, [0, 5], [0, 0], True)],
)
def test_what_comes_on_and_off_and_goes_ahead_depends_on_what_the_cart_holds(
    tmp_path: Path, half_slots: int, on: int, off: list[int], ahead: list[int], too_much: bool
) -> None:
    """With 6 half slots one box is left ahead in each leg, as in the worked example; with 2 nothing fits."""
    cart = {"half_slots": half_slots, "standing": {"scissors": 30}}
    sheet = monday_sheet(reference_school(tmp_path, school={"cart": cart}))
    stops = sheet.stops
    assert (len(stops[0].on), [len(stop.off) for stop in stops]) == (on, off)
    assert [len(stop.ahead) for stop in stops] == ahead
    assert len(sheet.behind) == sum(ahead)
    assert sum(each.stands_there for block in sheet.visits for each in block.along) == sum(ahead)
    assert all(stop.too_much is too_much for stop in stops)


def test_what_stands_ahead_already_is_not_to_be_fetched_and_when_to_set_out_is_told(tmp_path: Path) -> None:
    """A cart of two slots: Box K goes to Room 4 before school, 2 min there, 2 back and 2 of handling."""
    cart = {"half_slots": 4, "standing": {"scissors": 30}}
    with opened(reference_school(tmp_path, school={"cart": cart})) as book:
        assert say_leave(sheet_of(book, MONDAY, at())) == "Leave ahead by 7:46. Leave the store by 7:52"
        book.do(MONDAY, Stands(at=at("7:35"), container="box-K", place="4"))
        sheet = sheet_of(book, MONDAY, at())
        assert say_leave(sheet) == "Leave the store by 7:52"
        box = next(each for each in sheet.visits[0].along if each.name == "Box K")
        assert "stands there" in say_along(box) and "fetch" not in say_along(box)


def test_where_nothing_fits_what_stands_in_its_room_is_not_loaded_either(tmp_path: Path) -> None:
    cart = {"half_slots": 2, "standing": {"scissors": 30}}
    with opened(reference_school(tmp_path, school={"cart": cart})) as book:
        book.do(MONDAY, Stands(at=at("7:35"), container="watercolour", place="4"))
        assert book.route(MONDAY).plan is None
        sheet = sheet_of(book, MONDAY, at())
    assert "Watercolour kit" not in [each.name for each in sheet.stops[0].on]
    kit = next(each for each in sheet.visits[0].along if each.name == "Watercolour kit")
    assert "stands there" in say_along(kit) and "fetch" not in say_along(kit)
    assert sheet.behind == (("Watercolour kit", "4"),)


def test_what_a_helper_carries_is_told_where_it_is_needed(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        book.do(MONDAY, Changed(at=at("7:35"), rides={"box-3": "helper"}))
        sheet = sheet_of(book, MONDAY, at())
    assert all("Box 3" not in [each.name for each in stop.on] for stop in sheet.stops)
    told = [say_along(each) for block in sheet.visits for each in block.along if each.name == "Box 3"]
    assert len(told) == 2
    assert all("a helper brings it" in each for each in told)


def test_a_class_that_joins_another_is_told_with_its_number(tmp_path: Path) -> None:
    with opened(small_school(tmp_path)) as book:
        change = Changed(at=at("6:30"), away=("3-B",), guests=(Guests(of="3-B", join="3-K", count=2),))
        book.do(MONDAY, change)
        visit = sheet_of(book, MONDAY, at()).visits[0]
    assert (visit.students, visit.guests) == (24, (("3-B", 2),))


# ------------------------------------------------------------------------------------------------- the way on paper


def small_cart(tmp_path: Path) -> Path:
    """Two boxes' worth and 5 minutes before school: a stop between V2 and V3, boxes left ahead."""
    cart: dict[str, Any] = {"cart": {"half_slots": 4, "standing": {"scissors": 30}}}
    return reference_school(tmp_path, school={**cart, "habits": {"leave_ahead_before_school": 5}})


def test_late_stands_on_paper_as_on_the_route(tmp_path: Path) -> None:
    """V2 follows V1 at once, a minute away; V6 follows V5, four minutes away."""
    folder = reference_school(tmp_path)
    sheet = monday_sheet(folder)
    with opened(folder) as book:
        told = book.route(MONDAY).told
        assert told is not None
        late = [max(0, -way.spare) for way in told.ways]
    assert [block.late for block in sheet.visits] == late == [0, 1, 0, 0, 0, 4, 0]
    assert say_way(block_of(sheet, "1-P")) == "from Room 4, 1 min, gap 0, 1 LATE"
    assert "1 min, gap 0, 1 LATE" in cart_sheet_text(sheet)
    assert "1 min, gap 0, 1 LATE" in cart_sheet_html(sheet)


def test_the_parts_of_a_stop_end_with_full_stops(tmp_path: Path) -> None:
    sheet = monday_sheet(small_cart(tmp_path))
    text = " ".join(cart_sheet_text(sheet).split())
    assert any(stop.ahead for stop in sheet.stops)
    for label in ("LEAVE AHEAD", "OFF", "ON"):
        assert re.search(rf"[.] {label} ", text), label
        assert not re.search(rf"[^.>] {label} (Box|[A-Z][a-z]+ kit)", text), label


def test_no_stop_is_left_before_she_is_there_and_the_first_one_when_everything_says(tmp_path: Path) -> None:
    folder = small_cart(tmp_path)
    places = {"watercolour": Place("11", FRIDAY_BEFORE, "P5")}
    in_the_evening(folder, places=places)
    sheet = monday_sheet(folder)
    assert sheet.stops[0].leave_by == sheet.leave_by == 7 * 60 + 52 - 4  # to Room 11 and back for what V1 needs
    for stop in sheet.stops[1:]:
        assert stop.since is not None and stop.leave_by >= stop.since
    tight = [stop for stop in sheet.stops[1:] if not stop.breaks]
    assert tight and all(stop.since is not None and stop.leave_by >= stop.since + 2 for stop in tight)
