"""Where is it: the last known place of everything, what is fetched first, what stands in another room. T31 and T37.

On the reference school; common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.entries import LetGo, Stands, WorkAway
from checklists.daybook.fetching import say_elsewhere, to_fetch, warn_of_sharps
from checklists.daybook.lending import lend
from checklists.daybook.line_states import is_open, state_of
from checklists.daybook.minutes_left import leave_by_now
from checklists.daybook.state import Place, Progress
from checklists.daybook.stock_now import stock_now
from checklists.daybook.whereabouts import Whereabouts, matching, place_offers, whereabouts
from checklists.pages.morning import morning_page
from tests.commandline.running import on_monday, refused, said, trundle
from tests.days import (
    TUESDAY,
    WEDNESDAY,
    after_the_battery_died,
    at,
    choose,
    close,
    counted,
    line_of,
    opened,
    packed,
    visit_of,
)
from tests.schools import (
    FRIDAY_BEFORE,
    MONDAY,
    a_class,
    in_the_evening,
    reference_school,
)

FETCH = "FETCH Printing kit, Room 11, needed P2 (2-T, 8:45), +4 min"


def all_things(book: Book, on: date = MONDAY) -> dict[str, Whereabouts]:
    found = whereabouts(book.plan, book.day(on), book.marks(on), book.opening(on))
    return {each.key: each for each in found}


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(in_the_evening(reference_school(tmp_path / "school"), on_hand={"scissors": 30}))


def say_stands(book: Book, container: str, place: str, clock: str = "7:41", on: date = MONDAY) -> None:
    book.do(on, Stands(at=at(clock, on), container=container, place=place))


# -------------------------------------------------------------------------------------------------- what is where


def test_every_container_and_folder_has_a_place_and_only_what_is_elsewhere_stands_first(book: Book) -> None:
    things = all_things(book)
    kits = {f"box-{grade}" for grade in "K12345"} | {"cart", "watercolour", "stitching", "printing", "clay"}
    folders = {f"folder {each}" for each in ("K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H")}
    assert kits | folders == set(things)
    assert things["printing"].words == "Printing kit: the store, shelf K2"
    say_stands(book, "printing", "11", "9:35")
    first, *rest = all_things(book).values()
    assert first.words == "Printing kit: Room 11, since today 9:35"
    assert not any(each.is_elsewhere for each in rest)


def test_the_last_known_time_is_kept_over_the_night_also_of_what_is_back(book: Book, tmp_path: Path) -> None:
    visit = visit_of(book.day(MONDAY), "2-R")
    book.do(MONDAY, Stands(at=at("15:05"), container="printing", place="11", period=visit.period))
    say_stands(book, "clay", "store", "15:06")
    close(book)
    book.today = TUESDAY
    assert all_things(book, TUESDAY)["printing"].words == "Printing kit: Room 11, since Mon 5 Oct P5"
    assert all_things(book, TUESDAY)["clay"].words == "Clay kit: the store, shelf K3, since Mon 5 Oct"
    again = after_the_battery_died(book, into=tmp_path / "copy")
    assert all_things(again, TUESDAY) == all_things(book, TUESDAY)
    say_stands(book, "printing", "store", "7:35", TUESDAY)
    close(book, TUESDAY)
    assert all_things(book, WEDNESDAY)["printing"].since == "Tue 6 Oct"


def test_everything_back_at_the_store_is_a_time_as_well(book: Book) -> None:
    choose(book, MONDAY, "places", "everything is at the store")
    close(book)
    assert all_things(book, TUESDAY)["box-3"].words == "Box 3: the store, shelf B2, since Mon 5 Oct"


def test_a_folder_is_where_it_was_packed_and_work_on_a_wall_is_told(book: Book) -> None:
    folder = line_of(book.day(MONDAY), "folder 3-B")
    book.do(MONDAY, packed(folder, 1, "7:44"))
    inside = "on the cart" if folder.container == "cart" else "in Box 3"
    assert all_things(book)["folder 3-B"].words == f"Class folder 3-B: {inside}, since today 7:44"
    book.do(MONDAY, WorkAway(at=at("7:45"), class_id="3-K", count=12, until=WEDNESDAY))
    assert all_things(book)["folder 3-K"].where == "the store; 12 pieces on a wall since Mon 5 Oct, until Wed 7 Oct"


def test_what_is_lent_and_missing_has_its_last_place(book: Book) -> None:
    supply = book.plan.supply_by_id["scissors"]
    stock = stock_now(book.plan, book.day(MONDAY), book.marks(MONDAY), book.opening(MONDAY))
    entries = lend(book.plan, stock, supply, 12, at("8:40"), "Ms Reyes", "9")
    assert not isinstance(entries, str)
    book.do(MONDAY, *entries)
    book.do(MONDAY, counted(visit_of(book.day(MONDAY), "3-B"), 13, 12))
    missing, borrowed, *_ = all_things(book).values()
    assert missing.words == "1 scissors, missing: last in Room 12, not reported yet, since Mon 5 Oct P3"
    assert borrowed.words == "12 scissors, lent: Ms Reyes, Room 9, since today 8:40"


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("print", {"printing"}),
        ("kit pr", {"printing"}),
        ("box 3", {"box-3"}),
        ("3-b", {"folder 3-B"}),
        ("folder 3", {"folder 3-B", "folder 3-K"}),
        ("b2", {"box-3"}),
        ("nothing so", set()),
    ],
)
def test_the_first_letters_of_its_words_are_enough(book: Book, typed: str, found: set[str]) -> None:
    assert {each.key for each in matching(all_things(book).values(), typed)} == found


def test_a_room_is_chosen_by_its_letters_or_by_who_is_in_it(book: Book) -> None:
    assert [each.label for each in place_offers(book.plan, "box-3", "2", at())] == ["Room 21, 4-D", "Room 23, 5-H"]
    assert [each.label for each in place_offers(book.plan, "box-3", "st", at())] == ["the store"]
    assert len(place_offers(book.plan, "box-3", "", at())) == 8


def test_where_by_the_command_line(book: Book) -> None:
    book.release()
    data = book.folder
    ran = said("where", "printing", "kit", "--is", "Room 11", data=data, clock="9:35")
    assert "Printing kit in Room 11" in ran.out
    assert "Printing kit: Room 11, since today 9:35" in said("where", "print", data=data).out
    (thing,) = trundle("where", "print", "--json", "--date", "2026-10-05", data=data).fields["things"]
    assert (thing["place"], thing["kind"], thing["elsewhere"]) == ("11", "kit", True)
    said("undo", data=data)
    assert "the store, shelf K2" in said("where", "print", data=data).out
    assert refused("where", "zebra", data=data).startswith("Nothing begins with zebra.")
    assert refused("where", "--is", "11", data=data).startswith("Say what")


# --------------------------------------------------------------------------------- T31 a kit left overnight


@pytest.fixture
def left_on_monday(tmp_path: Path) -> Book:
    """The printing kit stays in Room 11 on Monday; 2-T needs it on Tuesday in P2."""
    return opened(_school_with_2t(tmp_path / "school"), TUESDAY)


def _school_with_2t(folder: Path) -> Path:
    rooms = {"K-M": "4", "1-P": "9", "3-B": "12", "3-K": "14", "2-R": "11", "4-D": "21", "5-H": "23", "2-T": "12"}
    day_a = {"P1": "K-M", "P2": "1-P", "P3": "3-B", "P4": "3-K", "P5": "2-R", "P6": "4-D", "P7": "5-H"}
    reference_school(
        folder,
        classes=[a_class(each, room=room, students=22) for each, room in rooms.items()],
        timetable={"A": day_a, "B": {"P2": "2-T"}},
    )
    places = {"printing": Place("11", MONDAY, "P5")}
    return in_the_evening(in_the_evening(folder), on=FRIDAY_BEFORE, places=places)


def test_what_was_left_in_a_room_is_the_first_thing_to_fetch_with_its_minutes(left_on_monday: Book) -> None:
    book = left_on_monday
    day, marks = book.day(TUESDAY), book.marks(TUESDAY)
    (fetch,) = to_fetch(day, marks)
    assert (fetch.words, fetch.detail) == (FETCH, "since Mon 5 Oct P5")
    first = before_leaving(day, marks, at("7:41", TUESDAY))[0]
    assert first.text == f"{FETCH} (since Mon 5 Oct P5)"
    assert first.critical
    page = morning_page(book.plan, day, marks, None, book.departure(day.date)).splitlines()
    on_top = next(row for row in page if row.startswith((" !", " >", " ?")))
    assert on_top.startswith(f" !  {FETCH} (since Mon 5 Oct")
    assert leave_by_now(day, marks) == 8 * 60 + 45 - 2 - 4 - 2 - 4  # the bell, walk, setting up, slack, fetching
    say_stands(book, "printing", "store", "7:35", TUESDAY)
    assert to_fetch(book.day(TUESDAY), book.marks(TUESDAY)) == ()
    assert leave_by_now(book.day(TUESDAY), book.marks(TUESDAY)) == 8 * 60 + 37
    assert book.undo(TUESDAY) == "Printing kit at the store"
    assert len(to_fetch(book.day(TUESDAY), book.marks(TUESDAY))) == 1


def test_fetched_by_an_answer_or_not_today(left_on_monday: Book, tmp_path: Path) -> None:
    book = left_on_monday
    again = after_the_battery_died(book, into=tmp_path / "copy")
    for each, entry in (
        (book, Stands(at=at("7:35", TUESDAY), container="printing", place="store")),
        (again, LetGo(at=at("7:35", TUESDAY), matter="fetch/printing", reason="not today")),
    ):
        each.do(TUESDAY, entry)
        asked = before_leaving(each.day(TUESDAY), each.marks(TUESDAY), at("7:41", TUESDAY))
        assert not any(matter.section == "Fetch" for matter in asked)
        assert leave_by_now(each.day(TUESDAY), each.marks(TUESDAY)) == 8 * 60 + 37


def test_a_counted_thing_in_it_is_critical_until_it_is_counted(tmp_path: Path) -> None:
    places = {"stitching": Place("14", FRIDAY_BEFORE, "P4")}
    book = opened(in_the_evening(reference_school(tmp_path), places=places))
    needles = line_of(book.day(MONDAY), "blunt-needle")
    assert needles.critical
    assert is_open(needles, book.marks(MONDAY))
    assert "it stayed in Room 14 since Fri 2 Oct: count it first" in [each.text for each in needles.because]
    (fetch,) = to_fetch(book.day(MONDAY), book.marks(MONDAY))
    assert fetch.detail == "since Fri 2 Oct P4; count in it: blunt needle"
    book.do(MONDAY, packed(needles, 27))
    assert state_of(needles, book.marks(MONDAY)) == "packed"


def test_that_a_sharp_stays_in_a_room_is_a_caution_and_is_noted_all_the_same(book: Book) -> None:
    advice = "Sharps are never left in a room unless they are locked away; your local rules decide."
    held = book.opening(MONDAY).contents
    assert warn_of_sharps(book.plan, held["stitching"], "Stitching kit", "14") == (
        f"Stitching kit in Room 14 holds blunt needle. {advice}"
    )
    assert warn_of_sharps(book.plan, held["stitching"], "Stitching kit", "store") == ""
    assert warn_of_sharps(book.plan, held["watercolour"], "Watercolour kit", "14") == ""
    book.release()
    ran = said("report", "V4", "--stands", "stitching=14", data=book.folder)
    assert advice in " ".join(ran.out.split())
    assert "Stitching kit: Room 14" in said("where", "stitch", data=book.folder).out


# ---------------------------------------------------------------------- T37 one kit, two places at the same time


@pytest.fixture
def left_ahead(tmp_path: Path) -> Book:
    """Box 3 is left ahead in Room 12 for V3 at 9:35; V2, a third grade as well, needs the yarn that is in it."""
    rooms = {"K-M": "4", "3-P": "9", "3-B": "12", "3-K": "14", "2-R": "11", "4-D": "21", "5-H": "23"}
    day_a = dict(zip(("P1", "P2", "P3", "P4", "P5", "P6", "P7"), rooms, strict=True))
    classes = [a_class(each, room=room, students=24) for each, room in rooms.items()]
    folder = reference_school(tmp_path / "school", classes=classes, timetable={"A": day_a})
    progress = {name: Progress("burlap-birds", 2) for name in rooms if name.startswith("3")}
    book = opened(in_the_evening(folder, progress=progress))
    say_stands(book, "box-3", "12", "7:50")
    return book


def test_a_line_for_an_earlier_visit_says_where_its_box_is_and_until_when(left_ahead: Book) -> None:
    day, marks = left_ahead.day(MONDAY), left_ahead.marks(MONDAY)
    yarn = line_of(day, "yarn-ball")
    assert say_elsewhere(yarn, day, marks) == "Box 3 is in Room 12 until 9:35; V2 needs it at 8:45."
    (fetch,) = to_fetch(day, marks)
    assert (fetch.container, fetch.visit and fetch.visit.name) == ("box-3", "V2")
    assert left_ahead.undo(MONDAY) == "Box 3 in Room 12"
    assert say_elsewhere(yarn, day, left_ahead.marks(MONDAY)) == ""


def test_ticking_it_is_not_refused_and_says_so(left_ahead: Book) -> None:
    left_ahead.release()
    data = left_ahead.folder
    number = line_of(left_ahead.day(MONDAY), "yarn-ball").number
    ran = on_monday("tick", str(number), data=data)
    assert (ran.status, "Box 3 is in Room 12 until 9:35; V2 needs it at 8:45." in ran.out) == (0, True)
    lines = on_monday("morning", "--json", data=data).fields["lines"]
    assert next(each["state"] for each in lines if each["key"] == "box-3/yarn-ball") == "packed"


def test_left_ahead_where_it_is_needed_first_nothing_is_to_be_fetched(book: Book) -> None:
    say_stands(book, "box-3", "12", "7:50")
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    assert (to_fetch(day, marks), say_elsewhere(line_of(day, "yarn-ball"), day, marks)) == ((), "")
