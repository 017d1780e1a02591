"""Another room, classes taught together, an interruption, no water, said by command on the reference school.

Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import Ran, on_monday
from tests.schools import reference_school, small_school


def change(data: Path, *typed: str) -> Ran:
    ran = on_monday("change", *typed, data=data)
    assert (ran.status, ran.err) == (0, "")
    assert all(len(row) <= 80 for row in ran.out.splitlines()) or "--json" in typed
    return ran


def fields(data: Path, *typed: str) -> dict[str, Any]:
    return change(data, *typed, "--json").fields


def words(ran: Ran) -> str:
    return " ".join(ran.out.split())


def test_an_assembly_is_said_with_what_falls_out_and_what_is_short(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = words(change(data, "--interrupt", "9:30-10:30=assembly"))
    assert "V3 3-B, P3 9:35, Room 12: comes again on Wed 14 Oct" in said
    assert "V3 3-K, P4: 10:40-11:10, 30 minutes, Room 14" in said
    assert "The part of 3-K needs 35 min, the period has 30: short 5." in said
    assert "Box 3: 28 yarn ball, 6 yd instead of 54" in said

    answered = on_monday("answer", "V3 3-K The part of", "teach half of it, the rest next time", data=data)
    assert answered.status == 0
    done = on_monday("report", "3-K", "--as-planned", data=data, at="15:00")
    assert "V3 3-K: about half, nobody missing" in done.out


def test_interruptions_add_up_until_none_is_said(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    change(data, "--interrupt", "9:30-10:30=assembly")
    found = fields(data, "--interrupt", "13:20-13:30=fire drill")
    assert [(each["class"], each["start"], each["end"]) for each in found["other_times"]] == [("4-D", "13:40", "14:00")]
    back = fields(data, "--interrupt", "none")
    assert [each["class"] for each in back["visits_in"]] == ["3-B"]
    assert {each["class"] for each in back["other_times"]} == {"3-K", "4-D"}


def test_classes_taught_together_are_said_with_what_moves_on(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = words(change(data, "--join", "3-B:3-K"))
    assert "V3 3-B: taught together with 3-K in V3; it goes on with it" in said
    assert "V3 3-K, Room 14: 49 children instead of 25, 24 of 3-B among them" in said
    assert "Stitching kit: 22 blunt needle (need 52, has 30)" in said
    found = fields(data, "--join", "3-B:own")
    assert [each["class"] for each in found["visits_in"]] == ["3-B"]


def test_another_room_is_said_with_the_way_there(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    said = words(change(data, "--room", "V6=room 9"))
    assert "V6 4-D: Room 9 instead of Room 21, 3 minutes on the way there" in said
    assert "lidded water jug" in said
    found = fields(data, "--room", "V6=own")
    assert [(each["room_before"], each["room"]) for each in found["other_rooms"]] == [("9", "21")]


def test_no_water_is_said_with_what_to_put_in(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    assert "Box K: 1 lidded dirty-water bucket; 1 lidded water jug" in words(change(data, "--water-off", "4"))
    assert "no water in Room 4" in on_monday("undo", data=data).out
    assert "no water everywhere" in words(change(data, "--water-off", "everywhere"))
    assert "water again" in words(change(data, "--water-off", "none"))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("--room", "V1=cellar"), "There is no room cellar in the plan."),
        (("--room", "V1=store"), "--room: no class is taught at the store."),
        (("--room", "V1"), "write it like V3=library, or V3=own"),
        (("--join", "3-B:3-B"), "--join: 3-B cannot join itself."),
        (("--join", "3-B:3-K", "--join", "3-K:3-B"), "3-K joins 3-B itself"),
        (("--join", "3-B"), "write it like 3-B:3-K, or 3-B:own"),
        (("--interrupt", "9:30"), "write it like 9:30-10:30=assembly, or none"),
        (("--interrupt", "10:30-9:30"), "ends before it begins; write it like 9:30-10:30"),
        (("--half", "V1=perhaps"), "write it like V4=yes"),
        (("--water-off", "99"), "There is no room 99 in the plan."),
        (("--no-school", "--join", "3-B:3-K"), "Where there is no school, nothing else can be different."),
    ],
)
def test_what_cannot_be_is_refused_in_words(tmp_path: Path, typed: tuple[str, ...], said: str) -> None:
    ran = on_monday("change", *typed, data=small_school(tmp_path))
    assert (ran.status, ran.out) == (2, "")
    assert said in " ".join(ran.err.split())
