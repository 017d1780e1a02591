"""What is put off to a day: carried matters and preparation. Common practice, no source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.commandline.running import monday_lines, on_monday, trundle
from tests.schools import a_lesson, a_part, an_item, small_school

TUESDAY, WEDNESDAY, THURSDAY, FRIDAY = (f"2026-10-0{day}" for day in (6, 7, 8, 9))


def on(day: str, *typed: str, data: Path) -> dict[str, Any]:
    """A command on a day, as a script reads it."""
    return trundle(*typed, "--json", "--date", day, "--at", "7:41", data=data).fields


def with_glue_short(data: Path) -> Path:
    """On Monday only 20 glue sticks were there."""
    number = str(monday_lines(data)["glue-stick"]["number"])
    on_monday("tick", number, "--short", "20", "--remedy", "share", data=data)
    on_monday("close", data=data, at="15:10")
    return data


def carried(day: str, data: Path) -> list[str]:
    return [each["what"] for each in on(day, "morning", data=data)["matters"] if each["kind"] == "short"]


def with_long_preparation(folder: Path) -> Path:
    """The green strips for 3-K's next Monday are to be cut three school days before: on Wed 7 Oct."""
    part = a_part(
        "cut the hills",
        [an_item("glue-stick")],
        preps=[{"what": "cut green strips", "minutes": 5, "days_before": 3}],
    )
    return small_school(
        folder,
        timetable={"Mon": {"P2": "3-K"}},
        lessons=[a_lesson("paper-hills", [part, part]), a_lesson("yarn-birds", [part])],
    )


def strips(day: str, data: Path) -> list[tuple[str, str]]:
    """Due, and for which day, of the strips that are to be cut for Mon 12 Oct."""
    tasks = on(day, "morning", data=data)["tasks"]
    return [(each["due"], each["for"]) for each in tasks if each["for"] == "2026-10-12"]


def strips_asked_for(day: str, data: Path) -> list[str]:
    """What was answered at the day's end about them."""
    matters = on(day, "close", "--look", data=data)["matters"]
    return [each["answer"] for each in matters if "green strips" in each["text"]]


def test_a_carried_matter_is_asked_again_on_the_day_it_was_moved_to(tmp_path: Path) -> None:
    data = with_glue_short(small_school(tmp_path))
    assert len(carried(TUESDAY, data)) == 1
    did = on(TUESDAY, "answer", "glue stick short", "later", "--to", THURSDAY, data=data)["did"]
    assert did[0].endswith("carried over, to Thu 8 Oct")
    assert carried(WEDNESDAY, data) == []
    assert len(carried(THURSDAY, data)) == 1


def test_later_without_a_day_is_asked_again_the_next_day(tmp_path: Path) -> None:
    data = with_glue_short(small_school(tmp_path))
    on(TUESDAY, "answer", "glue stick short", "later", data=data)
    assert len(carried(WEDNESDAY, data)) == 1


def test_putting_off_is_undone(tmp_path: Path) -> None:
    data = with_glue_short(small_school(tmp_path))
    on(TUESDAY, "answer", "glue stick short", "later", "--to", THURSDAY, data=data)
    assert "carried over, to Thu 8 Oct" in on(TUESDAY, "undo", data=data)["did"][0]
    assert len(carried(WEDNESDAY, data)) == 1


def test_preparation_is_due_on_the_day_it_was_moved_to(tmp_path: Path) -> None:
    data = with_long_preparation(tmp_path)
    assert strips(WEDNESDAY, data) == [(WEDNESDAY, "2026-10-12")]
    on(WEDNESDAY, "answer", "green strips", "later", "--to", FRIDAY, data=data)
    assert strips(THURSDAY, data) == [(FRIDAY, "2026-10-12")]
    assert strips_asked_for(WEDNESDAY, data) == ["moved to Fri 9 Oct"]
    assert strips_asked_for(FRIDAY, data) == [""]


def test_preparation_moved_and_then_done_is_not_asked_again(tmp_path: Path) -> None:
    data = with_long_preparation(tmp_path)
    on(WEDNESDAY, "answer", "green strips", "later", "--to", FRIDAY, data=data)
    on(THURSDAY, "morning", data=data)
    task = next(each for each in on(THURSDAY, "morning", data=data)["tasks"] if each["for"] == "2026-10-12")
    on(THURSDAY, "tick", str(task["number"]), data=data)
    assert strips(FRIDAY, data) == []


def test_preparation_that_was_moved_stands_on_the_list_once(tmp_path: Path) -> None:
    data = with_long_preparation(tmp_path)
    on(WEDNESDAY, "answer", "green strips", "later", "--to", FRIDAY, data=data)
    for day in (THURSDAY, FRIDAY, "2026-10-12"):
        assert not [each for each in on(day, "morning", data=data)["matters"] if "strips" in each["what"]]
    assert trundle("check", data=data).status == 0


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        (("later", "--to", "2026-10-10"), "Sat 10 Oct is no school day (weekend). The next school day is 2026-10-12"),
        (("later", "--to", WEDNESDAY), "Wed 7 Oct is not later than Wed 7 Oct"),
        (("later", "--to", "2026-10-13"), "3-K needs it on Mon 12 Oct; Tue 13 Oct is too late"),
        (("done", "--to", FRIDAY), "--to goes with the answer later"),
        (("later", "--to", "friday"), "like 2026-10-08"),
    ],
)
def test_a_day_that_cannot_be_is_said_and_nothing_noted(tmp_path: Path, answer: tuple[str, ...], told: str) -> None:
    data = with_long_preparation(tmp_path)
    ran = trundle("answer", "green strips", *answer, "--date", WEDNESDAY, "--at", "7:41", data=data)
    assert ran.status == 2
    assert told in ran.err
    assert on(WEDNESDAY, "undo", data=data)["did"] == []


def test_what_cannot_be_put_off_says_what_can_be_answered(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = on_monday("answer", "V1 who missed", "later", data=data, at="15:05")
    assert ran.status == 2
    assert "later is no answer to this" in ran.err
    assert "Answers are nobody" in ran.err
