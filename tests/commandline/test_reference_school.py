"""The reference school's Monday, as a script reads it. Quantities and spares are common practice, no source."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from tests.commandline.running import on_monday
from tests.schools import reference_school

NEEDS = {
    ("box-K", "backing-12x18"): 23,
    ("box-1", "base-12x18"): 26,
    ("box-1", "green-6x9"): 76,
    ("box-1", "glue-stick"): 25,
    ("box-3", "yarn-ball"): 54,
    ("stitching", "blunt-needle"): 27,
    ("box-2", "white-9x12"): 26,
    ("box-4", "clay-portion"): 29,
    ("cart", "scissors"): 29,
}


def test_needs_of_consumed_things_add_up_and_of_tools_are_the_largest_visits(tmp_path: Path) -> None:
    lines = on_monday("morning", "--json", data=reference_school(tmp_path)).fields["lines"]
    found: Counter[tuple[str, str]] = Counter()
    for line in lines:  # clay is on two lines, a pail each
        found[line["container"], line["supply"]] += line["need"]
    assert {key: found[key] for key in NEEDS} == NEEDS


def test_seven_visits_in_time_order_and_a_time_to_leave(tmp_path: Path) -> None:
    found = on_monday("morning", "--json", data=reference_school(tmp_path)).fields
    assert [each["class"] for each in found["visits"]] == ["K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]
    assert found["leave_by"] == "7:52"


def test_what_is_in_a_box_already_is_not_asked_for_again(tmp_path: Path) -> None:
    held = {"box-3": {"yarn-ball": 38}, "box-1": {"glue-stick": 22}}
    lines = on_monday("morning", "--json", data=reference_school(tmp_path, contents=held)).fields["lines"]
    found = {(line["container"], line["supply"]): (line["need"], line["has"], line["add"]) for line in lines}
    assert found["box-3", "yarn-ball"] == (54, 38, 16)
    assert found["box-1", "glue-stick"] == (25, 22, 3)


def test_counts_out_are_told_for_each_visit_at_the_days_end(tmp_path: Path) -> None:
    matters = on_monday("close", "--look", "--json", data=reference_school(tmp_path), at="15:00").fields["matters"]
    told = {each["key"]: each["text"] for each in matters if each["key"].startswith("count/")}
    assert "13 scissors" in told["count/P3 3-B/scissors"]
    assert "14 scissors" in told["count/P4 3-K/scissors"]
    assert "29 scissors" in told["count/P7 5-H/scissors"]
