"""The first plan is written once: cut off anywhere it is there or is not, and a second window writes over nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.files.daybook_folder import load
from checklists.files.safely import NotSaved
from checklists.files.set_up_file import keep_set_up, read_set_up, what_is_in
from checklists.files.year_pending import finish_what_was_cut_off
from checklists.first_start.answers import Answers
from checklists.first_start.making import made_from
from checklists.first_start.question import NotTaken
from checklists.first_start.starting import start_with
from tests.days import packed
from tests.first_start.answering import MONDAY_AT_7_20, answered, by_question, run_through, way_of
from tests.lost.stopping import cut_off_at_every_step

RUN = run_through(by_question(Mon_P1="3-B 12", Mon_P2="4-D 14"))


def finish(folder: Path) -> None:
    start_with(folder, RUN.said, made_from(RUN.said), MONDAY_AT_7_20)


def test_cut_off_anywhere_the_next_start_has_the_plan_or_all_answers_and_can_finish(tmp_path: Path) -> None:
    begun = tmp_path / "begun"
    keep_set_up(begun, RUN.answers)
    seen = set()
    for folder in cut_off_at_every_step(begun, tmp_path / "school", finish):
        finish_what_was_cut_off(folder)
        holds = what_is_in(folder)
        seen.add(holds)
        if holds != "a plan":
            assert holds == "half a set-up" and read_set_up(folder).said == RUN.answers.said
            finish(folder)
        with Book.open(folder) as book:
            assert not [each for each in book.problems if each.level == "grave"]
            assert [each.class_id for each in book.day(MONDAY_AT_7_20.date()).visits] == ["3-B", "4-D"]
    assert seen == {"a plan", "half a set-up"}


def test_a_second_window_that_comes_to_the_end_later_takes_no_tick_away(tmp_path: Path) -> None:
    folder, monday = tmp_path / "school", MONDAY_AT_7_20.date()
    finish(folder)
    with Book.open(folder) as book:
        book.do(monday, packed(book.day(monday).lines[0]))
    before = load(folder, monday).record
    with pytest.raises(NotSaved, match=r"There is a school\.toml already"):
        finish(folder)
    assert load(folder, monday).record == before


def test_answers_that_do_not_read_are_kept_beside_the_new_ones(tmp_path: Path) -> None:
    damaged = 'format = 7\n[answers]\n"school name" = "Applewick"\n'
    (tmp_path / "set-up.toml").write_text(damaged, "utf-8")
    assert read_set_up(tmp_path) == Answers()
    keep_set_up(tmp_path, Answers({"school name": "A"}))
    keep_set_up(tmp_path, Answers({"school name": "B"}))
    assert (tmp_path / "set-up.toml.before").read_text("utf-8") == damaged
    assert read_set_up(tmp_path).said == {"school name": "B"}


@pytest.mark.parametrize("lunch", ["23:50", "19:45"])
def test_a_lunch_in_the_night_is_asked_again_at_once(lunch: str) -> None:
    way = way_of(Answers())
    answers = Answers()
    while way.open is not None and way.open.id != "lunch":
        answers = answered(answers, way.open, "")
        way = way_of(answers)
    assert way.open is not None
    with pytest.raises(NotTaken, match="20:00"):
        answered(answers, way.open, lunch)
