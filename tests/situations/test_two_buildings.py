"""On Tuesdays she teaches in another building, 15 minutes by car. Situation T60; common practice, no source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checklists.daybook.entries import Ticked
from checklists.daybook.line_states import is_settled
from checklists.files.plan_folder import read_plan
from checklists.walks import walk_between
from tests.commandline.running import morning_of, said, trundle
from tests.days import MONDAY, NEXT_DAY_A, NEXT_THURSDAY, TUESDAY, after_the_battery_died, at, opened
from tests.schools import a_class, a_room, reference_school, reference_supplies, reference_timetable

LOWER_BRINDLE = {"name": "Lower Brindle", "rooms": ["L1", "L2"]}
CAR = "In the car for Lower Brindle: Printing kit, Box 2, folder 2-T, Box 1 and folder 1-T, 2.3 kg paper"
"""24 sheets of 40 g, 21 of 60 g and 63 of 2 g are 2346 g."""


@pytest.fixture
def two_buildings(tmp_path: Path) -> Path:
    """Day A as ever; on day B 2-T prints in L1 at 8:00 and 1-T builds paper hills in L2."""
    heavy = {"white-9x12": 40.0, "base-12x18": 60.0, "green-6x9": 2.0}
    supplies = [
        {**each, **({"grams": heavy[each["id"]]} if each["id"] in heavy else {})} for each in reference_supplies()
    ]
    classes = [
        a_class("2-R", room="11", students=23),
        a_class("2-T", room="L1", students=24),
        a_class("1-T", room="L2", students=21),
    ]
    timetable = {"A": {"P5": "2-R"}, "B": {"P1": "2-T", "P2": "1-T"}}
    rooms = [a_room("11", sink=False), a_room("L1", sink=True), a_room("L2", sink=True)]
    return reference_school(
        tmp_path / "school",
        classes=classes,
        timetable=timetable,
        supplies=supplies,
        school={"buildings": [LOWER_BRINDLE], "rooms": rooms, "walks": []},
    )


def to_prepare(data: Path, on: Any) -> list[str]:
    return [each["what"] for each in morning_of(data, on)["tasks"] if "In the car" in each["what"]]


def test_on_monday_what_goes_into_the_car_is_to_be_prepared_and_asked_at_the_days_end(two_buildings: Path) -> None:
    assert to_prepare(two_buildings, MONDAY) == [CAR]
    look = trundle("close", "--look", "--date", "2026-10-05", "--at", "15:00", data=two_buildings)
    assert "In the car for Lower Brindle" in " ".join(look.out.split())


def test_tuesday_begins_with_the_drive(two_buildings: Path) -> None:
    """8:00 less 15 min of driving, 7 of unloading, 2 of walking, 4 of setting up and 2 of slack."""
    assert morning_of(two_buildings, TUESDAY)["leave_by"] == "7:30"


def test_what_is_not_in_the_car_by_tuesday_is_still_to_be_done_then(two_buildings: Path) -> None:
    assert to_prepare(two_buildings, TUESDAY) == [CAR]


def test_ticked_it_is_done_and_the_next_week_asks_anew(two_buildings: Path) -> None:
    (task,) = [each for each in morning_of(two_buildings, MONDAY)["tasks"] if "In the car" in each["what"]]
    said("tick", str(task["number"]), data=two_buildings)
    said("close", data=two_buildings)
    assert to_prepare(two_buildings, TUESDAY) == []
    said("close", data=two_buildings, on=TUESDAY)
    assert to_prepare(two_buildings, NEXT_DAY_A) != []  # Wed 14, day A again: Thu 15 is day B
    with opened(two_buildings, NEXT_DAY_A) as book:
        assert not [key for key in book.opening(NEXT_DAY_A).prepared if key.startswith("prep/car/2026-10-06")]
        assert book.check_chain() == ()


def test_ticked_it_is_done_after_the_battery_died_and_undone_it_is_not(two_buildings: Path, tmp_path: Path) -> None:
    with opened(two_buildings) as book:
        (task,) = [each for each in book.day(MONDAY).tasks if "In the car" in each.what]
        book.do(MONDAY, Ticked(at=at("14:50"), matter=task.key))
        with after_the_battery_died(book, into=tmp_path / "again") as again:
            assert is_settled(task.key, again.marks(MONDAY))
            again.undo(MONDAY)
            assert not is_settled(task.key, again.marks(MONDAY))


def test_rooms_of_one_building_are_near_each_other_and_far_from_the_store(two_buildings: Path) -> None:
    plan = read_plan(two_buildings).plan
    assert plan is not None
    assert walk_between(plan, "L1", "L2") == 2
    assert walk_between(plan, "store", "L1") == 2 + 15 + 7
    assert walk_between(plan, "11", "L1") == 2 + 24


def test_a_room_that_is_nowhere_is_told_with_the_nearest_one(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school={"buildings": [{"name": "Lower Brindle", "rooms": ["2l"]}]})
    told = trundle("check", data=data)
    assert "building Lower Brindle" in told.out


def test_one_building_asks_for_no_car(tmp_path: Path) -> None:
    data = reference_school(tmp_path, timetable=reference_timetable())
    assert to_prepare(data, MONDAY) == [] and to_prepare(data, NEXT_THURSDAY) == []
