"""Before she goes, and the end of the day. Budgets of keys: common practice, no source."""

from __future__ import annotations

from pathlib import Path

from checklists.daybook.before_leaving import before_leaving
from checklists.daybook.day_end import at_day_end
from checklists.daybook.matters import MISSED, REACHED, SHARPS, OpenMatter
from tests.schools import MONDAY
from tests.tui.desk import AT_7_41, Desk, at_desk
from tui.widgets.message_line import MessageLine


def waiting(desk: Desk) -> list[OpenMatter]:
    """What the end of the day still asks."""
    found = at_day_end(desk.book.plan, desk.book.day(MONDAY), desk.book.marks(MONDAY), AT_7_41)
    return [matter for matter in found if not matter.answer]


async def test_before_she_goes_what_is_critical_stands_first_with_a_plain_count(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        matters = before_leaving(desk.book.day(MONDAY), desk.book.marks(MONDAY), AT_7_41)
        later = desk.book.departure(MONDAY).later
        now = [matter for matter in matters if matter.container not in later]
        critical = sum(matter.critical for matter in now)
        await desk.press("g")
        told = f"{len(now)} things are still open, {critical} of them critical. {len(matters) - len(now)} for later."
        assert told in desk.screen
        assert desk.rows[1 : 1 + critical] == [matter.key for matter in now if matter.critical]
        await desk.press("f " * len(now))
        assert "For later: after V4, lunch and planning" in desk.screen


async def test_each_open_thing_is_answered_there_with_one_digit(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("g")
        before = len(desk.rows)
        await desk.press("1")
        assert len(desk.rows) == before - 1
        await desk.press("u")
        assert len(desk.rows) == before


async def test_leaving_with_open_lines_is_one_key_and_written_down(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("g g")
        left = desk.book.marks(MONDAY).left
        assert left is not None
        open_keys = {key for key, state in desk.states().items() if state in ("open", "part packed", "forbidden")}
        assert set(left.open_lines) == open_keys
        await desk.press("b")
        assert "left at 7:41" in desk.screen


async def test_the_day_end_asks_for_sharps_first(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        first = waiting(desk)[0]
        assert first.section == SHARPS
        assert desk.in_hand == first.key


async def test_as_planned_never_answers_for_sharps(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        before = desk.entries()
        await desk.press("a")
        assert desk.entries() == before


async def test_all_back_is_one_key_and_counts_only_the_line_in_hand(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        matter = waiting(desk)[0]
        await desk.press("equals_sign")
        counted = desk.book.marks(MONDAY).sharps
        assert list(counted) == [(matter.visit, matter.supply)]
        assert counted[matter.visit, matter.supply].back == matter.out


async def test_seven_visits_as_planned_are_closed_with_at_most_60_keys(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        keys = 0

        async def press(pressed: str) -> None:
            nonlocal keys
            keys += len(pressed.split())
            await desk.press(pressed)

        await press("e")
        while waiting(desk):
            current = next(matter for matter in waiting(desk) if matter.key == desk.in_hand)
            await press("a" if current.section == REACHED else "equals_sign" if current.typed == "count" else "1")
            assert keys <= 60
        await press("c")
        assert desk.book.is_closed(MONDAY)
        assert keys <= 60
        assert all(report.outcome == "done" for report in desk.book.marks(MONDAY).reports.values())


async def test_absent_numbers_are_typed_in_the_same_line(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        matter = next(matter for matter in waiting(desk) if matter.section == MISSED)
        while desk.in_hand != matter.key:
            await desk.press("down")
        await desk.press("space 4 space 1 1")
        assert "4 11_" in desk.screen
        assert not desk.book.marks(MONDAY).reports
        await desk.press("enter")
        assert desk.book.marks(MONDAY).reports[matter.visit].absent == (4, 11)


async def test_a_sharp_that_did_not_come_back_stays_on_top_of_the_next_day(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        matter = waiting(desk)[0]
        await desk.press(" ".join(["space", *str(matter.out - 1), "enter", "c", "c", "b", "b", "d"]))
        assert desk.book.is_closed(MONDAY)
        tuesday = desk.book.day(MONDAY).next_school_day
        assert tuesday is not None and desk.book.day(tuesday).cases
        assert desk.book.day(tuesday).cases[0][:30] in desk.screen


async def test_a_text_that_makes_no_sense_is_told_in_words_and_nothing_is_written(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        before = desk.entries()
        await desk.press("space p p enter")
        assert "how many came back" in desk.app.screen.query_one(MessageLine).said.plain
        assert desk.entries() == before


async def test_letters_while_typing_never_close_the_day(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e space 1 c q g")
        assert not desk.book.is_closed(MONDAY)
        assert "1_" in desk.screen


async def test_the_day_end_can_be_left_and_taken_up_again_also_after_a_restart(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e 1")
        left = len(waiting(desk))
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        assert len(waiting(desk)) == left
        assert desk.in_hand == waiting(desk)[0].key


async def test_who_is_not_done_and_another_part_are_typed_at_the_end_of_the_day(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        matter = next(matter for matter in waiting(desk) if matter.key == "reached/P3 3-B")
        while desk.in_hand != matter.key:
            await desk.press("down")
        await desk.press("space i 3 space f 9 comma 1 2 enter")
        report = desk.book.marks(MONDAY).reports["P3 3-B"]
        assert (report.outcome, report.reached_part, report.not_done_numbers) == ("another part", 3, (9, 12))
        await desk.press("u")
        assert "P3 3-B" not in desk.book.marks(MONDAY).reports


async def test_half_time_is_typed_behind_who_missed_it(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("e")
        matter = next(matter for matter in waiting(desk) if matter.key == "missed/P3 3-B")
        while desk.in_hand != matter.key:
            await desk.press("down")
        await desk.press("4 space 6 h enter")
        report = desk.book.marks(MONDAY).reports["P3 3-B"]
        assert (report.absent, report.half) == ((4,), (6,))
