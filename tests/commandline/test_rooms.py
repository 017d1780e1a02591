"""`trundle rooms`: what is known, what the list turns on, what is so from now on; and the questions on the list."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.plan.records import Room
from tests.commandline.running import on_monday
from tests.days import opened
from tests.schools import reference_school


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return reference_school(tmp_path / "school")


def test_what_is_known_and_what_not_and_what_the_list_turns_on(data: Path) -> None:
    said = on_monday("rooms", data=data)
    assert said.status == 0
    assert "Room 4: a sink and 12 drying places. Not known: carpet and projector." in said.out
    assert "Room 11, V5 2-R: is the floor carpeted?" in said.out
    assert "Say it like this: trundle rooms 4 --carpet yes" in said.out


def test_several_facts_of_a_room_are_one_step_and_what_follows_is_told(data: Path) -> None:
    said = on_monday("rooms", "21", "--carpet", "yes", "--drying", "30", data=data)
    told = " ".join(said.out.split())
    assert "Room 21 has a carpet; Room 21 has 30 drying places, from now on." in told
    assert "drop sheet" in told
    assert "As before again: trundle rooms 21 --carpet unknown --drying unknown" in told
    assert opened(data).plan.room_by_id["21"] == Room("21", sink=True, carpet=True, drying_places=30, upstairs=True)


def test_it_is_taken_back_by_what_is_told(data: Path) -> None:
    with opened(data) as book:
        before = book.plan.room_by_id["21"]
    on_monday("rooms", "21", "--carpet", "yes", "--drying", "30", data=data)
    on_monday("rooms", "21", "--carpet", "unknown", "--drying", "unknown", data=data)
    assert opened(data).plan.room_by_id["21"] == before


def test_as_json_with_null_for_what_is_not_known(data: Path) -> None:
    (room,) = on_monday("rooms", "21", "--json", data=data).fields["rooms"]
    assert room == {
        "room": "21",
        "sink": True,
        "carpet": None,
        "projector": None,
        "drying_places": None,
        "asked": ["carpet", "drying_places"],
    }


def test_the_list_asks_in_words_and_in_json_and_not_once_it_was_answered(data: Path) -> None:
    told = on_monday("morning", data=data).out
    assert " ?  Room 4, V1 K-M: is the floor carpeted?" in told and "answer: trundle rooms 4 --carpet no" in told
    asked = on_monday("morning", "--json", data=data).fields["questions"]
    first = next(each for each in asked if each["about"] == "room")
    assert (first["room"], first["fact"], first["class"]) == ("4", "carpet", "K-M")
    on_monday("rooms", "4", "--carpet", "no", data=data)
    assert "Room 4, V1 K-M" not in on_monday("morning", data=data).out


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (("99", "--sink", "yes"), "There is no room 99"),
        (("store", "--sink", "yes"), "The store is no room"),
        (("--sink", "yes"), "Say which room"),
        (("12", "--sink", "perhaps"), "is not one of yes, no or unknown"),
        (("12", "--drying", "many"), "is not a whole number"),
        (("12", "--drying", "900"), "0 to 500"),
    ],
)
def test_what_cannot_be_is_refused_in_words(typed: tuple[str, ...], why: str, data: Path) -> None:
    assert why in on_monday("rooms", *typed, data=data).err
