"""Faults that a cold look found in what containers hold and what she has: counts, use, what is missing, a changed plan.

On the small and the reference school; common practice, no source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import (
    AnyEntry,
    CameUpShort,
    CountedSharps,
    CountedStock,
    FoundInContainer,
    FoundLevel,
    Packed,
)
from tests.days import (
    FRIDAY,
    NEXT_MONDAY,
    THURSDAY,
    at,
    close,
    line_of,
    lines_of,
    opened,
    packed,
    teach,
    teach_all,
)
from tests.schools import (
    MONDAY,
    a_kit,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    in_the_evening,
    reference_school,
    small_school,
    write_toml,
)

WHITE = "white-12x18"
"""On Mon 5 Oct of the small school 24 and 22 sheets are used and 51 packed; she has 400."""


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(small_school(tmp_path))


def pack_all(book: Book) -> None:
    for line in book.day(MONDAY).lines:
        book.do(MONDAY, packed(line))


def white_after(book: Book) -> tuple[int, int]:
    """White sheets she has, and in Box 3, after Monday."""
    state = book.closing_of(MONDAY)
    return state.on_hand[WHITE], state.contents.get("box-3", {}).get(WHITE, 0)


def in_stock(count: int, clock: str) -> CountedStock:
    return CountedStock(at=at(clock), supply=WHITE, count=count)


def in_the_box(count: int, clock: str) -> FoundInContainer:
    return FoundInContainer(at=at(clock), container="box-3", supply=WHITE, count=count)


# ------------------------------------------------------------------------------------------ counts and use


@pytest.mark.parametrize(
    ("looks", "left"),
    [
        ([], (354, 5)),
        ([in_stock(350, "15:08"), in_the_box(4, "15:09")], (350, 4)),
        ([in_stock(350, "7:50")], (304, 5)),
        ([in_stock(350, "8:47")], (328, 5)),  # after the first visit, before the second of 22
        ([in_the_box(49, "7:50")], (354, 3)),
        ([in_the_box(26, "8:47")], (354, 4)),
        ([in_the_box(4, "15:09")], (354, 4)),
        ([in_the_box(0, "15:09")], (354, 0)),
    ],
)
def test_a_count_is_reduced_only_by_what_was_used_after_it(
    book: Book, looks: list[AnyEntry], left: tuple[int, int]
) -> None:
    pack_all(book)
    before = [each for each in looks if each.at < at("15:00")]
    for each in before:
        book.do(MONDAY, each)
    teach_all(book, MONDAY)
    for each in looks:
        if each not in before:
            book.do(MONDAY, each)
    assert white_after(book) == left


def test_a_line_ticked_after_a_look_into_the_box_is_newer_than_the_look(book: Book) -> None:
    book.do(MONDAY, in_the_box(0, "7:35"))
    pack_all(book)
    teach_all(book, MONDAY)
    assert white_after(book) == (354, 5)


def test_a_count_after_a_box_came_up_short_is_what_she_has(tmp_path: Path) -> None:
    school = in_the_evening(small_school(tmp_path), contents={"box-3": {WHITE: 10}}, on_hand={WHITE: 400})
    book = opened(school)
    book.do(MONDAY, CameUpShort(at=at("7:40"), line=f"box-3/{WHITE}", count=4))
    assert white_after(book)[0] == 400 - 6 - 4  # six were never there, four are used
    book.do(MONDAY, in_the_box(0, "15:02"))
    assert white_after(book) == (390, 0)
    book.do(MONDAY, in_stock(350, "15:03"))
    assert white_after(book) == (350, 0)


def test_a_part_packed_line_uses_at_most_what_was_packed(book: Book) -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), WHITE), 20))
    teach_all(book, MONDAY)
    assert white_after(book) == (380, 0)


def test_what_is_out_on_the_shelf_is_still_in_the_box(book: Book) -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), WHITE)))
    book.do(MONDAY, FoundLevel(at=at("7:50"), supply=WHITE, level="out"))
    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id, "not taught")
    assert white_after(book) == (51, 51)


def yarn_with_100_in_the_box(folder: Path) -> Book:
    """The reference school with 300 yarn balls, of which 100 are in Box 3: 24 and 25 children take one each."""
    return opened(
        in_the_evening(reference_school(folder, contents={"box-3": {"yarn-ball": 100}}), on_hand={"yarn-ball": 300})
    )


def test_what_went_further_used_is_for_those_who_came(tmp_path: Path) -> None:
    book = yarn_with_100_in_the_box(tmp_path)
    teach_all(book, MONDAY, but=("3-K",))
    teach(book, MONDAY, "3-K", "went further", reached_part=3, absent=(1, 2, 3, 4, 5))
    state = book.closing_of(MONDAY)
    used = 24 + 20 + 20  # two parts for the 20 of 25 who came
    assert (state.on_hand["yarn-ball"], state.contents["box-3"]["yarn-ball"]) == (300 - used, 100 - used)


def test_nor_is_that_taken_off_a_count_made_after_it(tmp_path: Path) -> None:
    book = yarn_with_100_in_the_box(tmp_path)
    teach_all(book, MONDAY, but=("3-K",))
    teach(book, MONDAY, "3-K", "went further", reached_part=3)
    book.do(MONDAY, CountedStock(at=at("15:08"), supply="yarn-ball", count=222))
    book.do(MONDAY, FoundInContainer(at=at("15:09"), container="box-3", supply="yarn-ball", count=22))
    state = book.closing_of(MONDAY)
    assert (state.on_hand["yarn-ball"], state.contents["box-3"]["yarn-ball"]) == (222, 22)


# ---------------------------------------------------------------------------------------- what is missing


def needles_in_two_containers(folder: Path) -> Book:
    """Part one takes needles from the box, part two from a kit; nobody has told of Monday, so both are along."""
    parts = [a_part("one", [an_item("needle", into="box")]), a_part("two", [an_item("needle", into="sewing")])]
    return opened(
        small_school(
            folder,
            lessons=[a_lesson("sew", parts, kits=["sewing"])],
            teaching={"3": ["sew"]},
            supplies=[
                a_supply("needle", kind="tool", sharp=True, on_hand=100),
                a_supply("scissors", kind="tool"),
            ],
            boxes=[{"grade": "3", "standing": {"needle": 40}}],
            kits=[a_kit("sewing", {"needle": 40})],
        ),
        THURSDAY,
    )


def test_one_missing_needle_is_taken_from_one_container_only(tmp_path: Path) -> None:
    book = needles_in_two_containers(tmp_path)
    book.do(MONDAY, FoundLevel(at=at(), supply="scissors", level="low"))
    assert {line.container for line in lines_of(book.day(THURSDAY), "needle")} == {"box-3", "sewing"}
    book.do(THURSDAY, CountedSharps(at=at("15:00", THURSDAY), visit="P1 3-B", supply="needle", out=26, back=25))
    state = book.closing_of(THURSDAY)
    assert state.on_hand["needle"] == 99
    assert state.contents["box-3"]["needle"] + state.contents["sewing"]["needle"] == 79


# --------------------------------------------------------------------------------- the plan, in mid-year


Change = Callable[[dict[str, Any]], None]


def change_supplies(book: Book, change: Change, today: date) -> Book:
    """The book with its supplies file changed by hand, opened on a later day."""
    book.release()
    file = book.folder / "supplies.toml"
    supplies = tomllib.loads(file.read_text())
    change(supplies)
    write_toml(file, supplies)
    return opened(book.folder, today)


@pytest.fixture
def after_a_week(book: Book) -> Book:
    """Monday and Thursday told and closed: 354 white sheets are left."""
    for day in (MONDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    assert book.opening(FRIDAY).on_hand[WHITE] == 354
    return book


def recount(on: date) -> Change:
    def change(file: dict[str, Any]) -> None:
        paper = next(each for each in file["supplies"] if each["id"] == WHITE)
        paper.update(on_hand=900, counted=on)

    return change


def test_a_supply_added_in_mid_year_is_on_the_shelf(after_a_week: Book) -> None:
    file = after_a_week.folder / "lessons" / "paper-hills.toml"
    lesson = tomllib.loads(file.read_text())
    lesson["parts"][1]["items"].append(an_item("felt"))  # 3-K has part 2 on the next Monday
    write_toml(file, lesson)
    book = change_supplies(
        after_a_week, lambda supplies: supplies["supplies"].append(a_supply("felt", on_hand=200)), NEXT_MONDAY
    )
    assert line_of(book.day(NEXT_MONDAY), "felt").on_shelf == 200
    teach_all(book, NEXT_MONDAY)
    close(book, NEXT_MONDAY)
    assert book.closing_of(NEXT_MONDAY).on_hand["felt"] == 200 - 22


def test_a_newer_count_in_the_plan_stands_and_is_used_up_from_then_on(after_a_week: Book) -> None:
    book = change_supplies(after_a_week, recount(FRIDAY), NEXT_MONDAY)
    assert book.opening(NEXT_MONDAY).on_hand[WHITE] == 900
    for day in (NEXT_MONDAY, date(2026, 10, 15)):
        book.today = day
        teach_all(book, day)
        close(book, day)
    assert book.opening(date(2026, 10, 16)).on_hand[WHITE] == 900


def test_it_stands_also_when_a_day_before_it_is_corrected(after_a_week: Book) -> None:
    book = change_supplies(after_a_week, recount(FRIDAY), NEXT_MONDAY)
    teach(book, MONDAY, "3-B", "not taught")
    assert book.opening(THURSDAY).on_hand[WHITE] == 400 - 22
    assert book.opening(NEXT_MONDAY).on_hand[WHITE] == 900


def test_a_count_in_the_plan_older_than_the_daybooks_changes_nothing(after_a_week: Book) -> None:
    after_a_week.do(THURSDAY, CountedStock(at=at("15:20", THURSDAY), supply=WHITE, count=340))
    book = change_supplies(after_a_week, recount(MONDAY), NEXT_MONDAY)
    assert book.opening(NEXT_MONDAY).on_hand[WHITE] == 340


def test_a_kit_that_is_removed_holds_no_stock(tmp_path: Path) -> None:
    supplies = [
        a_supply(WHITE, kind="paper", on_hand=400),
        a_supply("glue-stick", returns=True),
        a_supply("scissors", kind="tool", sharp=True),
        a_supply("yarn-ball", on_hand=100),
    ]
    book = opened(small_school(tmp_path, kits=[a_kit("winding", {"yarn-ball": 60})], supplies=supplies))
    for day in (MONDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.release()
    write_toml(tmp_path / "kits.toml", {"boxes": [{"grade": "3"}], "kits": []})
    line = line_of(opened(tmp_path, NEXT_MONDAY).day(NEXT_MONDAY), "yarn-ball")
    assert (line.container, line.on_shelf) == ("box-3", 100)


def test_what_was_packed_into_a_line_that_is_gone_stays_in_its_container(book: Book) -> None:
    book.do(MONDAY, Packed(at=at("7:41"), line="box-3/yarn-ball", count=9))
    assert book.closing_of(MONDAY).contents["box-3"]["yarn-ball"] == 9
