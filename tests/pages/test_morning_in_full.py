"""The printed morning: filled for later, set out by tables, what comes out, each caution once. All schools invented."""

from __future__ import annotations

from pathlib import Path

from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.lines.records import Caution
from checklists.pages.morning import morning_page
from checklists.pages.orders import by_container, by_shelf
from checklists.pages.reasons import without_repeats
from tests.days import at, opened, packed
from tests.packing_schools import school_after_pompon_mice, school_that_avoids_latex, school_that_cuts_twice
from tests.schools import MONDAY, small_school


def in_words(rows: list[str]) -> str:
    return " ".join(" ".join(rows).split())


def filled_for_the_week(folder: Path) -> Book:
    book = opened(school_that_cuts_twice(folder))
    book.do(MONDAY, Changed(at=at(), fill="week"))
    return book


def test_the_need_over_the_week_says_for_which_later_visits(tmp_path: Path) -> None:
    book = filled_for_the_week(tmp_path)
    page = in_words(by_container(book.day(MONDAY), book.marks(MONDAY), False, book.departure(MONDAY)))
    white = next(line for line in book.day(MONDAY).lines if line.supply == "white-12x18")
    assert f"+{white.need + white.ahead}" in page
    assert f"{white.ahead} for later, also Thu" in page
    assert "for later: Thu" in page
    assert "Filled for the week." in morning_page(
        book.plan, book.day(MONDAY), book.marks(MONDAY), None, book.departure(MONDAY)
    )


def test_enough_for_today_is_not_open_but_still_stands_on_the_gathering_walk(tmp_path: Path) -> None:
    book = filled_for_the_week(tmp_path)
    white = next(line for line in book.day(MONDAY).lines if line.supply == "white-12x18")
    book.do(MONDAY, packed(white))
    day, marks = book.day(MONDAY), book.marks(MONDAY)
    row = next(row for row in by_shelf(day, marks, False) if "white paper" in row)
    assert "[>]" in row and f"+{white.ahead}" in row


def test_what_must_not_come_along_and_what_comes_out_are_not_gathered(tmp_path: Path) -> None:
    book = opened(school_that_avoids_latex(tmp_path / "bands", inside=0))
    assert "rubber band" not in in_words(by_shelf(book.day(MONDAY), book.marks(MONDAY), False))
    book = opened(school_after_pompon_mice(tmp_path / "mice"))
    assert "pompon" not in in_words(by_shelf(book.day(MONDAY), book.marks(MONDAY), False))
    assert "take out 38 pompon → shelf Y1" in in_words(
        by_container(book.day(MONDAY), book.marks(MONDAY), False, book.departure(MONDAY))
    )


def test_how_a_thing_is_set_out_by_tables_stands_under_its_line(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    day = book.day(MONDAY)
    glue = next(line for line in day.lines if line.supply == "glue-stick")
    laid_out = tuple(
        structs.replace(line, sets="6 trays of 4, 2 spare") if line is glue else line for line in day.lines
    )
    assert "6 trays of 4, 2 spare" in in_words(
        by_container(structs.replace(day, lines=laid_out), book.marks(MONDAY), False, book.departure(MONDAY))
    )


def test_a_task_says_where_in_its_day_there_is_time_for_it(tmp_path: Path) -> None:
    book = opened(small_school(tmp_path))
    day = book.day(MONDAY)
    tasks = tuple(structs.replace(task, place="planning, 11:45") for task in day.tasks)
    page = morning_page(book.plan, structs.replace(day, tasks=tasks), book.marks(MONDAY), None, book.departure(MONDAY))
    assert tasks and "planning, 11:45" in in_words(page.splitlines())


def test_cautions_that_differ_only_in_class_and_room_are_said_once(tmp_path: Path) -> None:
    day = opened(small_school(tmp_path)).day(MONDAY)
    first, second = day.visits
    cautions = [
        Caution(each.class_id, f"Wipe Room {each.room} before {each.class_id} lines up.", each.key, False, True, ())
        for each in (first, second)
    ]
    other = Caution("other", "Clay: wipe wet, never sweep.", second.key, False, True, ())
    found = without_repeats([*cautions, other], day.visits)
    assert [caution.what for caution, _ in found] == [
        "Wipe Room 12 before 3-B lines up. The same for 3-K.",
        "Clay: wipe wet, never sweep.",
    ]
    assert found[0][1] == (first.key, second.key)
