"""How it stands on the screen: 24 classes in the main window, most behind first, with scrolling; and by command."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from checklists.plan.class_notes import classes_of, need
from tests.commandline.running import trundle
from tests.days import MONDAY, TUESDAY, close, opened, teach
from tests.schools import demo_school, reference_school
from tests.tui.desk import at_desk
from tui.widgets.line_list import LineList


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_24_classes_are_one_page_to_go_through(size: tuple[int, int], tmp_path: Path) -> None:
    today = demo_school(tmp_path / "school")
    async with at_desk(tmp_path / "school", size=size, now=datetime(today.year, today.month, today.day, 7, 41)) as desk:
        await desk.press("tab")
        page = next(row for row in desk.screen.splitlines() if "How it stands" in row)
        await desk.press(page.split()[0].lstrip("▸") or page.split()[1])
        rows = [row.name for row in desk.app.screen.query_one(LineList).rows if row.key.startswith("Grade")]
        assert len({row.split()[0] for row in rows}) == 24
        behind = [int(row.split("plan")[1].split()[0]) for row in rows]
        assert behind[0] == min(behind) < 0
        assert "plan" in desk.screen.splitlines()[2]
        await desk.press(" ".join(["down"] * 28))
        assert "Missed 2 or more" in desk.screen
        await desk.press("b")
        assert "What else?" in desk.screen


def test_the_command_says_it_and_gives_it_to_scripts(tmp_path: Path) -> None:
    school = reference_school(tmp_path)
    with opened(school, TUESDAY) as book:
        book.change_classes(need(classes_of(book.plan), "3-B", "fine-motor", 2))
        teach(book, MONDAY, "3-B", "not taught")
        teach(book, MONDAY, "3-K", absent=(4, 11))
        close(book)
    ran = trundle("look-back", "--date", "2026-10-06", data=school)
    assert ran.status == 0, ran.err
    [row] = [row for row in ran.out.splitlines() if row.strip().startswith("3-B")]
    assert row.split() == ["3-B", "Burlap", "Birds", "2", "of", "4", "plan", "-1", "grade", "-1"]
    assert "3-K: 4: part 2; 11: part 2" in ran.out
    assert max(map(len, ran.out.splitlines())) <= 80
    fields = trundle("look-back", "--date", "2026-10-06", "--json", data=school).fields
    of_class = {each["class"]: each for each in fields["classes"]}
    assert (of_class["3-B"]["to_plan"], of_class["3-B"]["to_furthest"]) == (-1, -1)
    owed = [each for each in fields["owed"] if each["class"] == "3-K"]
    assert [(each["part"], each["numbers"]) for each in owed] == [(2, [4, 11])]
    assert "fine" not in ran.out + str(fields)
