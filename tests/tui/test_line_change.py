"""What is wrong with this line? A few keys from the line itself, written at once, and the list is right for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.plan.records import Item, Spare
from tests.days import TUESDAY
from tests.schools import MONDAY, a_lesson, a_part, an_item, small_school
from tests.tui.desk import Desk, at_desk

PAPER = "box-3/white-12x18"
SIZE_IN_FIVE_KEYS = "slash 1 2 5 enter"


def item_of(folder: Path, supply: str, lesson: str = "paper-hills", part: int = 1) -> Item:
    """The item as the files have it now."""
    with Book.open(folder, write=False) as book:
        assert not [each for each in book.problems if each.level == "grave"]
        items = book.plan.lesson_by_id[lesson].parts[part - 1].items
        return next(each for each in items if each.supply == supply)


def need(desk: Desk, key: str) -> int:
    return next(line.need for line in desk.book.day(MONDAY).lines if line.key == key)


async def choose(desk: Desk, words: str) -> None:
    """Open the list of a line's changes, and take the one that says these words."""
    await desk.press("slash")
    await go_down_to(desk, words)
    await desk.press("enter")


async def go_down_to(desk: Desk, words: str) -> None:
    for _ in range(40):
        row = next((each for each in desk.screen.splitlines() if each.startswith("▸")), "")
        if words in row:
            return
        await desk.press("down")
    raise AssertionError(f"{words!r} is not offered:\n{desk.screen}")


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """3-B (24) and 3-K (22) need white paper (51), glue sticks (27) and scissors for each pair on Monday."""
    return small_school(tmp_path)


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_25_not_24_takes_five_keys_from_the_line_and_the_list_is_right_at_once(
    school: Path, size: tuple[int, int]
) -> None:
    assert len(SIZE_IN_FIVE_KEYS.split()) <= 6
    async with at_desk(school, size=size) as desk:
        await desk.go_to(PAPER)
        await desk.press("enter")
        await desk.go_to(PAPER)
        assert need(desk, PAPER) == 51
        await desk.press(SIZE_IN_FIVE_KEYS)
        assert desk.in_hand == PAPER
        assert desk.book.plan.class_by_id["3-B"].students == 25
        assert need(desk, PAPER) == 47 + 5
        assert "3-B: 25 children. u takes it back." in desk.screen
        assert "Box 3: put in 1 white paper 12x18." in desk.screen
        await desk.press("u")
        assert desk.book.plan.class_by_id["3-B"].students == 24
        assert "Taken back: 3-B: 25 children." in desk.screen
        assert desk.in_hand == PAPER


async def test_the_left_hand_has_a_key_for_it_and_about_is_typed_with_an_a(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await desk.press("grave_accent 2 a 2 3 enter")
        assert desk.book.plan.class_by_id["3-K"].students == "about 23"


async def test_while_a_number_is_typed_it_says_why_it_cannot_be(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await desk.press("slash 1 2 x")
        assert "A number of children is written 25, or about 24" in desk.screen
        await desk.press("enter backspace 4")
        assert "3-B has 24 children already." in desk.screen
        await desk.press("enter escape escape")
        assert desk.in_hand == PAPER and desk.book.newest_files_step() is None


async def test_another_number_for_each_child_and_counted_by_table(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await choose(desk, "for each child: another number")
        await desk.press("2 enter")
        assert item_of(school, "white-12x18").count == 2
        assert need(desk, PAPER) == 92 + 10
        await choose(desk, "for each child: counted otherwise")
        await desk.press("t a b l e enter")
        assert item_of(school, "white-12x18").per == "table"
        assert need(desk, PAPER) == 2 * 6 * 2
        await desk.press("u u")
        assert item_of(school, "white-12x18") == Item("white-12x18", critical=True)


async def test_not_for_this_class_is_left_out_of_its_visits_only_and_may_be_taken_back(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to("box-3/glue-stick")
        await choose(desk, "not for 3-B")
        assert item_of(school, "glue-stick").not_for == ("3-B",)
        assert need(desk, "box-3/glue-stick") == 22 + 3
        assert desk.in_hand == "box-3/glue-stick"
        assert "Paper Hills, part 1: no glue stick for 3-B. u takes it back." in desk.screen
        await desk.press("u")
        assert item_of(school, "glue-stick").not_for == ()


async def test_not_any_more_takes_it_out_of_the_part_for_every_class(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to("box-3/glue-stick")
        await choose(desk, "not any more")
        assert all(line.supply != "glue-stick" for line in desk.book.day(MONDAY).lines)
        assert [each.supply for each in desk.book.plan.lesson_by_id["paper-hills"].parts[1].items] == [
            "glue-stick",
            "scissors",
        ]


async def test_critical_where_it_rides_and_what_comes_instead(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to("box-3/glue-stick")
        await choose(desk, "critical: the part cannot begin")
        assert item_of(school, "glue-stick").critical
        await choose(desk, "in another container")
        await desk.press("c a r t enter")
        assert item_of(school, "glue-stick").into == "cart"
        assert any(line.key == "cart/glue-stick" for line in desk.book.day(MONDAY).lines)
        await desk.go_to("cart/glue-stick")
        await choose(desk, "something else instead")
        await desk.press("y a r n enter")
        assert item_of(school, "yarn-ball").into == "cart"


async def test_what_a_rule_adds_is_switched_off_for_one_class_and_a_safety_rule_with_a_reason(tmp_path: Path) -> None:
    lesson = a_lesson("paint", [a_part("wash", [an_item("white-12x18")], tags=["watercolour"])])
    small_school(tmp_path, lessons=[lesson], teaching={"3": ["paint"]})
    async with at_desk(tmp_path) as desk:
        line = next(line for line in desk.book.day(MONDAY).lines if line.supply == "sponge")
        rule = next(each for each in desk.book.rules.rules if each.id == line.because[0].rule)
        await desk.go_to(line.key)
        await choose(desk, "not by rule")
        await desk.press("n o t space f o r space 3 space b enter")
        if rule.safety:
            assert "Local rules" in desk.screen
            await desk.press("enter")
            assert "only with a reason" in desk.screen
            await desk.press("t r i e d enter")
        off = desk.book.rules.off
        assert [(each.rule, each.class_id, each.lesson) for each in off] == [(rule.id, "3-B", "")]
        await desk.press("u")
        assert desk.book.rules.off == ()


async def test_the_supply_itself_its_shelf_the_count_and_the_spare(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await choose(desk, "another shelf")
        await desk.press("c 4 enter")
        await choose(desk, "counted now")
        await desk.press("3 1 0 enter")
        assert desk.book.marks(MONDAY).counted == {"white-12x18": 310}
        await choose(desk, "to spare as usual")
        await desk.press("2 0 percent_sign enter")
        paper = desk.book.plan.supply_by_id["white-12x18"]
        assert (paper.shelf, paper.spare) == ("c4", Spare(0, 20))
        assert need(desk, PAPER) == 46 + 10
        await desk.press("u u u")
        paper = desk.book.plan.supply_by_id["white-12x18"]
        assert (paper.shelf, paper.spare) == ("P1", None) and not desk.book.marks(MONDAY).counted


async def test_a_change_is_for_the_days_to_come_as_well_and_there_after_a_restart(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await desk.press(SIZE_IN_FIVE_KEYS)
    with Book.open(school, today=TUESDAY) as book:
        assert book.plan.class_by_id["3-B"].students == 25


async def test_the_page_that_says_why_leads_there_too(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await desk.press("w")
        assert "/ wrong?" in desk.screen
        await desk.press("slash")
        assert "white paper 12x18: what is wrong with it?" in desk.screen
        await desk.press("1 2 5 enter")
        assert desk.book.plan.class_by_id["3-B"].students == 25 and desk.in_hand == PAPER


@pytest.mark.parametrize(
    ("words", "field"), [("Paper Hills", "extension"), ("3-B", "tables"), ("white paper", "shelf")]
)
async def test_everything_about_the_supply_the_lesson_and_the_class_is_one_answer(
    words: str, field: str, school: Path
) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await choose(desk, f"everything about {words}")
        assert field in desk.rows
        await desk.press("escape")
        assert desk.in_hand == PAPER


async def test_the_notes_of_a_class_are_one_of_the_answers(school: Path) -> None:
    async with at_desk(school) as desk:
        await desk.go_to(PAPER)
        await choose(desk, "notes about 3-K")
        assert "3-K" in desk.screen and "Private" in desk.screen
        await desk.press("escape")
        assert desk.in_hand == PAPER
