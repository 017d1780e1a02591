"""Why is it there? One key from wherever a thing stands in hand. What must be told: common practice, no source."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.demo import DEMO_TIME
from checklists.pages.reasons import is_hidden, without_repeats
from tests.schools import MONDAY, demo_school, small_school
from tests.tui.desk import at_desk
from tui.widgets.message_line import MessageLine


async def test_a_line_tells_its_visits_its_sum_what_is_in_it_and_how_to_change_it(tmp_path: Path) -> None:
    async with at_desk(small_school(tmp_path), size=(100, 40)) as desk:
        line = next(line for line in desk.book.day(MONDAY).lines if line.supply == "white-12x18")
        await desk.go_to(line.key)
        await desk.press("w")
        told = " ".join(desk.screen.split())
        assert (
            "Needed today: 51. V1 3-B takes 24 and V2 3-K 22, which add up to 46; 5 more are spare or in reserve."
            in told
        )
        assert "In it: 0; 51 to add." in told
        assert "Paper Hills, part 1 (lessons/paper-hills.toml)" in told
        assert "habits in school.toml" in told


async def test_what_comes_back_counts_for_the_largest_visit(tmp_path: Path) -> None:
    async with at_desk(small_school(tmp_path), size=(100, 40)) as desk:
        line = next(line for line in desk.book.day(MONDAY).lines if line.supply == "scissors")
        await desk.go_to(line.key)
        await desk.press("w")
        assert "it comes back, so the largest visit counts" in " ".join(desk.screen.split())


@pytest.mark.parametrize("keys", ["g", "e"])
async def test_before_she_goes_and_at_the_days_end_w_tells_why_and_b_goes_back(tmp_path: Path, keys: str) -> None:
    async with at_desk(small_school(tmp_path)) as desk:
        await desk.press(keys)
        asked = desk.in_hand
        await desk.press("w")
        assert desk.screen.lstrip().startswith("Why ")
        await desk.press("b")
        assert desk.in_hand == asked


async def test_every_row_before_leaving_and_at_the_days_end_has_a_why(tmp_path: Path) -> None:
    """The demo school: invented."""
    on = demo_school(tmp_path / "demo")
    async with at_desk(tmp_path / "demo", now=datetime.combine(on, DEMO_TIME)) as desk:
        for keys in ("g", "e"):
            await desk.press(keys)
            seen = set()
            while desk.in_hand not in seen:
                seen.add(desk.in_hand)
                if not desk.in_hand.startswith("folded"):
                    await desk.press("w")
                    assert desk.screen.lstrip().startswith("Why "), seen
                    await desk.press("b")
                await desk.press("right" if len(seen) % 2 else "down")
            await desk.press("b")


async def test_each_caution_is_said_once_and_can_be_asked_why(tmp_path: Path) -> None:
    """The demo school: invented."""
    on = demo_school(tmp_path / "demo")
    async with at_desk(tmp_path / "demo", size=(100, 40), now=datetime.combine(on, DEMO_TIME)) as desk:
        day = desk.book.day(on)
        public = [each for each in day.cautions if not is_hidden(each, private=False)]
        once = without_repeats(public, day.visits)
        assert len(once) < len(public)
        await desk.press("i")
        for caution, _ in once:
            assert desk.rows.count(caution.key) == 1
            while desk.in_hand != caution.key:
                await desk.press("down")
            await desk.press("w")
            titles = {because.rule_title for because in caution.because if because.rule_title}
            assert all(f"Rule: {title}" in desk.screen for title in titles)
            assert ("The same for" in desk.screen) is ("The same for" in caution.what)
            await desk.press("b")
            assert desk.in_hand == caution.key


async def test_what_has_no_rule_behind_it_says_so(tmp_path: Path) -> None:
    """The demo school: invented."""
    on = demo_school(tmp_path / "demo")
    async with at_desk(tmp_path / "demo", now=datetime.combine(on, DEMO_TIME)) as desk:
        await desk.press("i w")
        assert "no rule behind it" in desk.app.screen.query_one(MessageLine).said.plain
