"""Carry over: four kinds of unfinished kit and what else comes back, with since when and where it stands.

Common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import CameUpShort, CarriedOver, HandedOut, LetGo, PutRight, Stands, Ticked
from checklists.daybook.line_states import state_of
from checklists.daybook.state import Owed, Progress
from checklists.lines.records import Matter
from tests.days import (
    FRIDAY,
    NEXT_MONDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    close,
    count_all_back,
    line_of,
    opened,
    opened_again,
    packed,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import FRIDAY_BEFORE, MONDAY, a_kit, a_lesson, a_part, an_item, in_the_evening, small_school

SHORT = "short/box-3/yarn-ball"
KIT = "put right/winding"


def a_week(folder: Path) -> Path:
    """The small school teaching with a kit that is put right after use; 3-B comes on Monday and Thursday only."""
    lesson = a_lesson("winding", [a_part("wind", [an_item("yarn-ball"), an_item("glue-stick")])] * 3, kits=["winding"])
    return small_school(
        folder,
        lessons=[lesson],
        teaching={"3": ["winding"]},
        kits=[a_kit("winding", {"glue-stick": 30}, name="Winding kit", reset="wipe and count", reset_minutes=4)],
        timetable={
            "Mon": {"P1": "3-B", "P2": "3-K"},
            "Wed": {"P2": "3-K"},
            "Thu": {"P1": "3-B"},
            "Fri": {"P2": "3-K"},
        },
    )


def owing_one(folder: Path) -> Path:
    """The same, with 3-B at part 2 and one child of it who missed part 1."""
    owed = {"3-B": (Owed("winding", 1, FRIDAY_BEFORE, (4,)),)}
    return in_the_evening(a_week(folder), progress={"3-B": Progress("winding", 2)}, owed=owed)


@pytest.fixture
def monday(tmp_path: Path) -> Book:
    """Mon 5 Oct, taught as planned, nothing put right yet."""
    book = opened(a_week(tmp_path))
    teach_all(book, MONDAY)
    return book


def settle(book: Book) -> None:
    """Everything of Monday in order."""
    book.do(MONDAY, PutRight(at=at("15:01"), container="winding", done=True))


def matters(book: Book, day: date = TUESDAY) -> list[tuple[str, str]]:
    return [(each.kind, each.what) for each in book.day(day).matters]


def matter(book: Book, key: str, day: date = TUESDAY) -> Matter:
    return next(each for each in book.day(day).matters if each.key == key)


def test_a_day_in_order_carries_nothing_over(monday: Book) -> None:
    settle(monday)
    close(monday)
    assert matters(monday) == []


# ---------------------------------------------------------------------------------------------- the four kinds


def test_what_came_up_short_comes_back_on_the_next_school_day(monday: Book) -> None:
    settle(monday)
    line = line_of(monday.day(MONDAY), "yarn-ball")
    monday.do(MONDAY, CameUpShort(at=at("7:44"), line=line.key, count=40, remedy="share"))
    close(monday)
    assert matters(monday) == [("short", f"Box 3: {line.need - 40} yarn ball short")]
    assert matter(monday, SHORT).since == MONDAY


def test_what_was_packed_in_part_is_short_as_well(monday: Book) -> None:
    settle(monday)
    monday.do(MONDAY, packed(line_of(monday.day(MONDAY), "yarn-ball"), 38))
    close(monday)
    assert [kind for kind, _ in matters(monday)] == ["short"]


def test_a_kit_that_was_not_put_right_comes_back_on_the_next_school_day(monday: Book) -> None:
    close(monday)
    assert matters(monday) == [("not put right", "Winding kit: wipe and count")]


def test_a_kit_of_a_lesson_that_was_not_taught_need_not_be_put_right(tmp_path: Path) -> None:
    book = opened(a_week(tmp_path))
    for visit in book.day(MONDAY).visits:
        teach(book, MONDAY, visit.class_id, "not taught")
    close(book)
    assert matters(book) == []


def test_a_container_that_stayed_in_a_room_comes_back_on_the_next_school_day(monday: Book) -> None:
    settle(monday)
    monday.do(MONDAY, Stands(at=at("15:02"), container="winding", place="14", period="P2"))
    close(monday)
    assert matters(monday) == [("left in a room", "Winding kit stayed in Room 14")]


def test_a_catch_up_kit_that_was_not_handed_out_waits_for_the_next_visit_of_its_class(tmp_path: Path) -> None:
    book = opened(owing_one(tmp_path))
    teach_all(book, MONDAY)
    settle(book)
    close(book)
    book = opened_again(book, today=TUESDAY)
    assert [matters(book, day) for day in (TUESDAY, WEDNESDAY)] == [[], []]
    (found,) = book.day(THURSDAY).matters
    assert (found.kind, found.for_class, found.since) == ("catch-up not handed out", "3-B", MONDAY)
    assert found.before_visit == "P1 3-B"


# ----------------------------------------------------------------------------------------------- how they end


def test_it_says_since_when_and_for_how_many_school_days(monday: Book) -> None:
    close(monday)
    for today, age in ((TUESDAY, 1), (WEDNESDAY, 2), (THURSDAY, 3)):
        monday.today = today
        found = matter(monday, KIT, today)
        assert (found.since, found.school_days, found.stale) == (MONDAY, age, False)
        monday.do(today, CarriedOver(at=at("15:00", today), matter=KIT))
        close(monday, today)
    monday.today = FRIDAY
    assert matter(monday, KIT, FRIDAY).stale


def test_what_is_done_ends(monday: Book) -> None:
    close(monday)
    monday.do(TUESDAY, Ticked(at=at("7:40", TUESDAY), matter=KIT))
    close(monday, TUESDAY)
    assert matters(monday, WEDNESDAY) == []


def test_what_is_let_go_ends_and_its_reason_is_in_the_record(monday: Book) -> None:
    close(monday)
    monday.do(TUESDAY, LetGo(at=at("7:40", TUESDAY), matter=KIT, reason="thrown away"))
    close(monday, TUESDAY)
    assert matters(monday, WEDNESDAY) == []
    assert opened_again(monday).marks(TUESDAY).let_go == {KIT: "thrown away"}


def test_what_is_moved_to_a_date_is_seen_from_that_date_on(monday: Book) -> None:
    close(monday)
    monday.do(TUESDAY, CarriedOver(at=at("7:40", TUESDAY), matter=KIT, to=NEXT_MONDAY))
    close(monday, TUESDAY)
    assert [matters(monday, day) for day in (WEDNESDAY, THURSDAY, FRIDAY)] == [[], [], []]
    assert matter(monday, KIT, NEXT_MONDAY).since == MONDAY


def test_a_kit_not_put_right_twice_keeps_the_day_it_began(monday: Book) -> None:
    close(monday)
    monday.today = WEDNESDAY
    teach_all(monday, WEDNESDAY)  # 3-K uses the kit again, and again it is left as it is
    close(monday, WEDNESDAY)
    assert matter(monday, KIT, THURSDAY).since == MONDAY


def test_putting_the_kit_right_ends_it(monday: Book) -> None:
    close(monday)
    monday.do(TUESDAY, PutRight(at=at("7:40", TUESDAY), container="winding", done=True))
    close(monday, TUESDAY)
    assert matters(monday, WEDNESDAY) == []


def test_fetching_a_container_ends_it(monday: Book) -> None:
    settle(monday)
    monday.do(MONDAY, Stands(at=at("15:02"), container="winding", place="14"))
    close(monday)
    monday.do(TUESDAY, Stands(at=at("7:30", TUESDAY), container="winding", place="store"))
    close(monday, TUESDAY)
    assert matters(monday, WEDNESDAY) == []


def test_packing_what_was_short_ends_it(monday: Book) -> None:
    settle(monday)
    line = line_of(monday.day(MONDAY), "yarn-ball")
    monday.do(MONDAY, CameUpShort(at=at("7:44"), line=line.key, count=40))
    close(monday)
    monday.today = WEDNESDAY
    again = line_of(monday.day(WEDNESDAY), "yarn-ball")
    monday.do(WEDNESDAY, packed(again, day=WEDNESDAY))
    assert state_of(again, monday.marks(WEDNESDAY)) == "packed"
    close(monday, WEDNESDAY)
    assert ("short", f"Box 3: {line.need - 40} yarn ball short") not in matters(monday, THURSDAY)


def test_handing_the_kit_out_ends_it(tmp_path: Path) -> None:
    book = opened(owing_one(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    book.today = THURSDAY
    teach_all(book, THURSDAY)
    book.do(THURSDAY, HandedOut(at=at("15:00", THURSDAY), visit=visit_of(book.day(THURSDAY), "3-B").key, given=True))
    close(book, THURSDAY)
    assert not any(each.for_class for each in book.day(NEXT_MONDAY).matters)
    assert "3-B" not in book.opening(NEXT_MONDAY).owed


# ------------------------------------------------------------------------------------------ counts that are open


def test_sharps_that_went_out_and_were_not_counted_are_pending_until_they_are(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id)
    close(book)
    assert [kind for kind, _ in matters(book)] == ["count pending", "count pending"]
    assert "3-B, Room 12: not counted back" in matters(book)[0][1]
    assert "3-K, Room 14: not counted back" in matters(book)[1][1]
    count_all_back(book, MONDAY)
    assert matters(book) == []
    assert book.check_chain() == ()
