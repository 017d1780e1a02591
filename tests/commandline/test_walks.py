"""`trundle walk`: which walks matter, how long one is, and that it is so long from now on."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.plan.records import Walk
from tests.commandline.running import in_a_process, on_monday, refused
from tests.days import opened
from tests.schools import reference_school


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """Nobody has said how long it is from Room 4 to Room 9, where there is no minute between the bells."""
    facts = [{"between": ["store", "4"], "minutes": 2}, {"between": ["store", "9"], "minutes": 1}]
    return reference_school(tmp_path / "school", school={"walks": facts})


def test_the_walks_that_matter_are_asked_with_what_to_type(data: Path) -> None:
    said = on_monday("walk", data=data)
    assert said.status == 0
    assert "  Room 4 to Room 9: 3 min, assumed (as by the store)" in said.out
    assert "Say one like this: trundle walk 4 9 3" in said.out
    assert "Room 14 to Room 11" not in said.out


def test_one_walk_is_shown_and_said_in_a_process_of_its_own(data: Path) -> None:
    shown = on_monday("walk", "9", "room 4", data=data)
    assert shown.out == "Room 9 to Room 4: 3 min, assumed (as by the store).\n"
    ran = in_a_process("walk", "9", "4", "1", "--date", "2026-10-05", "--at", "7:41", data=data)
    assert (ran.status, ran.err) == (0, "")
    told = " ".join(ran.out.split())
    assert "1 min from now on, either way. Before: 3 min, assumed (as by the store)." in told
    assert "The walk to V2 1-P takes 1 min, before it took 3; 0 min are between the bells." in told
    assert on_monday("walk", "4", "9", data=data).out == "Room 4 to Room 9: 1 min, said by you.\n"
    assert "Room 4 to Room 9" not in on_monday("walk", data=data).out


def test_a_walk_that_was_said_is_said_anew(data: Path) -> None:
    told = " ".join(on_monday("walk", "store", "4", "5", data=data).out.split())
    assert "The store to Room 4: 5 min from now on, either way. Before: 2 min, said by you." in told
    assert "Leave the store by 7:49." in told
    assert opened(data).plan.school.walks == (Walk(("store", "4"), 5), Walk(("store", "9"), 1))


@pytest.mark.parametrize("said", [("walk", "store", "4", "5"), ("change", "--longer-way", "4=3")])
def test_when_to_leave_is_said_as_morning_says_it_where_something_is_left_ahead(
    said: tuple[str, ...], tmp_path: Path
) -> None:
    # Common practice, no source: at the door of Room 4 by 7:54, 5 min before that from the store; there and back, 12.
    data = reference_school(tmp_path, school={"cart": {"half_slots": 4, "standing": {"scissors": 30}}})
    told = on_monday(*said, data=data).out
    assert "Leave ahead by 7:37" in told and "Leave the store by" not in told
    assert "Leave ahead by 7:37" in on_monday("morning", data=data).out
    assert "Leave ahead by 7:37. Leave the store by 7:49" in on_monday("sheet", data=data).out


def test_as_fields_for_scripts(data: Path) -> None:
    found = on_monday("walk", "4", "9", "2", "--json", data=data).fields
    assert (found["format"], found["page"], found["date"]) == (1, "walk", "2026-10-05")
    assert found["walks"] == [{"from": "4", "to": "9", "minutes": 2, "said": True, "why": ""}]
    assert found["before"] == {"from": "4", "to": "9", "minutes": 3, "said": False, "why": "as by the store"}
    assert any(each.startswith("The walk to V2 1-P") for each in found["follows"])
    asked = on_monday("walk", "--json", data=data).fields
    assert asked["before"] is None
    assert ("11", "21") in [(each["from"], each["to"]) for each in asked["walks"]]


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (("9",), "Say from where to where, and how many minutes: trundle walk 9 12 2."),
        (("9", "99", "2"), "There is no room 99 in the plan."),
        (("9", "9", "2"), "From a place to itself there is no way to walk."),
        (("9", "12", "99"), "A walk of 99 min is too long: 0 to 60."),
        (("9", "12", "soon"), "soon is not a whole number; write it like 18, as the last word: trundle walk 9 12 2."),
    ],
)
def test_what_cannot_be_is_refused_in_words_and_nothing_is_written(
    data: Path, typed: tuple[str, ...], why: str
) -> None:
    before = (data / "school.toml").read_bytes()
    assert why in " ".join(refused("walk", *typed, data=data).split())
    assert (data / "school.toml").read_bytes() == before


def test_undo_takes_no_walk_back_and_the_command_that_does_is_told(data: Path) -> None:
    before = on_monday("walk", "9", "12", data=data).out
    said = " ".join(on_monday("walk", "9", "12", "2", data=data).out.split())
    assert "where trundle undo takes nothing back: trundle walk 9 12 3 says what was assumed" in said
    on_monday("walk", "9", "12", "3", data=data)
    assert on_monday("walk", "9", "12", data=data).out.split("min")[0] == before.split("min")[0]
