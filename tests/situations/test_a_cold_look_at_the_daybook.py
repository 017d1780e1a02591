"""Faults that a cold look found in how days hang together: corrections, the first day, the demo, the order of steps.

On the small school and the demo; common practice, no source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import FoundLevel, Left, LeftStore, Reported, StoreLevel
from checklists.daybook.state import Progress
from checklists.demo import open_demo
from checklists.files.daybook_folder import dates
from tests.days import (
    FRIDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    close,
    opened,
    opened_again,
    packed,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import MONDAY, demo_school, in_the_evening, reference_school, small_school, write_toml

LONG_BEFORE = date(2026, 10, 1)
"""A Thursday before anything was told."""


def glance(
    day: date, now: date, clock: str = "7:45", supply: str = "glue-stick", level: StoreLevel = "low"
) -> FoundLevel:
    return FoundLevel(at=at(clock, now), supply=supply, level=level)


def places(book: Book, day: date) -> dict[str, tuple[str, int]]:
    """Class -> lesson and part that it opens the day with."""
    return {class_id: (each.lesson, each.part) for class_id, each in book.opening(day).progress.items()}


# ---------------------------------------------------------------------------- the first day of the daybook


def test_a_word_on_a_day_before_the_first_closed_one_changes_nothing_later(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    book = opened_again(book, TUESDAY)
    before = book.opening(TUESDAY)

    book.do(LONG_BEFORE, glance(LONG_BEFORE, TUESDAY))
    assert book.opening(TUESDAY) == before
    assert book.day(THURSDAY).questions == ()
    assert opened_again(book).opening(TUESDAY) == before


def test_a_child_who_left_on_a_closed_day_is_out_of_its_sums_at_once(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    book.do(MONDAY, Left(at=at("16:00"), class_id="3-K", number=7))
    at_once = book.closing_of(MONDAY)
    book.do(MONDAY, glance(MONDAY, MONDAY, "16:05"))
    assert book.closing_of(MONDAY).on_hand == at_once.on_hand
    # 24 of 3-B, 21 of 3-K, a sheet each, of the 400 there were
    assert at_once.on_hand["white-12x18"] == 400 - 24 - 21


def test_taking_that_word_back_changes_nothing_either(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    teach_all(book, MONDAY)
    close(book)
    before = book.opening(TUESDAY)
    book.do(LONG_BEFORE, glance(LONG_BEFORE, TUESDAY))
    assert book.undo(LONG_BEFORE) == "glue stick: low"
    assert book.opening(TUESDAY) == before
    assert opened_again(book, TUESDAY).opening(TUESDAY) == before


def test_closing_a_day_before_the_first_keeps_how_the_daybook_began(tmp_path: Path) -> None:
    book = opened(reference_school(tmp_path))  # its daybook begins on the Friday before, with classes in mid-lesson
    before = book.opening(MONDAY)
    close(book, LONG_BEFORE)
    assert book.is_closed(LONG_BEFORE)
    assert book.opening(MONDAY) == before
    book.do(LONG_BEFORE, glance(LONG_BEFORE, MONDAY))
    assert opened_again(book).opening(MONDAY) == before
    assert book.check_chain() == ()


def test_a_first_day_that_stayed_open_can_be_answered_after_a_later_one_was_closed(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    book.do(MONDAY, packed(book.day(MONDAY).lines[0]))
    book.today = THURSDAY
    teach_all(book, THURSDAY)
    close(book, THURSDAY)
    book = opened_again(book, FRIDAY)
    assert {each.class_id for each in book.day(FRIDAY).questions} == {"3-B", "3-K"}

    for class_id in ("3-B", "3-K"):
        teach(book, MONDAY, class_id)
    assert book.day(FRIDAY).questions == ()
    assert places(book, FRIDAY) == {"3-B": ("yarn-birds", 1), "3-K": ("paper-hills", 2)}
    assert book.check_chain() == ()


def test_opening_the_first_day_again_and_closing_it_gives_what_it_was(tmp_path: Path) -> None:
    today = demo_school(tmp_path / "art")
    book = opened(tmp_path / "art", today)
    first, before = min(dates(book.folder)), book.opening(today)
    book.undo(first)
    assert not book.is_closed(first)
    assert book.opening(today) == before
    book = opened_again(book)
    close(book, first)
    assert book.opening(today) == before
    assert book.check_chain() == ()


# --------------------------------------------------------------------- a timetable that changes in mid-year


@pytest.fixture
def moved_to_p2(tmp_path: Path) -> Book:
    """Two days told and closed. Since Friday 3-B comes on Thursdays in P2, and 3-K and 3-B have changed on Mondays."""
    book = opened(small_school(tmp_path))
    for day in (MONDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.release()
    file = tmp_path / "classes.toml"
    changed = {
        **tomllib.loads(file.read_text()),
        "timetable": {"Mon": {"P1": "3-K", "P2": "3-B"}, "Thu": {"P2": "3-B"}},
    }
    write_toml(file, changed)
    return opened(tmp_path, FRIDAY)


def test_what_was_told_stays_when_a_class_moves_to_another_period(moved_to_p2: Book) -> None:
    after_two_parts = {"3-B": ("yarn-birds", 1), "3-K": ("paper-hills", 2)}
    assert places(moved_to_p2, FRIDAY) == after_two_parts
    moved_to_p2.do(MONDAY, glance(MONDAY, FRIDAY))
    assert places(moved_to_p2, FRIDAY) == after_two_parts
    assert moved_to_p2.day(FRIDAY).questions == ()
    assert moved_to_p2.check_chain() == ()


def test_no_sharps_are_missed_because_a_class_moved_to_another_period(moved_to_p2: Book) -> None:
    moved_to_p2.do(MONDAY, glance(MONDAY, FRIDAY))
    assert not any(each.kind == "count pending" for each in moved_to_p2.opening(FRIDAY).carried)


def test_what_was_told_stays_when_a_class_moves_to_another_weekday_and_an_earlier_day_is_corrected(
    tmp_path: Path,
) -> None:
    book = opened(small_school(tmp_path))
    for day in (MONDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.release()
    file = tmp_path / "classes.toml"
    moved = {"Mon": {"P2": "3-K"}, "Tue": {"P1": "3-B"}, "Fri": {"P1": "3-B"}}
    write_toml(file, {**tomllib.loads(file.read_text()), "timetable": moved})
    book = opened(tmp_path, FRIDAY)
    before = places(book, FRIDAY)
    assert before == {"3-B": ("yarn-birds", 1), "3-K": ("paper-hills", 2)}
    book.do(MONDAY, glance(MONDAY, FRIDAY))
    assert places(book, FRIDAY) == before
    assert book.check_chain() == ()


# ---------------------------------------------------------------------------------------- the demo's own past


def test_any_day_of_the_demos_past_can_be_corrected(tmp_path: Path) -> None:
    """A word on any day of it that moves no class leaves the chain whole and the classes where they were."""
    today = demo_school(tmp_path / "art")
    book = opened(tmp_path / "art", today)
    before, supply = places(book, today), book.plan.supplies[0].id
    past = [day for day in dates(book.folder) if day < today]
    assert len(past) >= 8
    for day in past:
        book.do(day, glance(day, today, supply=supply))
        assert places(book, today) == before, day
        assert book.check_chain() == (), day


def test_a_visit_of_the_demo_corrected_two_weeks_later_moves_its_class_alone(tmp_path: Path) -> None:
    """4-ash was taught on Thu 1 Oct by the demo's history: if it was not, it alone stands elsewhere since."""
    today = demo_school(tmp_path / "art")
    book = opened(tmp_path / "art", today)
    before = places(book, today)
    day = LONG_BEFORE
    teach(book, day, "4-ash", "not taught")
    after = places(book, today)
    assert {class_id for class_id in before if after[class_id] != before[class_id]} == {"4-ash"}
    assert book.check_chain() == ()


def test_making_the_demo_touches_no_neighbouring_folder(tmp_path: Path) -> None:
    for name in ("art.before", "art.being-made"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "mine.txt").write_text("mine")
    open_demo(tmp_path / "art")
    open_demo(tmp_path / "art", reset=True)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["art", "art.before", "art.being-made"]
    for name in ("art.before", "art.being-made"):
        assert [each.name for each in (tmp_path / name).iterdir()] == ["mine.txt"]


# -------------------------------------------------------------------------------------- the order of steps


@pytest.fixture
def on_friday(tmp_path: Path) -> Iterator[Book]:
    """Monday and Thursday told and closed; it is Friday."""
    book = opened(small_school(tmp_path))
    for day in (MONDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.today = FRIDAY
    yield book
    book.release()


def test_undo_after_a_restart_takes_back_a_correction_of_an_earlier_day(on_friday: Book) -> None:
    before = on_friday.opening(FRIDAY)
    visit = visit_of(on_friday.day(MONDAY), "3-B").key
    on_friday.do(MONDAY, Reported(at=at("7:45", FRIDAY), visit=visit, outcome="not taught"))
    assert on_friday.opening(FRIDAY) != before
    book = opened_again(on_friday)
    assert book.undo(FRIDAY) == "V1 3-B: not taught"
    assert book.opening(FRIDAY) == before
    assert book.undo(FRIDAY) is None  # the days themselves were closed before today


def test_undo_takes_back_the_step_pressed_last_where_the_clock_was_set_back(on_friday: Book) -> None:
    on_friday.do(FRIDAY, glance(FRIDAY, FRIDAY, "15:00", "yarn-ball"))
    on_friday.do(MONDAY, glance(MONDAY, FRIDAY, "14:00"))
    on_friday.do(FRIDAY, glance(FRIDAY, FRIDAY, "13:00", "yarn-ball", "out"))
    said = [on_friday.undo(FRIDAY) for _ in range(3)]
    assert said == ["yarn ball: out", "glue stick: low", "yarn ball: low"]


def test_also_where_the_program_was_started_again_in_between(on_friday: Book) -> None:
    on_friday.do(FRIDAY, glance(FRIDAY, FRIDAY, "15:00", "yarn-ball"))
    book = opened_again(on_friday)
    book.do(MONDAY, glance(MONDAY, FRIDAY, "14:00"))
    assert book.undo(FRIDAY) == "glue stick: low"


# ------------------------------------------------------------------------------- what a correction writes


def written_since(folder: Path, before: dict[str, int]) -> set[str]:
    return {name for name, when in moments_of(folder).items() if before.get(name) != when}


def moments_of(folder: Path) -> dict[str, int]:
    return {file.name: file.stat().st_mtime_ns for file in (folder / "daybook").glob("*.toml")}


def test_a_correction_stops_where_nothing_changes_any_more(tmp_path: Path) -> None:
    every_day = {day: {"P1": "3-B", "P2": "3-K"} for day in ("Mon", "Tue", "Wed", "Thu", "Fri")}
    folder = in_the_evening(small_school(tmp_path, timetable=every_day), progress={"3-B": Progress("paper-hills", 1)})
    book = opened(folder)
    for day in (MONDAY, TUESDAY, WEDNESDAY, THURSDAY):
        book.today = day
        teach_all(book, day)
        close(book, day)
    book.today = FRIDAY
    before = moments_of(folder)
    book.do(MONDAY, LeftStore(at=at("7:50", FRIDAY)))  # nothing follows from it
    assert written_since(folder, before) == {"2026-10-05.toml"}

    before = moments_of(folder)
    teach(book, MONDAY, "3-B", absent=(4,))  # owed until its kit is handed out: it goes through every day
    assert written_since(folder, before) == {f"2026-10-0{n}.toml" for n in (5, 6, 7, 8)}
    assert book.check_chain() == ()
