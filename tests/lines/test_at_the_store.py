"""When cleaning up begins, and what comes on the cart and off it at the store. Common practice, no source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checklists.daybook.opening import first_state
from checklists.files.plan_folder import read_plan
from checklists.lines.clean_up import clean_up_from, sink_in
from checklists.lines.day import day_on
from checklists.lines.store_stops import StoreStop, store_stops
from checklists.walks import DayWalks
from tests.schools import MONDAY, a_class, a_lesson, a_part, a_period, a_room, an_item, small_school

LUNCH = {"name": "lunch", "start": "11:10", "end": "11:45"}


def minutes_before_the_end(
    tmp_path: Path, *tags: str, grade: str = "3", sink: bool | None = True, **habits: int
) -> tuple[int, bool | None]:
    """When a class of a grade begins to clean up after a part with these tags, in a room with or without a sink."""
    room = a_room("12") if sink is None else a_room("12", sink=sink)
    folder = small_school(
        tmp_path,
        school=a_school_of([a_period("P1", "8:00", "8:45")], rooms=[room], habits=habits),
        classes=[a_class("X", grade=grade, room="12")],
        timetable={"Mon": {"P1": "X"}},
        teaching={grade: ["one"]},
        lessons=[a_lesson("one", [a_part("the part", [an_item("white-12x18")], tags=list(tags))])],
    )
    read = read_plan(folder)
    assert read.plan is not None and read.rules is not None, read.problems
    state = first_state(read.plan)
    visit = day_on(read.plan, read.rules, state, MONDAY).visits[0]
    begins = clean_up_from(read.plan, read.rules, state, visit, MONDAY)
    return visit.end - begins, sink_in(read.plan, state, visit, MONDAY)


def a_school_of(periods: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    """A school file with these periods and lunch at the store."""
    return {
        "name": "Small School",
        "first_day": MONDAY,
        "last_day": MONDAY.replace(month=12),
        "bells": [{"id": "regular", "periods": periods, "breaks": [LUNCH]}],
        "rooms": [a_room("12"), a_room("14")],
    } | more


@pytest.mark.parametrize(
    ("minutes", "works"),
    [
        (5, ["drawing", "cutting gluing", "stitching"]),
        (7, ["watercolour", "tempera"]),
        (9, ["printing ink", "clay", "plaster", "paste"]),
    ],
)
def test_wet_work_is_cleaned_up_earlier_and_print_and_clay_earliest(
    minutes: int, works: list[str], tmp_path: Path
) -> None:
    found = {tags: minutes_before_the_end(tmp_path / tags, *tags.split()) for tags in works}
    assert found == dict.fromkeys(works, (minutes, True))


@pytest.mark.parametrize(("grade", "more"), [("PK", 2), ("K", 2), ("1", 2), ("2", 0), ("5", 0)])
def test_the_youngest_need_two_minutes_more(grade: str, more: int, tmp_path: Path) -> None:
    assert minutes_before_the_end(tmp_path, "drawing", grade=grade) == (5 + more, True)


@pytest.mark.parametrize(("sink", "more"), [(True, 0), (False, 2), (None, 2)])
def test_without_a_sink_or_where_nobody_knows_it_takes_two_minutes_more(
    sink: bool | None, more: int, tmp_path: Path
) -> None:
    assert minutes_before_the_end(tmp_path, "watercolour", sink=sink) == (7 + more, sink)


def test_the_minutes_are_habits_of_hers(tmp_path: Path) -> None:
    habits = {"clean_up_dry": 3, "clean_up_wet": 8, "clean_up_young": 4, "clean_up_no_sink": 1}
    assert minutes_before_the_end(tmp_path / "a", "drawing", **habits)[0] == 3
    assert minutes_before_the_end(tmp_path / "b", "tempera", grade="K", sink=False, **habits)[0] == 8 + 4 + 1


def test_it_never_begins_before_the_class_does(tmp_path: Path) -> None:
    assert minutes_before_the_end(tmp_path, "drawing", clean_up_dry=90)[0] == 45


# ---------------------------------------------------------------------------------------------- what comes on and off


def stops_of(tmp_path: Path, periods: list[dict[str, Any]], grades: str, **school: Any) -> tuple[StoreStop, ...]:
    """The stops of a Monday on which classes of these grades come one after the other, each with its box."""
    folder = small_school(
        tmp_path,
        school=a_school_of(periods, **school),
        classes=[a_class(f"{grade}-{n}", room="12") for n, grade in enumerate(grades)],
        timetable={"Mon": {f"P{n}": f"{grade}-{n}" for n, grade in enumerate(grades)}},
        teaching={grade: ["one"] for grade in set(grades)},
        lessons=[a_lesson("one", [a_part("the part", [an_item("white-12x18")])])],
        boxes=[{"grade": grade} for grade in set(grades)],
    )
    read = read_plan(folder)
    assert read.plan is not None and read.rules is not None, read.problems
    day = day_on(read.plan, read.rules, first_state(read.plan), MONDAY)
    return store_stops(DayWalks(read.plan), read.plan.school.bells[0], day.visits, day.containers)


AROUND_LUNCH = [a_period("P0", "9:30", "10:15"), a_period("P1", "10:20", "11:05"), a_period("P2", "12:00", "12:45")]
TWO_BOXES = {"half_slots": 4}


def test_what_is_needed_on_both_sides_of_lunch_stays_on_the_cart(tmp_path: Path) -> None:
    morning, lunch = stops_of(tmp_path, AROUND_LUNCH, "343", cart={"half_slots": 3})
    assert morning.on == ("box-3", "box-4") and morning.too_much
    assert (lunch.off, lunch.on, lunch.too_much) == (("box-4",), (), False)


def test_where_the_cart_is_too_small_for_it_it_comes_off_and_on_again(tmp_path: Path) -> None:
    periods = [*AROUND_LUNCH[:2], a_period("P2", "12:00", "12:45"), a_period("P3", "14:00", "14:45")]
    breaks = [LUNCH, {"name": "planning", "start": "13:00", "end": "13:45"}]
    bells = [{"id": "regular", "periods": periods, "breaks": breaks}]
    stops = stops_of(tmp_path, periods, "3343", cart={"half_slots": 2}, bells=bells)
    assert [(stop.off, stop.on) for stop in stops] == [
        ((), ("box-3",)),
        (("box-3",), ("box-4",)),
        (("box-4",), ("box-3",)),
    ]
    assert not any(stop.too_much for stop in stops)
    assert [stop.breaks for stop in stops] == [(), ("lunch",), ("planning",)]


def test_what_fits_at_once_is_loaded_in_the_morning_and_stays(tmp_path: Path) -> None:
    morning, lunch = stops_of(tmp_path, AROUND_LUNCH, "345", cart={"half_slots": 6})
    assert morning.on == ("box-3", "box-4", "box-5")
    assert (lunch.off, lunch.on) == ((), ())


def test_a_break_too_short_for_the_way_is_no_stop(tmp_path: Path) -> None:
    close = [*AROUND_LUNCH[:2], a_period("P2", "11:10", "11:55")]
    stops = stops_of(tmp_path, close, "345", cart=TWO_BOXES)
    # 5 minutes between; to the store and back 2 and 2, and 2 to change: 6
    assert [stop.on for stop in stops] == [("box-3", "box-4", "box-5")]
    assert stops[0].too_much


def test_she_is_at_the_store_after_the_walk_and_leaves_in_time_to_set_up(tmp_path: Path) -> None:
    _, lunch = stops_of(tmp_path, AROUND_LUNCH, "345", cart=TWO_BOXES)
    assert lunch.since == 11 * 60 + 5 + 2
    assert lunch.leave_by == 12 * 60 - 2 - 4 - 2
