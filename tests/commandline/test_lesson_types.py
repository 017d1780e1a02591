"""`trundle lesson-types`: the list, one in full, and a lesson of her own made from one."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commandline.running import said, trundle
from tests.schools import small_school


def test_the_list_needs_no_plan_and_says_what_the_children_make(tmp_path: Path) -> None:
    ran = trundle("lesson-types", data=tmp_path / "nothing")
    assert ran.status == 0
    assert "Clay pot, 2 parts, grades K-5." in ran.out
    assert max(map(len, ran.out.splitlines())) <= 80
    types = trundle("lesson-types", "--json").fields["types"]
    assert {"id", "title", "description", "grades", "parts"} == set(types[0])
    assert {each["id"]: each["parts"] for each in types}["stitching"] == 3


def test_one_in_full_has_its_quantities_for_24_children(tmp_path: Path) -> None:
    """24 portions of ½ lb, 2 to spare; 7 days to dry and 2 school days in the kiln. Common practice, no source."""
    ran = trundle("lesson-types", "--show", "clay", "--grade", "K")
    assert "26  small portion of wet clay without talc, ½ lb: critical" in ran.out
    assert "next part: 9 days later at the earliest" in ran.out
    assert "conforms to ASTM D4236" in " ".join(ran.out.split())
    fields = trundle("lesson-types", "--show", "Stitching on burlap", "--json").fields
    needs = {line["supply"]: (line["need"], line["counted"]) for line in fields["taught"][0]["lines"]}
    assert needs["blunt-needle"] == (26, True)
    assert (fields["children"], fields["tables"], fields["grade"]) == (24, 6, "3")


def test_a_lesson_of_hers_is_made_and_what_came_with_it_is_told(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = said("lesson-types", "--start", "clay", "--title", "Pinch Owls", data=data)
    assert "Pinch Owls is a lesson of yours now" in ran.out
    assert "clay cutting wire with handles" in ran.out
    assert "New kit: Clay." in ran.out
    assert (data / "lessons" / "pinch-owls.toml").is_file()
    assert trundle("check", data=data).status == 0
    again = said("lesson-types", "--start", "clay", "--title", "Pinch Owls", "--json", data=data).fields
    assert (again["lesson"], again["supplies"], again["kits"]) == ("pinch-owls-2", [], [])


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        (("--show", "stichting"), "Did you mean stitching?"),
        (("--show", "macrame"), "trundle lesson-types shows them."),
        (("--show", "p"), "There is no lesson type p."),
        (("--show", "clay", "--start", "clay"), "Give one of them."),
        (("--title", "Owls"), "give --start"),
        (("--show", "clay", "--grade", "9"), "is no grade"),
    ],
)
def test_what_is_not_understood_is_answered_in_words(typed: tuple[str, ...], answer: str) -> None:
    ran = trundle("lesson-types", *typed)
    assert ran.status == 2
    assert answer in ran.err


def test_where_there_is_no_plan_nothing_is_made(tmp_path: Path) -> None:
    ran = trundle("lesson-types", "--start", "clay", data=tmp_path / "none")
    assert ran.status == 2
    assert "trundle" in ran.err
    assert not (tmp_path / "none").exists()
