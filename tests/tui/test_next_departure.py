"""Morning after the first bell: the head, the order and the counts are of the stop at the store that comes next.

Monday of the reference school with a cart of two slots, common practice, no source: stops before school, after V2 (its
bell is 9:30, 1 min to the store and 2 there), and in the break after V4 (11:10), left by 12:22 for V5 at 12:30: 2 to
walk, 4 to set up and 2 of slack. In that break Box 2 is left ahead in Room 11 (6 min) and Box 5 in Room 23 (10 min).
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import LeftStore
from checklists.daybook.line_states import open_lines
from checklists.daybook.state import Place
from tests.commandline.running import trundle
from tests.schools import FRIDAY_BEFORE, MONDAY, in_the_evening, reference_school
from tests.tui.desk import at_desk
from tests.tui.test_leaving_ahead import TWO_SLOTS

NOON = datetime(2026, 10, 5, 12, 0)


def at(hour: int, minute: int) -> datetime:
    return datetime(2026, 10, 5, hour, minute)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_in_a_break_the_head_says_when_to_leave_with_what_is_left_ahead_in_it(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    reference_school(tmp_path, school=TWO_SLOTS)
    async with at_desk(tmp_path, size=size, now=NOON) as desk:
        assert "leave ahead by 12:06, 6 min left" in desk.screen
        for key in ("ahead/11", "ahead/23"):
            while desk.in_hand != key:
                await desk.press("c" if key not in desk.rows else "f")
            await desk.press("enter")
        assert "leave by 12:22, 22 min left" in desk.screen


async def test_what_was_to_be_left_ahead_for_a_visit_that_is_over_is_not_asked_any_more(tmp_path: Path) -> None:
    reference_school(tmp_path, school=TWO_SLOTS)
    async with at_desk(tmp_path, now=at(9, 0)) as desk:
        assert [each.key for each in desk.book.departure(MONDAY, 9 * 60).to_leave] == []
        assert "leave by 9:33, 33 min left" in desk.screen
        await desk.press("g")
        assert not any(row.startswith("ahead/") for row in desk.rows)


async def test_that_she_left_stands_there_until_the_visit_before_the_next_stop_has_begun(tmp_path: Path) -> None:
    reference_school(tmp_path, school=TWO_SLOTS)
    for now, said in ((at(8, 20), "left at 7:52"), (at(8, 50), "leave by 9:33, 43 min left")):
        async with at_desk(tmp_path, now=now) as desk:
            if not desk.book.marks(MONDAY).left:
                desk.book.do(MONDAY, LeftStore(at=at(7, 52), open_lines=()))
                await desk.press("tab b")
            assert said in desk.screen


async def test_after_the_last_stop_nothing_is_said_of_leaving(tmp_path: Path) -> None:
    reference_school(tmp_path, school=TWO_SLOTS)
    async with at_desk(tmp_path, now=at(13, 20)) as desk:
        head = desk.screen.splitlines()[:2]
        assert "leave" not in " ".join(head)
        assert "nothing to pack" in head[1]


async def test_the_order_stays_under_the_cursor_until_the_list_is_read_again(tmp_path: Path) -> None:
    reference_school(tmp_path, school=TWO_SLOTS)
    async with at_desk(tmp_path, now=at(7, 59)) as desk:
        in_hand, rows = desk.in_hand, desk.rows
        desk.app.now = lambda: at(8, 1)
        desk.app.screen.show_head()  # type: ignore[attr-defined]
        await desk.pilot.pause()
        assert (desk.in_hand, desk.rows) == (in_hand, rows)
        assert "leave by 9:33" in desk.screen


def test_now_and_for_later_are_the_same_on_the_page_in_answers_and_for_scripts(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school=TWO_SLOTS)
    typed = ("--date", "2026-10-05", "--at", "9:00")
    fields = trundle("morning", "--json", *typed, data=data).fields
    later = {each for group in fields["packing_order"][1:-1] for each in group["containers"]}
    assert fields["packing_order"][-1]["when"] == "out by now"
    waiting = sum(line["container"] in later for line in fields["lines"] if line["state"] == "open")
    number = next(
        line["number"] for line in fields["lines"] if line["container"] == "box-3" and line["state"] == "open"
    )
    said = f"{fields['open_now'] - 1} lines open, "
    ticked = trundle("tick", str(number), *typed, data=data).out
    assert said in ticked and f"; {waiting} for later" in ticked
    assert said in trundle("morning", *typed, data=data).out
    undone = trundle("undo", "--json", *typed, data=data).fields
    assert (undone["open_now"], undone["critical_now"]) == (fields["open_now"], fields["critical_now"])
    assert undone["open"] == fields["open"] > fields["open_now"]
    assert fields["leave_by"] == "9:33"


def test_the_list_still_has_every_line_of_the_day(tmp_path: Path) -> None:
    data = reference_school(tmp_path, school=TWO_SLOTS)
    page = trundle("morning", "--date", "2026-10-05", "--at", "9:00", data=data).out
    assert page.index("BOX 3") < page.index("NOT YET: AFTER V4") < page.index("OUT BY NOW") < page.index("BOX K")
    with Book.open(data, write=False) as book:
        lines = open_lines(book.day(MONDAY), book.marks(MONDAY))
        departure = book.departure(MONDAY, 9 * 60)
        placed = {each for group in departure.groups for each in group.containers}
        assert {line.container for line in lines} <= placed


def test_what_only_visits_that_are_over_needed_is_not_fetched_any_more(tmp_path: Path) -> None:
    """The Watercolour kit stayed in Room 11 on Friday and is needed by V1 alone."""
    data = in_the_evening(
        reference_school(tmp_path, school=TWO_SLOTS), places={"watercolour": Place("11", FRIDAY_BEFORE, "P5")}
    )
    typed = ("morning", "--date", "2026-10-05", "--at")
    assert "FETCH Watercolour kit" in trundle(*typed, "7:40", data=data).out
    assert "FETCH" not in trundle(*typed, "9:00", data=data).out
