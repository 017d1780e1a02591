"""What is known of a class, and noting something about it without the screen."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import monday_lines, on_monday, trundle
from tests.schools import reference_school
from tests.tui.test_class_notes import school_with_rubber_bands


def class_in_file(folder: Path, ident: str) -> dict[str, Any]:
    classes = tomllib.loads((folder / "classes.toml").read_text(encoding="utf-8"))["classes"]
    return next(each for each in classes if each["id"] == ident)


def test_a_latex_note_tells_what_must_come_out_and_keeps_the_ticks(tmp_path: Path) -> None:
    """Situation T28."""
    school_with_rubber_bands(tmp_path)
    lines = monday_lines(tmp_path)
    numbers = [str(lines[supply]["number"]) for supply in ("rubber-band", "foam-plate")]
    on_monday("tick", *numbers, data=tmp_path)
    ran = on_monday("class", "2-r", "--avoid", "lat", data=tmp_path, at="8:30")
    assert ran.status == 0, ran.err
    assert "2-R: avoids latex." in ran.out
    assert "Box 2: rubber band must not come along. Use cotton tie instead. Take out" in " ".join(ran.out.split())
    after = monday_lines(tmp_path)
    assert after["rubber-band"]["state"] == "forbidden"
    assert after["foam-plate"]["state"] == "packed"
    on_monday("class", "2-R", "--avoid-no-more", "latex", data=tmp_path)
    assert monday_lines(tmp_path)["rubber-band"]["state"] == "packed"


def test_several_things_are_noted_in_one_go(tmp_path: Path) -> None:
    reference_school(tmp_path)
    ran = on_monday(
        *("class", "2-R", "--need", "fine-motor=2", "--students", "about 24", "--adults", "2", "--has", "glue-stick"),
        data=tmp_path,
    )
    assert ran.status == 0, ran.err
    kept = class_in_file(tmp_path, "2-R")
    assert kept["needs"] == [{"need": "fine-motor", "count": 2}]
    assert (kept["students"], kept["adults"], kept["has"]) == ("about 24", 2, ["glue-stick"])


def test_number_7_left_and_comes_back_under_its_number(tmp_path: Path) -> None:
    """Situation T16."""
    reference_school(tmp_path)
    ran = on_monday("class", "2-R", "--left", "7,9", data=tmp_path)
    assert "21 children" in ran.out
    kept = class_in_file(tmp_path, "2-R")
    assert (kept["students"], kept["left"]) == (21, [7, 9])
    on_monday("class", "2-R", "--back", "9", data=tmp_path)
    assert class_in_file(tmp_path, "2-R")["students"] == 22


def test_needs_and_what_is_avoided_are_printed_only_with_private(tmp_path: Path) -> None:
    reference_school(tmp_path)
    on_monday("class", "2-R", "--need", "fine-motor=2", "--avoid", "latex", data=tmp_path)
    public = trundle("class", "2-R", data=tmp_path).out
    assert "23 children" in public and "2 notes about needs" in public
    assert "fine-motor" not in public and "latex" not in public
    private = trundle("class", "2-R", "--private", data=tmp_path).out
    assert "fine-motor" in private and "latex" in private
    fields = trundle("class", "2-R", "--json", data=tmp_path).fields
    assert fields["classes"][0]["private_left_out"] == 2
    assert not {"needs", "avoid"} & fields["classes"][0].keys()
    with_private = trundle("class", "2-R", "--json", "--private", data=tmp_path).fields["classes"][0]
    assert with_private["needs"] == [{"need": "fine-motor", "count": 2, "tables": []}]
    assert with_private["avoid"] == ["latex"]


def test_without_a_class_all_of_them_are_shown(tmp_path: Path) -> None:
    reference_school(tmp_path)
    shown = trundle("class", "--json", data=tmp_path).fields["classes"]
    assert [each["class"] for each in shown] == ["K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("class", "9-Z", "--avoid", "latex"), "There is no class 9-Z"),
        (("class", "2-R", "--avoid", "latecks"), "Did you mean latex?"),
        (("class", "2-R", "--need", "fine-motor"), "write it like fine-motor=2"),
        (("class", "2-R", "--need", "noise=40"), "2-R has 23 children"),
        (("class", "2-R", "--students", "many"), "write 25"),
        (("class", "2-R", "--left", "44"), "44"),
        (("class", "2-R", "--left", "x"), "class-list number"),
        (("class", "2-R", "--back", "7"), "has not left"),
        (("class", "2-R", "--adults", "0"), "1 to 6"),
        (("class", "2-R", "--has", "e"), "Say which"),
        (("class", "--avoid", "latex"), "Say which class"),
    ],
)
def test_what_is_not_right_is_told_and_nothing_is_written(tmp_path: Path, typed: tuple[str, ...], said: str) -> None:
    reference_school(tmp_path)
    before = (tmp_path / "classes.toml").read_bytes()
    ran = on_monday(*typed, data=tmp_path)
    assert ran.status == 2
    assert said in " ".join(ran.err.split())
    assert (tmp_path / "classes.toml").read_bytes() == before
