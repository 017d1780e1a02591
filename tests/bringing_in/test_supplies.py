"""Supplies from a table: what is new, what is counted anew, and what a name says of its kind."""

from __future__ import annotations

from datetime import date

import pytest

from checklists.plan.records import Supply
from tests.bringing_in.schools import brought, said


def test_new_ones_and_counts_by_headings() -> None:
    text = "Item,Qty,Pack,Location\nyarn ball,40,,Y2\nGoogly eyes (large),2 packs,100,D3\nScissors,plenty,,\n"
    understood = brought("supplies", text.replace("yarn ball", '"Yarn ball, 6 yd"'), on=date(2026, 10, 5))
    now = {each.id: each for each in understood.files.supplies}
    assert now["googly-eyes-large"] == Supply(
        "googly-eyes-large", "Googly eyes (large)", pack=100, shelf="D3", on_hand=200, counted=date(2026, 10, 5)
    )
    assert said(understood, "changes") == [
        "yarn ball, 6 yd: 40 there instead of not said; shelf Y2 instead of Y1",
        "scissors: plenty instead of not said",
    ]
    assert (now["yarn-ball"].on_hand, now["yarn-ball"].counted) == (40, date(2026, 10, 5))
    assert now["scissors"].sharp and now["scissors"].counted is None


@pytest.mark.parametrize(
    ("name", "kind", "sharp", "marks"),
    [
        ("Fiskars-free kids' scissors", "tool", True, ("scissors",)),
        ("construction paper 12x18 red", "paper", False, ()),
        ("craft knives", "tool", True, ()),
        ("sponge brushes", "tool", False, ()),
        ("tempera, blue", "material", False, ()),
    ],
)
def test_a_name_says_the_kind_and_what_is_sharp(name: str, kind: str, sharp: bool, marks: tuple[str, ...]) -> None:
    # Which words mean a tool or something sharp: common practice, no source.
    new = brought("supplies", f'name,on hand\n"{name}",10\n').files.supplies[-1]
    assert (new.kind, new.sharp, new.marks) == (kind, sharp, marks)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("yarn,12-14,", 'yarn: "12-14" is no number of pieces.'),
        ("yarn,3 packs,", 'yarn: How many are in a pack of "3 packs" is not known.'),
        ("yarn,3,gizmo", 'yarn: "gizmo" is no kind.'),
        (",3,", "No name stands there."),
    ],
)
def test_a_row_that_is_not_understood(row: str, why: str) -> None:
    (wrong,) = brought("supplies", f"name,on hand,kind\nfelt,10,\n{row}\n").those_that("not understood")
    assert (wrong.number, wrong.said) == (3, why)
    assert wrong.to_do


def test_without_headings_names_come_first_and_counts_are_numbers() -> None:
    understood = brought("supplies", "felt squares\t120\tD1\npipe cleaners\tlow\tD2\n")
    assert understood.notes[0] == "Column 1 is the name, column 2 how many there are, column 3 the shelf."
    assert said(understood, "adds") == [
        "felt squares: material, 120 there, shelf D1",
        "pipe cleaners: material, low, shelf D2",
    ]


def test_two_names_that_look_alike_have_ids_of_their_own_and_one_name_twice_is_told() -> None:
    understood = brought("supplies", "name,on hand\nfelt!,1\nfelt ?,2\nfelt+1,3\n")
    assert [each.id for each in understood.files.supplies[-2:]] == ["felt", "felt-1"]
    assert said(understood, "not understood") == ["felt! stands in row 2 already, with something else."]


@pytest.mark.parametrize(
    "name", ["White paper 12 x 18", "white paper 12x18", 'white paper, 12" x 18"', "WHITE PAPER 12×18 in."]
)
def test_a_sheet_is_the_same_however_its_size_is_written(name: str) -> None:
    """12 × 18 in and 12x18: both are found in price lists of schools; common practice, no source."""
    understood = brought("supplies", "Item,Qty\nwhite paper 12 × 18 in,100\n")
    again = brought("supplies", f"Item\tQty\tLocation\n{name}\t500\tshelf A2\n", understood.files)
    assert said(again, "changes") == ["white paper 12 × 18 in: 500 there instead of 100; shelf A2 instead of not said"]
