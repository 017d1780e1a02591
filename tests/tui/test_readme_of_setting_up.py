"""The README's section on setting it up: what it names is on the screen, its line to paste is the one of the demo."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checklists.demo import open_demo
from checklists.lesson_types.shipped import lesson_types
from tests.tui.desk import at_desk
from tui.keys import CART_SHEET
from tui.screens.more import PAGES
from tui.screens.plan_subjects import SUBJECTS
from tui.screens.set_up import BACKUP, QUIT

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
SECTION = " ".join(README.partition("## Setting it up, for teachers")[2].partition("\n## ")[0].split())


def test_every_page_it_sends_her_to_is_there_by_that_name() -> None:
    named = set(re.findall(r"`Tab`, \*([^*]+)\*", SECTION))
    assert {"The cart sheet", "Set up and change", "Back up everything", "Your own school"} <= named
    meanings = [each.meaning for each in PAGES]
    for name in named - {"Your own school"}:
        assert any(meaning.startswith(name) for meaning in meanings), name
    labels = [each.label for each in SUBJECTS]
    assert labels[-1] == "An icon to start it" and "at the very end *An icon to start it*" in SECTION
    assert "Bring in what exists" in labels and "*Bring in what exists*" in SECTION


def test_the_keys_on_the_cart_sheet_are_those_it_names() -> None:
    keys = {each.action: each.keys for each in CART_SHEET}
    assert (keys["open_page"], keys["open_text"]) == (("o",), ("x",))
    assert "*The cart sheet*, then `o`" in SECTION and "`x` in place of `o`" in SECTION


def test_as_many_usual_lessons_are_there_as_it_says() -> None:
    assert len(lesson_types()) == 14 and "out of fourteen usual lessons" in SECTION


def test_what_to_choose_for_moving_to_another_computer_is_called_so() -> None:
    assert f"choose *{BACKUP.label}*" in SECTION and f"*{QUIT.label}*" in SECTION


async def test_the_demo_school_leads_to_ones_own(tmp_path: Path) -> None:
    open_demo(tmp_path / "demo")
    async with at_desk(tmp_path / "demo") as desk:
        await desk.press("tab")
        assert "Your own school" in desk.screen


@pytest.mark.parametrize("line", ["python3 -m venv .venv && .venv/bin/pip install --quiet . && .venv/bin/trundle"])
def test_the_line_to_paste_is_that_of_the_demo(line: str) -> None:
    assert f"```\n{line} demo\n```" in README
    assert f"``` {line} ```" in SECTION
