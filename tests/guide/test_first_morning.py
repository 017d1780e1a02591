"""The first-morning guide says what is true: every key is there with that meaning, every page, every typed example."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.widgets import Static

import tui.keys
from checklists.daybook.shorthand import Shorthand, read_shorthand
from checklists.guide.first_morning import Step, first_morning, guide_file, plain
from checklists.pages.plain import wrap
from tests.commandline.running import trundle
from tests.tui.desk import Desk, at_desk
from tui.keys import KEY_NAMES, Key
from tui.screens.guide import GuideScreen
from tui.screens.more import PAGES

KEYS = guide_file().keys


@pytest.mark.parametrize("name", KEYS)
def test_every_key_of_the_guide_is_there_with_that_meaning(name: str) -> None:
    said = KEYS[name]
    table: tuple[Key, ...] = getattr(tui.keys, said.table)
    meant = [key for key in table if key.action == said.action and said.means in key.meaning]
    assert len(meant) == 1
    assert said.shown in [KEY_NAMES.get(key, key) for key in meant[0].keys]


def test_every_key_and_page_that_is_told_of_is_in_the_text_and_is_there() -> None:
    file = guide_file()
    blanks = set(re.findall(r"\{([^{}]+)\}", " ".join(f"{each.title} {each.text}" for each in file.steps)))
    assert blanks == set(file.keys) | {f"page {name}" for name in file.pages}
    for page in file.pages.values():
        assert len([row for row in PAGES if row.meaning.startswith(page)]) == 1


def test_it_is_read_in_a_few_minutes() -> None:
    """About twelve steps of three rows of 76 signs, 500 words: three minutes at 200 a minute (common practice)."""
    steps = first_morning()
    assert 11 <= len(steps) <= 14
    assert all(len(wrap(plain(step.text), width=76)) <= 3 for step in steps)
    assert sum(len(f"{plain(step.title)} {plain(step.text)}".split()) for step in steps) <= 600


def test_what_is_to_be_typed_of_a_visit_is_understood_as_it_is_told() -> None:
    told = next(plain(step.text) for step in first_morning() if "a4,11 3f" in plain(step.text))
    assert "4 and 11 absent, 3 not done" in told
    read = read_shorthand("a4,11 3f")
    assert isinstance(read, Shorthand)
    assert (read.absent, read.not_done) == ((4, 11), 3)


def test_it_says_who_decides_and_that_no_names_are_kept() -> None:
    said = " ".join(plain(step.text) for step in first_morning())
    for words in (
        "local rules, the nurse and the building's safety person decide",
        "never names",
        "class-list numbers",
    ):
        assert words in said


def test_the_command_prints_all_of_it_without_a_plan(tmp_path: Path) -> None:
    ran = trundle("guide", data=tmp_path / "none")
    said = " ".join(ran.out.split())
    assert ran.status == 0
    assert all(" ".join(plain(step.text).split()) in said for step in first_morning())
    assert max(map(len, ran.out.splitlines())) <= 80
    fields = trundle("guide", "--json").fields
    assert [each["title"] for each in fields["steps"]] == [plain(step.title) for step in first_morning()]
    assert "[Enter]" in fields["steps"][1]["keys"]


async def read_through(desk: Desk) -> str:
    """Every page of the guide, until it is left by itself."""
    read = ""
    while isinstance(desk.app.screen, GuideScreen):
        shown = desk.app.screen.query_one(Static)
        assert shown.virtual_size.height <= shown.size.height + 1, "a page is cut off"
        read += f" {desk.screen}"
        await desk.press("enter")
    return " ".join(read.split())


def words_of(step: Step) -> str:
    return " ".join(f"{plain(step.title)} {plain(step.text)}".split())


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_paging_through_it_shows_every_step_in_full(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_desk(tmp_path, size=size) as desk:
        await desk.open_page("The first morning, step by step")
        read = await read_through(desk)
        assert all(words_of(step) in read for step in first_morning())


async def test_it_is_one_key_away_from_any_help_and_leads_back_there(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("tab h g")
        assert isinstance(desk.app.screen, GuideScreen)
        await desk.press("f f r b")
        assert "Keys: More" in desk.screen


async def test_a_page_before_and_another_size_keep_what_was_read_in_sight(tmp_path: Path) -> None:
    async with at_desk(tmp_path) as desk:
        await desk.press("h g enter")
        top = desk.screen.splitlines()[2].strip()
        await desk.resize(60, 20)
        assert top in desk.screen
        await desk.press("left left left left")
        assert "Look at the line in hand" in desk.screen
