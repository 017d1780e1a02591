"""When a lesson is over: what comes out of its box, what stays for the slower class, catch-up, the standing set."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from checklists.daybook.entries import TakenOut, Ticked
from checklists.daybook.state import Owed, Progress, State
from checklists.lines.records import Day
from tests.days import NEXT_MONDAY, THURSDAY, at, day_of, opened
from tests.schools import MONDAY, a_lesson, a_part, a_supply, an_item, small_school, write_evening

GONE_ON = Progress("masks", 1, lessons_done=("birds",))
LESSONS = [
    a_lesson("birds", [a_part("wind", [an_item("yarn-ball")]), a_part("tie", [an_item("yarn-ball")])]),
    a_lesson("masks", [a_part("cut", [an_item("white-12x18")]), a_part("glue", [an_item("glue-stick")])]),
    a_lesson("later", [a_part("draw", [an_item("charcoal")])]),
]


def school(tmp_path: Path, **changes: Any) -> Path:
    plan: dict[str, Any] = {
        "lessons": LESSONS,
        "teaching": {"3": ["birds", "masks", "later"]},
        "supplies": [
            a_supply("yarn-ball", shelf="Y1"),
            a_supply("white-12x18", kind="paper"),
            a_supply("glue-stick", returns=True),
            a_supply("charcoal"),
            a_supply("pencil", kind="tool"),
        ],
        "boxes": [{"grade": "3", "standing": {"pencil": 28}}],
        **changes,
    }
    return small_school(tmp_path, **plan)


def out(day: Day) -> list[tuple[str, str, int]]:
    return [(each.container, each.supply, each.count) for each in day.take_out]


HELD = {"box-3": {"yarn-ball": 38, "white-12x18": 20, "pencil": 28}}


def test_when_every_class_has_gone_on_what_was_for_the_old_lesson_comes_out(tmp_path: Path) -> None:
    day = day_of(school(tmp_path), contents=HELD, progress={"3-B": GONE_ON, "3-K": GONE_ON})
    assert out(day) == [("box-3", "yarn-ball", 38)]
    assert day.take_out[0].shelf == "Y1"
    assert day.take_out[0].because[0].text == "it was for Birds; no class with Box 3 needs it in the parts to come"


def test_while_the_slower_class_still_works_on_it_everything_stays(tmp_path: Path) -> None:
    places = {"3-B": Progress("birds", 2), "3-K": GONE_ON}
    assert out(day_of(school(tmp_path), contents=HELD, progress=places)) == []


def test_what_catch_up_still_needs_stays(tmp_path: Path) -> None:
    owed = {"3-B": (Owed("birds", 1, MONDAY, numbers=(4,)),)}
    day = day_of(school(tmp_path), contents=HELD, progress={"3-B": GONE_ON, "3-K": GONE_ON}, owed=owed)
    assert out(day) == []


def test_what_the_next_lesson_needs_stays_when_this_part_is_the_last(tmp_path: Path) -> None:
    places = {each: Progress("birds", 2) for each in ("3-B", "3-K")}
    held = {"box-3": {"yarn-ball": 50, "white-12x18": 20, "charcoal": 5}}
    assert out(day_of(school(tmp_path), contents=held, progress=places)) == [("box-3", "charcoal", 5)]


def test_the_standing_set_and_what_rules_added_stay(tmp_path: Path) -> None:
    held = {"box-3": {"pencil": 28, "sponge": 7}}
    assert out(day_of(school(tmp_path), contents=held, progress={"3-B": GONE_ON, "3-K": GONE_ON})) == []


def test_what_was_taken_out_is_on_the_shelf_again_and_not_asked_for_twice(tmp_path: Path) -> None:
    folder = school(tmp_path)
    state = State(contents=HELD, progress={"3-B": GONE_ON, "3-K": GONE_ON}, on_hand={"yarn-ball": 100})
    write_evening(folder, date(2026, 10, 2), state)
    book = opened(folder)
    (asked,) = book.day(MONDAY).take_out
    book.do(MONDAY, TakenOut(at=at("7:35"), container="box-3", supply="yarn-ball", count=asked.count))
    after = book.closing_of(MONDAY)
    assert "yarn-ball" not in {supply for supply, count in after.contents["box-3"].items() if count}
    assert after.on_hand["yarn-ball"] == 100
    assert book.day(THURSDAY).take_out == ()


# ------------------------------------------------------------------------------------------- the standing set


def standing(day: Day) -> list[str]:
    return [check.what for check in day.checks if check.key.startswith("check/standing/")]


def test_the_standing_set_is_one_line_on_the_last_school_day_of_the_week(tmp_path: Path) -> None:
    folder = school(tmp_path, timetable={"Mon": {"P1": "3-B"}, "Thu": {"P1": "3-B"}, "Fri": {"P1": "3-K"}})
    said = ["Standing set of Box 3: 28 pencil"]
    seen = {"box-3": date(2026, 10, 2)}
    by_day = {day: standing(day_of(folder, on=day, standing_seen=seen)) for day in (MONDAY, THURSDAY)}
    assert by_day == {MONDAY: [], THURSDAY: []}
    assert standing(day_of(folder, on=date(2026, 10, 9), standing_seen=seen)) == said


def test_on_a_short_week_it_is_the_day_before_the_holiday(tmp_path: Path) -> None:
    folder = school(tmp_path, days_off=[{"first": date(2026, 10, 9), "reason": "fair"}])
    seen = {"box-3": date(2026, 10, 2)}
    assert standing(day_of(folder, on=THURSDAY, standing_seen=seen)) == ["Standing set of Box 3: 28 pencil"]


def test_looked_through_once_it_rests_until_the_next_week_ends(tmp_path: Path) -> None:
    folder = school(tmp_path, timetable={"Mon": {"P1": "3-B"}, "Fri": {"P1": "3-K"}})
    friday = date(2026, 10, 9)
    book = opened(folder, friday)
    (check,) = [each for each in book.day(friday).checks if each.key.startswith("check/standing/")]
    book.do(friday, Ticked(at=at("14:00", friday), matter=check.key))
    book.close(friday, at("15:00", friday))
    book.today = NEXT_MONDAY
    assert standing(book.day(NEXT_MONDAY)) == []
    assert standing(book.day(date(2026, 10, 16))) == ["Standing set of Box 3: 28 pencil"]


def test_not_looked_through_it_is_asked_again_with_the_box_on_monday(tmp_path: Path) -> None:
    folder = school(tmp_path)
    assert standing(day_of(folder, on=NEXT_MONDAY, standing_seen={"box-3": date(2026, 10, 2)})) != []
