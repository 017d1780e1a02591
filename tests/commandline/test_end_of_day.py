"""After the visits: what became of each, what is unresolved, closing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commandline.running import on_monday, trundle
from tests.schools import small_school


def after_monday(data: Path) -> dict[str, object]:
    """What is on Thursday's list, when 3-B comes again."""
    return trundle("morning", "--json", "--date", "2026-10-08", "--at", "7:41", data=data).fields


def test_a_class_that_was_done_goes_on_to_its_next_part(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("report", "V1", "--as-planned", "--count", "scissors=13/13", data=data, at="12:00").status == 0
    assert on_monday("report", "3-K", "--as-planned", "--count", "scissors=12/12", data=data, at="12:01").status == 0

    closed = on_monday("close", data=data, at="15:10")

    assert (closed.status, closed.err) == (0, "")
    assert "is closed" in closed.out
    visits = after_monday(data)["visits"]
    assert isinstance(visits, list)
    assert visits[0]["steps"] == [{"lesson": "paper-hills", "part": 2}]


def test_a_class_that_was_not_taught_stays_where_it_is(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V1", "--outcome", "no", data=data, at="12:00")
    on_monday("close", data=data, at="15:10")
    visits = after_monday(data)["visits"]
    assert isinstance(visits, list)
    assert visits[0]["steps"] == [{"lesson": "paper-hills", "part": 1}]


def test_who_missed_a_part_gets_a_catch_up_line(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V1", "--outcome", "done", "--missed", "4,11", data=data, at="12:00")
    on_monday("close", data=data, at="15:10")
    lines = after_monday(data)["lines"]
    assert isinstance(lines, list)
    paper = [line for line in lines if line["supply"] == "white-12x18" and line["class"] == "3-B"]
    assert [line["need"] for line in paper] == [2]


def test_a_later_word_on_a_visit_keeps_what_was_said_before(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V1", "--missed", "4,11", data=data, at="12:00")
    ran = on_monday("report", "V1", "--not-done", "3", "--json", data=data, at="12:01")
    assert ran.status == 0
    assert "3" in ran.fields["did"][0]
    on_monday("close", data=data, at="15:10")
    lines = after_monday(data)["lines"]
    assert isinstance(lines, list)
    assert [line["need"] for line in lines if line["supply"] == "white-12x18" and line["class"] == "3-B"] != []


def test_a_missing_sharp_is_unresolved_and_comes_back_every_day(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V1", "--as-planned", "--count", "scissors=13/12", data=data, at="12:00")

    looked = on_monday("close", "--look", data=data, at="15:10")
    assert looked.status == 1
    assert "SHARPS" in looked.out
    assert "1" in looked.out

    on_monday("close", data=data, at="15:10")
    cases = after_monday(data)["cases"]
    assert isinstance(cases, list)
    assert len(cases) == 1
    assert "Missing: 1 scissors" in trundle("morning", "--date", "2026-10-08", "--at", "7:41", data=data).out


def test_a_missing_sharp_that_was_reported_is_answered_by_words_of_the_question(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V1", "--as-planned", "--count", "scissors=13/12", data=data, at="12:00")
    ran = on_monday("answer", "scissors missing", "reported", data=data, at="15:05")
    assert ran.status == 0
    on_monday("close", data=data, at="15:10")
    assert "reported to the office" in str(after_monday(data)["cases"])


@pytest.mark.parametrize(
    ("asked", "said", "told"),
    [
        ("elephant", "done", "No question of Mon 5 Oct has the words elephant"),
        ("who missed", "nobody", "Say more of the one"),
        ("V1 who missed", "elephant", "Answers are nobody"),
    ],
)
def test_an_answer_that_fits_no_question_is_said_and_nothing_noted(
    tmp_path: Path, asked: str, said: str, told: str
) -> None:
    data = small_school(tmp_path)
    ran = on_monday("answer", asked, said, data=data, at="15:05")
    assert ran.status == 2
    assert told in ran.err
    assert "nothing to undo" in on_monday("undo", data=data, at="15:06").out


def test_more_back_than_went_out_is_taken_as_it_was_counted(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("report", "V1", "--count", "scissors=12/13", data=data, at="12:00")
    assert ran.status == 0
    assert "13 of 12" in ran.out


def test_looking_closes_nothing(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert "not closed yet" in on_monday("close", "--look", data=data, at="15:10").out
    assert on_monday("close", "--look", "--json", data=data, at="15:10").fields["closed"] is False
    on_monday("close", data=data, at="15:10")
    assert on_monday("close", "--look", "--json", data=data, at="15:11").fields["closed"] is True


def test_a_day_that_nobody_reported_can_be_closed_and_its_visits_are_asked_for(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    assert on_monday("close", data=data, at="15:10").status == 0
    found = after_monday(data)
    assert isinstance(found["questions"], list)
    assert {each["class"] for each in found["questions"]} >= {"3-B"}


def test_the_chain_of_closed_days_is_proved(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V1", "--as-planned", data=data, at="12:00")
    on_monday("close", data=data, at="15:10")
    ran = trundle("check", data=data)
    assert (ran.status, ran.err) == (0, "")


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("V9", "--as-planned"), "the visits are V1 3-B and V2 3-K"),
        (("V1",), "--as-planned"),
        (("V1", "--outcome", "done except"), "Say how many are not done"),
        (("V1", "--reached", "9"), "has 2 parts"),
        (("V1", "--missed-count", "30"), "3-B has 24 children"),
        (("V1", "--count", "hammers=3/3"), "no supply called hammers"),
        (("V1", "--stands", "box-3=99"), "no room 99"),
        (("V1", "--stands", "box-9=12"), "no container called box-9"),
    ],
)
def test_a_report_that_cannot_be_is_said_and_nothing_noted(tmp_path: Path, typed: tuple[str, ...], told: str) -> None:
    data = small_school(tmp_path)
    ran = on_monday("report", *typed, data=data, at="12:00")
    assert ran.status == 2
    assert told in ran.err
    assert "nothing to undo" in on_monday("undo", data=data).out


def test_a_container_left_in_a_room_is_said_the_next_time(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    on_monday("report", "V2", "--as-planned", "--stands", "box-3=room 14", data=data, at="12:00")
    on_monday("close", data=data, at="15:10")
    page = trundle("morning", "--date", "2026-10-08", "--at", "7:41", data=data).out
    assert "stands in Room 14" in page
