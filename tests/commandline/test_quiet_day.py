"""A day without visits says what comes next. (Situation T64 of a real year; common practice, no source.)"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from tests.commandline.running import trundle
from tests.schools import small_school


def test_a_saturday_says_the_next_school_day_its_first_visit_and_its_tasks(tmp_path: Path) -> None:
    data = small_school(tmp_path)
    ran = trundle("morning", "--date", "2026-10-03", "--at", "9:00", data=data)
    assert (ran.status, ran.err) == (0, "")
    assert "Sat 3 Oct" in ran.out
    assert "weekend" in ran.out
    assert "Mon 5 Oct" in ran.out
    assert "V1 8:00-8:45 Room 12, 3-B" in ran.out
    assert "cut green strips" in ran.out


def test_a_school_day_without_visits_says_the_next_day_that_has_some(tmp_path: Path) -> None:
    ran = trundle("morning", "--date", "2026-10-06", "--at", "7:41", data=small_school(tmp_path))
    assert "Thu 8 Oct" in ran.out


def test_a_day_off_says_its_reason(tmp_path: Path) -> None:
    data = small_school(tmp_path, days_off=[{"first": date(2026, 10, 12), "reason": "teachers' meeting"}])
    assert "teachers' meeting" in trundle("morning", "--date", "2026-10-12", "--at", "7:41", data=data).out


def test_the_last_summer_day_says_that_nothing_follows(tmp_path: Path) -> None:
    ran = trundle("morning", "--date", "2027-07-03", "--at", "9:00", data=small_school(tmp_path))
    assert ran.status == 0
    assert "No later day with visits" in ran.out


def test_leaving_on_a_saturday_is_no_mistake(tmp_path: Path) -> None:
    ran = trundle("leaving", "--date", "2026-10-03", "--at", "9:00", data=small_school(tmp_path))
    assert ran.status == 0
    assert "Mon 5 Oct" in ran.out


def test_scripts_get_the_next_day_as_fields(tmp_path: Path) -> None:
    found = trundle("morning", "--json", "--date", "2026-10-03", "--at", "9:00", data=small_school(tmp_path)).fields
    assert found["school_day"] is False
    assert found["lines"] == []
    assert found["next"]["date"] == "2026-10-05"
    assert [each["class"] for each in found["next"]["visits"]] == ["3-B", "3-K"]
