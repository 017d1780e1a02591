"""What she counted, said by command: all she has, or what is in one container. Common practice, no source."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.commandline.running import monday_lines, on_monday, trundle
from tests.days import opened
from tests.schools import reference_school, small_school


def test_what_is_found_in_a_box_counts_whatever_was_thought(tmp_path: Path) -> None:
    data = reference_school(tmp_path, contents={"box-3": {"yarn-ball": 54}})
    assert monday_lines(data)["yarn-ball"]["add"] == 0
    ran = on_monday("count", "yarn", "ball", "38", "--in", "Box 3", data=data)
    assert (ran.status, ran.err) == (0, "")
    assert "Box 3: 38 yarn ball, 6 yd in it" in ran.out
    line = monday_lines(data)["yarn-ball"]
    assert (line["need"], line["has"], line["add"]) == (54, 38, 16)


def test_a_count_is_newer_than_the_tick_before_it_and_a_tick_newer_than_the_count(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    number = str(monday_lines(data)["yarn-ball"]["number"])
    on_monday("tick", number, data=data)
    on_monday("count", "yarn-ball", "50", "--in", "box-3", data=data)
    line = monday_lines(data)["yarn-ball"]
    assert (line["state"], line["has"], line["add"]) == ("part packed", 50, 4)
    on_monday("tick", number, data=data)
    assert monday_lines(data)["yarn-ball"]["state"] == "packed"


def test_more_found_than_was_short_makes_the_remedy_needless(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    number = str(monday_lines(data)["yarn-ball"]["number"])
    on_monday("tick", number, "--short", "20", "--remedy", "share", data=data)
    on_monday("count", "yarn-ball", "20", "--in", "box-3", data=data)
    assert (monday_lines(data)["yarn-ball"]["state"], monday_lines(data)["yarn-ball"]["remedy"]) == ("short", "share")
    on_monday("count", "yarn-ball", "60", "--in", "box-3", data=data)
    assert (monday_lines(data)["yarn-ball"]["state"], monday_lines(data)["yarn-ball"]["remedy"]) == ("packed", "")


def test_what_was_found_is_in_the_box_on_the_next_day_too(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    on_monday("count", "foam", "plate", "9", "--in", "box-2", data=data, at="14:30")
    for visit in range(1, 8):
        on_monday("report", f"V{visit}", "--outcome", "no", data=data, at="15:00")
    on_monday("close", data=data, at="15:10")
    lines = trundle("morning", "--json", "--date", "2026-10-14", data=data).fields["lines"]
    assert [line["has"] for line in lines if line["supply"] == "foam-plate"] == [9]


def test_all_she_has_of_a_supply_is_what_the_next_list_goes_by(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    before = monday_lines(data)["white-12x18"]["on_shelf"]
    ran = on_monday("count", "white", "paper", "12x18", "40", data=data)
    assert "white paper 12x18: 40 counted" in ran.out
    for visit in ("V1", "V2"):
        on_monday("report", visit, "--outcome", "no", data=data, at="15:00")
    on_monday("close", data=data, at="15:10")
    lines = trundle("morning", "--json", "--date", "2026-10-08", data=data).fields["lines"]
    assert before == 400
    assert [line["on_shelf"] for line in lines if line["supply"] == "white-12x18"] == [40]


def test_a_count_after_out_says_that_some_are_there(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("low", "white-12x18", "--level", "out", data=data)
    on_monday("count", "white-12x18", "40", data=data)
    for visit in ("V1", "V2"):
        on_monday("report", visit, "--outcome", "no", data=data, at="15:00")
    on_monday("close", data=data, at="15:10")
    lines = trundle("morning", "--json", "--date", "2026-10-08", data=data).fields["lines"]
    assert [line["on_shelf"] for line in lines if line["supply"] == "white-12x18"] == [40]


def test_what_was_out_is_so_no_longer_once_some_were_counted_and_what_was_low_stays_low(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    for supply, level in (("white-12x18", "out"), ("glue-stick", "low"), ("scissors", "out")):
        on_monday("low", supply, "--level", level, data=data)
    on_monday("close", data=data, at="15:10")
    for supply, count in (("white-12x18", "40"), ("glue-stick", "40"), ("scissors", "0")):
        trundle("count", supply, count, "--date", "2026-10-08", "--at", "7:41", data=data)
    book = opened(data, date(2026, 10, 9))
    assert book.opening(date(2026, 10, 9)).levels == {"glue-stick": "low", "scissors": "out"}
    book.release()


def test_a_count_is_undone(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    on_monday("count", "yarn-ball", "38", "--in", "box-3", data=data)
    assert "Taken back: Box 3: 38 yarn ball, 6 yd in it" in on_monday("undo", data=data).out
    assert monday_lines(data)["yarn-ball"]["has"] == 0


def test_a_count_for_scripts(tmp_path: Path) -> None:
    found = on_monday("count", "yarn-ball", "38", "--json", data=reference_school(tmp_path)).fields
    assert (found["page"], found["did"]) == ("count", ["yarn ball, 6 yd: 38 counted"])


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("yarnbal", "38"), "Did you mean yarn-ball?"),
        (("yarn-ball", "many"), "many is not a whole number"),
        (("yarn-ball", "-3"), "has no option -3"),
        (("yarn-ball",), "the supply, and how many"),
        (("yarn-ball", "38", "--in", "bxo-3"), "Did you mean box-3?"),
        (("yarn-ball", "38", "--in", "folder 3-B"), "nothing in it is counted"),
        (("paper", "38"), "Say which"),
    ],
)
def test_a_count_that_cannot_be_is_said_and_nothing_noted(tmp_path: Path, typed: tuple[str, ...], told: str) -> None:
    data = reference_school(tmp_path)
    ran = on_monday("count", *typed, data=data)
    assert ran.status == 2
    assert told in ran.err
    assert "nothing to undo" in on_monday("undo", data=data).out
