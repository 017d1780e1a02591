"""`trundle pin`: wishes for the route said, told with what they do, listed with what they cost, and taken back."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec import structs

from checklists.files.plan_folder import read_plan
from checklists.pages.route_wishes import say_mass
from checklists.route.pins import Pin
from tests.commandline.running import in_a_process, on_monday, refused
from tests.days import MONDAY, opened
from tests.schools import reference_school

SIX_HALF_SLOTS = {"cart": {"half_slots": 6, "standing": {"scissors": 30}}}


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return reference_school(tmp_path / "school", school=SIX_HALF_SLOTS)


def stops_before(data: Path) -> list[int]:
    with opened(data) as book:
        plan = book.route(MONDAY).plan
        assert plan is not None
        return [leg.first for leg in plan.legs]


def test_a_stop_is_wanted_told_listed_and_taken_back_in_a_process_of_its_own(data: Path) -> None:
    """By the store after V2 both legs of the morning fit without a box left ahead."""
    at_7_41 = ("--date", "2026-10-05", "--at", "7:41")
    said = in_a_process("pin", "always-after", "P2", *at_7_41, data=data)
    assert (said.status, said.err) == (0, "")
    assert said.out.replace("\n", " ").startswith(
        "Always by the store after V2 (P2), on Mon 5 Oct: 1 stop more, 1 fewer left ahead and to fetch."
    )
    assert stops_before(data) == [0, 2, 4]
    listed = on_monday("pin", data=data)
    assert "  Always by the store after V2 (P2): 1 stop more, 1 fewer left ahead and to" in listed.out
    told = on_monday("route", data=data).out
    assert "AFTER V2: BY THE STORE, 5 min" in told
    assert told.index("YOUR WISHES") < told.index("Always by the store after V2 (P2): 1 stop more")
    back = on_monday("pin", "always-after", "P2", "--off", data=data)
    assert back.out.startswith("Taken back: always by the store after V2 (P2), on Mon 5 Oct: 1 stop fewer")
    assert stops_before(data) == [0, 4]
    assert "no wishes for the route" in on_monday("pin", data=data).out


def test_what_is_said_for_good_is_in_the_plan_and_a_day_can_leave_it_out(data: Path) -> None:
    on_monday("pin", "nothing-in", "21", "--for-good", data=data)
    assert read_plan(data).plan is not None
    assert read_plan(data).plan.school.route.leave_in == {"21": "never"}
    on_monday("pin", "nothing-in", "21", "--off", data=data)
    assert "Left out this day: nothing is left in Room 21" in on_monday("pin", data=data).out
    assert read_plan(data).plan.school.route.leave_in == {"21": "never"}
    on_monday("pin", "nothing-in", "21", "--off", "--for-good", data=data)
    assert read_plan(data).plan.school.route.leave_in == {}
    assert "no wishes for the route" in on_monday("pin", data=data).out


def test_a_helper_comes_with_the_usual_caution_and_a_kit_may_be_named_in_more_words(data: Path) -> None:
    said = on_monday("pin", "helper", "Stitching", "kit", data=data)
    assert "A helper carries Stitching kit, on Mon 5 Oct" in said.out
    assert "counted sharps are handed over counted, and to an adult" in said.out.replace("\n", " ")
    assert "Local rules decide." in said.out.replace("\n", " ")
    with opened(data) as book:
        assert book.route(MONDAY).helped == ("stitching",)


def test_with_json_it_says_what_was_said_and_what_every_wish_costs(data: Path) -> None:
    found = on_monday("pin", "always-after", "V2", "--json", data=data).fields
    assert (found["page"], found["said"]["about"], found["said"]["back"]) == ("pin", "P2", False)
    assert found["said"]["after"]["stops"] == found["said"]["before"]["stops"] + 1
    assert [(each["about"], each["for_good"]) for each in found["pins"]] == [("P2", False)]
    assert found["pins"][0]["without"] == found["said"]["before"]


def test_where_nothing_fits_with_it_the_status_is_1_and_it_can_be_said_all_the_same(tmp_path: Path) -> None:
    """With no stop after V2 and nothing left in Room 9, Box 1, Box 3 and Stitching are 5 half slots on a cart of 4."""
    school = {"cart": {"half_slots": 4, "standing": {"scissors": 30}}}
    data = reference_school(tmp_path / "school", school=school)
    assert on_monday("pin", "nothing-in", "9", data=data).status == 0
    said = on_monday("pin", "never-after", "P2", data=data)
    assert (said.status, said.out) == (1, "Never by the store after V2 (P2), on Mon 5 Oct: nothing fits then.\n")
    assert "- Take back: never by the store after V2 (P2)." in on_monday("route", data=data).out


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("never-aftr", "P2"), "There is no wish called never-aftr. Did you mean never-after?"),
        (("never-after", "P22"), "There is no period P22 in the plan. Did you mean P2?"),
        (("rides", "Bx 3"), "Did you mean Box 3?"),
        (("rides", "cart"), "takes up no room on the cart"),
        (("nothing-in", "211"), "There is no room 211 in the plan. Did you mean 21?"),
        (("nothing-in", "store"), "The store is where things are taken from."),
        (("helper",), 'Say what it is about: trundle pin helper "Clay kit".'),
        (("never-after", "P2", "--off"), "Never by the store after V2 (P2): that is no wish of Mon 5 Oct."),
        (("--off",), "Say which wish"),
    ],
)
def test_what_has_no_meaning_is_told_with_the_nearest_word(data: Path, typed: tuple[str, ...], told: str) -> None:
    assert told in refused("pin", *typed, data=data)


def test_undo_says_which_wish_it_takes_back_and_which_one_holds_again(data: Path) -> None:
    on_monday("pin", "never-after", "P3", data=data)
    on_monday("pin", "never-after", "P3", "--off", data=data)
    again = " ".join(on_monday("undo", data=data).out.split())
    assert "Never by the store after V3 (P3) holds again" in again
    assert "never by the store after V3 (P3)" in on_monday("undo", data=data).out
    assert "no wishes for the route" in on_monday("pin", data=data).out


def test_a_wish_for_good_tells_how_to_say_it_back_and_the_command_does_it(data: Path) -> None:
    said = " ".join(on_monday("pin", "rides", "Clay kit", "--for-good", data=data).out.split())
    assert 'trundle undo takes nothing back: trundle pin rides "Clay kit" --for-good --off takes it back.' in said
    on_monday("pin", "rides", "Clay kit", "--for-good", "--off", data=data)
    assert "no wishes for the route" in on_monday("pin", data=data).out
    assert "--for-good" not in on_monday("pin", "never-after", "P2", data=data).out


def test_a_wish_that_is_no_worse_costs_nothing_and_one_in_the_way_holds_up_every_plan(data: Path) -> None:
    on_monday("pin", "never-after", "P3", data=data)
    assert "Never by the store after V3 (P3): costs nothing." in on_monday("pin", data=data).out
    in_the_way = reference_school(data.parent / "small", school={"cart": {"half_slots": 4, "standing": {}}})
    on_monday("pin", "never-after", "P2", data=in_the_way)
    said = " ".join(on_monday("pin", data=in_the_way).out.split())
    assert "Never by the store after V2 (P2): holds up every plan: nothing fits with it." in said


def test_a_helper_is_told_what_the_box_weighs_where_that_is_known(data: Path) -> None:
    with opened(data) as book:
        day = book.day(MONDAY)
    weighed = tuple(structs.replace(each, kilograms=6.94) for each in day.containers)
    day = structs.replace(day, containers=weighed)
    assert say_mass(day, Pin("rides", "box-K", "helper")) == ", 6.9 kg"
    assert say_mass(day, Pin("rides", "box-K", "always")) == ""
