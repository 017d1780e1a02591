"""What can be done about a line that is short: sharing, another supply, more of it, or what going without means.

Numbers are worked out beside each check from class sizes and spares of the reference school: common practice.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.remedies import Way, remedies_for
from checklists.daybook.stock_now import stock_now
from tests.days import lines_of, opened
from tests.schools import MONDAY, a_supply, in_the_evening, reference_school, reference_supplies


def school(folder: Path, *, on_hand: dict[str, int] | None = None, **contents: dict[str, int]) -> Book:
    """The reference school with glue bottles to use in place of glue sticks."""
    supplies = [
        each | {"instead": "glue-bottle"} if each["id"] == "glue-stick" else each for each in reference_supplies()
    ]
    bottles = a_supply("glue-bottle", "liquid glue", shelf="G2")
    held = {"cart": {"scissors": 30}, **{key.replace("_", "-"): inside for key, inside in contents.items()}}
    data = reference_school(folder, supplies=[*supplies, bottles], contents=held)
    return opened(in_the_evening(data, on_hand=on_hand or {}))


def ways(book: Book, container: str, supply: str, there: int) -> dict[str, Way]:
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    (line,) = [each for each in lines_of(day, supply) if each.container == container]
    stock = stock_now(book.plan, day, marks, book.opening(MONDAY))
    return {way.remedy: way for way in remedies_for(book.plan, day, line, marks, stock, there)}


def of_glue(folder: Path, there: int, **more: Any) -> dict[str, Way]:
    return ways(school(folder, box_1={"glue-stick": 28}, **more), "box-1", "glue-stick", there)


def test_glue_sticks_are_shared_by_pairs(tmp_path: Path) -> None:
    """22 children: 11 pairs and the usual spare of 2 are 13."""
    share = of_glue(tmp_path, 20)["share"]
    assert (share.needs, share.enough, share.label) == (13, True, "share: per pair 11 and 2 spare, 13: enough")


def test_where_pairs_are_too_many_tables_share(tmp_path: Path) -> None:
    """6 tables and 2 spare are 8."""
    share = of_glue(tmp_path, 9)["share"]
    assert (share.needs, share.enough) == (8, True)
    assert share.words.startswith("per table 6 and 2 spare")


def test_where_nothing_is_enough_it_says_how_many_are_short_still(tmp_path: Path) -> None:
    share = of_glue(tmp_path, 7)["share"]
    assert (share.needs, share.enough, share.words) == (13, False, "per pair 11 and 2 spare, 13: 6 short still")


def test_eighteen_scissors_do_for_twenty_seven_children_in_pairs(tmp_path: Path) -> None:
    """Situation T44: 5-H needs 29, 12 are lent; 14 pairs and 1 spare are 15. The thirds use them per pair already."""
    share = ways(school(tmp_path), "cart", "scissors", 18)["share"]
    assert (share.needs, share.enough, share.words) == (15, True, "per pair 14 and 1 spare, 15: enough")


def test_needles_of_the_largest_class_count_not_of_all(tmp_path: Path) -> None:
    """25 children of 3-K: 13 pairs and 1 spare; the 24 of 3-B use the same ones an hour before."""
    share = ways(school(tmp_path, stitching={"blunt-needle": 20}), "stitching", "blunt-needle", 20)["share"]
    assert (share.needs, share.enough) == (14, True)


def test_what_is_used_up_is_shared_by_both_classes(tmp_path: Path) -> None:
    """12 + 13 pairs of the thirds, and 10 % spare: 25 + 3 yarn balls."""
    share = ways(school(tmp_path), "box-3", "yarn-ball", 30)["share"]
    assert (share.needs, share.enough) == (28, True)


def test_a_sheet_of_paper_is_not_shared(tmp_path: Path) -> None:
    found = ways(school(tmp_path), "box-1", "base-12x18", 20)
    assert (found["share"].words, found["share"].enough) == ("", None)
    assert found["make more"].label == "make more: cut 6"  # 22 + 4 spare = 26


@pytest.mark.parametrize(("bottles", "enough"), [(12, True), (4, False)])
def test_another_supply_is_said_with_what_is_on_the_shelf(tmp_path: Path, bottles: int, enough: bool) -> None:
    other = of_glue(tmp_path, 20, on_hand={"glue-bottle": bottles})["use another"]
    assert other.words == f"5 liquid glue, {bottles} on shelf G2"
    assert other.enough is enough


def test_where_nobody_counted_the_other_supply_it_is_not_called_enough(tmp_path: Path) -> None:
    other = of_glue(tmp_path, 20)["use another"]
    assert (other.words, other.enough) == ("5 liquid glue, from shelf G2", None)


def test_more_is_fetched_from_the_shelf(tmp_path: Path) -> None:
    """60 in all, 28 of them thought to be in the box: 32 on the shelf."""
    fetch = of_glue(tmp_path, 20, on_hand={"glue-stick": 60})["fetch"]
    assert (fetch.words, fetch.enough) == ("5 from shelf G1, 32 to spare there", True)


def test_or_from_a_container_that_has_more_than_it_needs(tmp_path: Path) -> None:
    """Box 5 needs 27 + 3 = 30 glue sticks and holds 37."""
    fetch = of_glue(tmp_path, 20, box_5={"glue-stick": 37})["fetch"]
    assert (fetch.words, fetch.enough) == ("5 from Box 5, 7 to spare there", True)


def test_a_container_that_needs_its_own_gives_nothing_away(tmp_path: Path) -> None:
    assert of_glue(tmp_path, 20, box_5={"glue-stick": 30})["fetch"].words == ""


@pytest.mark.parametrize(
    ("there", "words"), [(20, "2 children have none"), (21, "1 child has none"), (22, "only the spare is missing")]
)
def test_going_without_says_for_how_many(tmp_path: Path, there: int, words: str) -> None:
    assert of_glue(tmp_path, there)["go without"].words == words


def test_a_class_folder_has_no_way_round(tmp_path: Path) -> None:
    book = school(tmp_path)
    assert {way.label for way in ways(book, "box-3", "folder 3-B", 0).values()} == {
        "share",
        "use another",
        "make more",
        "fetch",
        "go without",
    }
