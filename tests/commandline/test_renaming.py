"""`trundle rename` and `trundle uses`: another name everywhere, and what uses a thing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commandline.running import in_a_process, on_monday, refused
from tests.days import opened
from tests.schools import MONDAY, small_school


@pytest.fixture
def data(tmp_path: Path) -> Path:
    return small_school(tmp_path / "school")


def test_a_class_is_renamed_in_a_process_of_its_own_and_called_as_before_again(data: Path) -> None:
    before = {path.name: path.read_bytes() for path in data.glob("*.toml")}
    with opened(data) as book:
        files = book.plan_files
    said = in_a_process("rename", "class", "3-B", "3-W", data=data)
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith("Class 3-B is called 3-W now, in what was told of earlier days too.")
    assert "trundle rename class 3-W 3-B calls it so again." in said.out
    with opened(data) as book:
        assert [visit.class_id for visit in book.day(MONDAY).visits] == ["3-W", "3-K"]
    assert on_monday("rename", "class", "3-W", "3-B", data=data).status == 0
    with opened(data) as book:
        assert book.plan_files == files
    assert before.keys() == {path.name for path in data.glob("*.toml")}


def test_the_fields_of_both_pages(data: Path) -> None:
    uses = on_monday("uses", "supply", "glue stick", "--json", data=data).fields
    assert (uses["page"], uses["name"], [each["said"] for each in uses["uses"]]) == (
        "uses",
        "glue-stick",
        ["Paper Hills, part 1: 1 for each student", "Paper Hills, part 2: 1 for each student"],
    )
    renamed = on_monday("rename", "room", "12", "the barn", "--json", data=data).fields
    assert renamed["did"] == ["Room 12 is called the barn now"]
    assert [each["said"] for each in renamed["uses"]] == ["class 3-B is taught there"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("rename", "class", "3-B", "3-K"), 'There is a class "3-K" already'),
        (("rename", "lesson", "paper-hills", "hills"), "A lesson keeps its id"),
        (("rename", "teacher", "a", "b"), "Say class, room, period, day or bells first"),
        (("uses", "kit", "past"), 'There is no kit "past"'),
        (("uses", "lesson", "paper hill"), 'Did you mean "Paper Hills"'),
    ],
)
def test_what_cannot_be_is_said(data: Path, typed: tuple[str, ...], said: str) -> None:
    assert said in " ".join(refused(*typed, data=data).split())
