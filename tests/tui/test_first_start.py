"""Setting up a school at the keyboard: one question a screen, words while typing, going back, stopping and going on."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from checklists.book import Book
from checklists.files.set_up_file import keep_set_up, read_set_up, what_is_in
from checklists.first_start.answers import Answers
from checklists.first_start.going import answered
from checklists.first_start.question import NotTaken, Question
from checklists.words import clean
from tests.first_start.answering import MONDAY_AT_7_20, run_through, way_of
from tests.first_start.test_asking import wordy
from tui.first_app import Chosen, FirstApp
from tui.screens.asking import shown_of
from tui.screens.set_up import SetUpScreen
from tui.widgets.question_page import rows_of

SIZES = pytest.mark.parametrize("size", [(80, 24), (60, 20)], ids=["80x24", "60x20"])
SOUP = "[b]x[/b] [@click=app.quit]y[/] \u202e\u05d0\u05d1 \x1b[31m \ud83c\udfa8🎨 {} %s $ink"


class Newcomer:
    """Somebody before the first screen, and the keys she has pressed."""

    def __init__(self, app: FirstApp, pilot: Pilot[Chosen]) -> None:
        self.app, self.pilot = app, pilot
        self.keys = 0

    async def press(self, *keys: str) -> None:
        self.keys += len(keys)
        await self.pilot.press(*keys)
        await self.pilot.pause()

    async def answer(self, text: str) -> None:
        """Type a text, all at once, and Enter."""
        self.keys += len(text)
        if text:
            self.app.screen.post_message(events.Paste(text))
        await self.press("enter")

    @property
    def shown(self) -> str:
        return "\n".join(strip.text.rstrip() for strip in self.app.screen._compositor.render_strips())

    @property
    def asking(self) -> SetUpScreen:
        screen = self.app.screen
        assert isinstance(screen, SetUpScreen)
        return screen

    @property
    def open_id(self) -> str:
        return self.asking.question().id


@asynccontextmanager
async def newcomer(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Newcomer]:
    app = FirstApp(folder, MONDAY_AT_7_20, what_is_in(folder))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield Newcomer(app, pilot)


def words_of(text: str) -> str:
    return " ".join(text.split())


def page_of(question: Question[Any], typed: str, size: tuple[int, int]) -> str:
    """What is to be read in a window of so many columns and rows; it must have room for it above the keys."""
    columns, rows = size[0] - 2, size[1] - 1
    answers = tuple(("Answer", "of before " * 20) for _ in range(9))
    page = rows_of(shown_of(question, typed, heading="Setting up", answers=answers), columns, rows)
    assert len(page) <= rows and all(row.cell_length <= columns for row in page)
    return words_of("\n".join(row.plain for row in page))


@SIZES
def test_every_question_is_there_in_full(size: tuple[int, int]) -> None:
    """What is asked, how it is typed, every choice, what Enter takes, what was understood or refused."""
    answers = Answers()
    while (question := way_of(answers).open) is not None:
        typed = wordy(question)
        nothing = page_of(question, "", size)
        for text in (question.text, question.how, question.say_default()):
            assert words_of(text) in nothing, (question.id, text, nothing)
        assert all(words_of(option.label) in nothing for option in question.options), nothing
        assert words_of(question.say(question.understood(typed))) in page_of(question, typed, size)
        for refused in ("?", "c", "7" * 30, SOUP):
            try:
                told = question.say(question.understood(refused))
            except NotTaken as problem:
                told = str(problem)
            assert words_of(clean(told)) in page_of(question, refused, size)
        answers = answered(answers, question, typed)


async def test_from_nothing_to_the_first_list_in_at_most_250_keys(tmp_path: Path) -> None:
    async with newcomer(tmp_path / "own") as she:
        await she.answer("2")
        while (question := she.asking.way.open) is not None:
            await she.answer(wordy(question))
        assert "6 visits" in she.shown
        await she.press("enter")
        assert she.app.return_value == "list"
        assert she.keys <= 250
    assert what_is_in(tmp_path / "own") == "a plan"
    with Book.open(tmp_path / "own", today=MONDAY_AT_7_20.date()) as book:
        day = book.day(book.list_date(MONDAY_AT_7_20.date()))
        assert not [each for each in book.problems if each.level == "grave"]
        assert [(visit.class_id, visit.steps[0].part) for visit in day.visits] == [
            (each, 2) for each in ("K-M", "1-P", "2-R", "3-B", "4-D", "5-H")
        ]
        assert day.day_name == "C" and day.lines


async def test_stopped_anywhere_she_goes_on_with_the_same_question(tmp_path: Path) -> None:
    folder = tmp_path / "own"
    for stopped_after in range(0, 12, 4):
        async with newcomer(folder) as she:
            await she.answer("2" if stopped_after == 0 else "1")
            assert len(read_set_up(folder).said) == stopped_after
            for _ in range(4):
                question = she.asking.way.open
                assert question is not None
                await she.answer(wordy(question))
            open_id = she.open_id
        async with newcomer(folder) as she:
            assert "Go on setting up" in she.shown and f"{stopped_after + 4} questions are answered" in she.shown
            await she.press("enter")
            assert she.open_id == open_id


async def test_what_cannot_be_taken_is_said_while_it_is_typed_and_enter_leaves_it(tmp_path: Path) -> None:
    async with newcomer(tmp_path / "own") as she:
        await she.answer("2")
        await she.answer("Applewick")
        await she.press("1", "3", "slash")
        assert "No date yet" in she.shown
        await she.press("9", "enter")
        assert she.open_id == "first day" and "There is no such day" in she.shown
        await she.press("backspace", "backspace", "backspace", "backspace", *"824", "enter")
        assert she.open_id == "first day"


async def test_esc_leaves_what_is_typed_and_then_shows_the_question_before(tmp_path: Path) -> None:
    async with newcomer(tmp_path / "own") as she:
        await she.answer("2")
        await she.answer("Applewick")
        await she.answer("8/24")
        await she.press("6", "escape")
        assert she.open_id == "last day"
        await she.press("escape")
        assert she.open_id == "first day" and "Enter: Mon 24 Aug 2026" in she.shown
        await she.press("escape")
        assert "Enter: Applewick" in she.shown
        await she.answer("Tansy Hollow")
        assert she.open_id == "last day"
        assert read_set_up(tmp_path / "own").said == {"school name": "Tansy Hollow", "first day": "2026-08-24"}
        await she.press("escape", "escape", "escape")
        assert "Go on setting up" in she.shown


async def test_set_up_afresh_keeps_what_was_said_before_beside_it(tmp_path: Path) -> None:
    async with newcomer(tmp_path / "own") as she:
        await she.answer("2")
        await she.answer("Applewick")
        await she.press("tab")
        await she.answer("2")
        assert she.open_id == "school name"
    assert "Applewick" in (tmp_path / "own" / "set-up.toml.before").read_text()
    assert what_is_in(tmp_path / "own") == "nothing"
    (tmp_path / "own" / "daybook").mkdir()
    assert what_is_in(tmp_path / "own") == "nothing"
    (tmp_path / "own" / "daybook" / "2026-11-30.toml").touch()  # written, and then the disk did not take the plan
    assert what_is_in(tmp_path / "own") == "half a set-up"


async def test_odd_text_in_every_question_shows_as_it_was_typed_and_harms_nothing(tmp_path: Path) -> None:
    async with newcomer(tmp_path / "own", (60, 20)) as she:
        await she.answer("2")
        while (question := she.asking.way.open) is not None:
            she.app.screen.post_message(events.Paste(SOUP))
            await she.pilot.pause()
            await she.pilot.pause()
            assert "\x1b" not in she.shown and "\u202e" not in she.shown
            assert "$ink_" in she.shown and she.app.is_running
            await she.press("enter")
            if she.asking.way.open is question:
                await she.press("escape")
                await she.answer("3-b 12" if question.id == "Mon/P2" else "")
        assert "[b]x[/b] [@click=app.quit]y[/]" in read_set_up(tmp_path / "own").said["school name"]
        await she.press("enter")
        assert she.app.return_value == "list"


async def test_a_folder_with_other_things_says_so_and_asks(tmp_path: Path) -> None:
    (tmp_path / "letter to parents.txt").write_text("Dear parents")
    async with newcomer(tmp_path) as she:
        assert "letter to parents.txt" in words_of(she.shown)
        await she.answer("2")
        assert she.open_id == "school name"
        await she.answer("Applewick")
    assert read_set_up(tmp_path).said == {"school name": "Applewick"}
    assert (tmp_path / "letter to parents.txt").read_text() == "Dear parents"


async def test_a_disk_that_refuses_is_told_and_the_question_stays(tmp_path: Path) -> None:
    (tmp_path / "own").write_text("a file where the folder should be")
    app = FirstApp(tmp_path / "own", MONDAY_AT_7_20, "nothing", straight=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        she = Newcomer(app, pilot)
        await she.answer("Applewick")
        assert "Not kept" in she.shown and she.open_id == "school name"


async def test_a_plan_that_cannot_be_written_leaves_the_answers_and_can_be_written_once_it_can(tmp_path: Path) -> None:
    own = tmp_path / "own"
    keep_set_up(own, run_through(wordy).answers)
    (own / "lessons").write_text("a file in the place of a folder")
    async with newcomer(own) as she:
        await she.press("enter", "enter")
        assert "Not saved" in she.shown and not (own / "school.toml").exists()
    assert what_is_in(own) == "half a set-up"
    (own / "lessons").unlink()
    async with newcomer(own) as she:
        await she.press("enter", "enter")
        assert she.app.return_value == "list"
    with Book.open(own, today=MONDAY_AT_7_20.date()) as book:
        assert [visit.steps[0].part for visit in book.day(MONDAY_AT_7_20.date()).visits] == [2] * 6


async def test_the_demo_is_what_enter_takes_first(tmp_path: Path) -> None:
    async with newcomer(tmp_path / "own") as she:
        await she.press("enter")
        assert she.app.return_value == "demo"
    assert not (tmp_path / "own").exists()
