"""Preparation: when each thing falls due, before a visit or after it, and for which of two answers."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.entries import FoundLevel, Ticked
from checklists.files.plan_folder import read_plan
from checklists.lines.records import Task
from tests.days import (
    NEXT_DAY_A,
    NEXT_MONDAY,
    NEXT_THURSDAY,
    THURSDAY,
    TUESDAY,
    TUESDAY_13,
    WEDNESDAY,
    at,
    close,
    opened,
    teach,
    teach_all,
)
from tests.schools import (
    MONDAY,
    Entry,
    a_lesson,
    a_part,
    a_supply,
    an_item,
    demo_school,
    reference_school,
    small_school,
    write_toml,
)

FRIDAY_16 = date(2026, 10, 16)
LOAD, UNLOAD = "Load the kiln with the pieces of 4-D", "Unload the kiln: pieces of 4-D"


def kiln_school(folder: Path, **changes: Any) -> Book:
    """The reference school, where 4-D makes owls of clay on Mon 5 Oct that are fired before they are glazed."""
    parts = [
        a_part("pinch the bowl", [an_item("clay-portion", critical=True)], tags=["clay", "firing"]),
        a_part("glaze", [an_item("fish-brush")], tags=["glaze"]),
        a_part("write about the owl", [an_item("white-9x12")]),
    ]
    book = reference_school(folder, **changes)
    write_toml(book / "lessons" / "pinch-owls.toml", a_lesson("pinch-owls", parts, kits=["clay"]))
    return opened(book)


def kiln_tasks(book: Book, day: date) -> list[Task]:
    return [task for task in book.day(day).tasks if "kiln" in task.what]


def mornings(book: Book, last: date) -> Iterator[date]:
    """School days from Mon 5 Oct on; after each one all visits but the owls' glazing are taught and the day closed."""
    day = MONDAY
    while day <= last:
        book.today = day
        if book.day(day).school_day:
            yield day
            teach_all(book, day, but=("4-D",) if day != MONDAY else ())
            if day != MONDAY and any(visit.class_id == "4-D" for visit in book.day(day).visits):
                teach(book, day, "4-D", "not taught")
            close(book, day)
        day += timedelta(1)


def test_clay_of_monday_is_loaded_on_the_tuesday_after_the_holiday_and_unloaded_on_thursday(tmp_path: Path) -> None:
    # Common practice, no source: five school days and a week of drying, two school days in the kiln; Mon 12 is off.
    book = kiln_school(tmp_path)
    due = {}
    for day in mornings(book, NEXT_THURSDAY):
        due[day] = {task.what: task.due for task in kiln_tasks(book, day)}
    assert due[MONDAY] == due[TUESDAY] == due[WEDNESDAY] == {}
    assert due[THURSDAY] == {LOAD: TUESDAY_13}
    assert due[TUESDAY_13] == due[NEXT_THURSDAY] == {LOAD: TUESDAY_13, UNLOAD: NEXT_THURSDAY}


def test_what_falls_due_after_a_part_is_said_with_when_it_was_done_and_for_when_it_is_needed(tmp_path: Path) -> None:
    book = kiln_school(tmp_path)
    for day in mornings(book, TUESDAY_13):
        if day == TUESDAY_13:
            load = kiln_tasks(book, day)[0]
            assert load.because[-1].text == "4-D did Pinch Owls, part 1, on Mon 5 Oct"
            assert load.for_date == date(2026, 10, 22)  # the next day A on which the pots are out of the kiln
            assert load.minutes == 30


def test_a_kiln_that_was_loaded_is_not_asked_for_again_and_is_still_to_be_unloaded(tmp_path: Path) -> None:
    book = kiln_school(tmp_path)
    for day in mornings(book, FRIDAY_16):
        if day == TUESDAY_13:
            load = kiln_tasks(book, day)[0]
            book.do(day, Ticked(at=at("15:00", day), matter=load.key))
        if day in (NEXT_DAY_A, FRIDAY_16):
            assert [task.what for task in kiln_tasks(book, day)] == [UNLOAD]


def test_once_the_next_part_was_taught_nothing_is_left_to_do_for_the_one_before(tmp_path: Path) -> None:
    book = kiln_school(tmp_path)
    for _ in mornings(book, TUESDAY_13):
        pass
    book.today = NEXT_DAY_A
    assert [task.what for task in kiln_tasks(book, NEXT_DAY_A)] == [LOAD, UNLOAD]
    teach_all(book, NEXT_DAY_A)  # somebody had fired them: they were glazed
    close(book, NEXT_DAY_A)
    assert {LOAD, UNLOAD}.isdisjoint(task.what for task in kiln_tasks(book, NEXT_THURSDAY))


def test_where_nobody_told_whether_clay_was_worked_the_kiln_is_on_the_list_all_the_same(tmp_path: Path) -> None:
    book = kiln_school(tmp_path)
    book.do(MONDAY, FoundLevel(at=at("7:45"), supply="glue-stick", level="low"))  # and nothing else on Monday
    book.today = TUESDAY_13
    assert {task.what: task.due for task in kiln_tasks(book, TUESDAY_13)} == {LOAD: TUESDAY_13, UNLOAD: NEXT_THURSDAY}


def test_a_class_that_moved_to_another_day_keeps_what_is_to_do_after_its_part(tmp_path: Path) -> None:
    book = kiln_school(tmp_path)
    for _ in mornings(book, THURSDAY):
        pass
    book.release()
    classes = (tmp_path / "classes.toml").read_text(encoding="utf-8")
    moved = classes.replace('P6 = "4-D"\n', "").replace("[timetable.A]", '[timetable.C]\nP6 = "4-D"\n\n[timetable.A]')
    (tmp_path / "classes.toml").write_text(moved, encoding="utf-8")
    again = opened(tmp_path, TUESDAY_13)
    assert [task.what for task in kiln_tasks(again, TUESDAY_13)] == [LOAD, UNLOAD]


def test_the_clay_lessons_of_the_sample_school_are_fired_and_their_own_wait_agrees_with_the_rule(
    tmp_path: Path,
) -> None:
    demo_school(tmp_path / "sample")
    read = read_plan(tmp_path / "sample")
    assert read.plan is not None
    assert read.rules is not None
    clay = [part for lesson in read.plan.lessons for part in lesson.parts if "clay" in part.tags]
    (rule,) = (rule for rule in read.rules.rules if rule.id == "dry-and-fire")
    asked = {(each.not_before_days, each.not_before_school_days) for each in rule.next_part}
    assert clay
    assert all("firing" in part.tags for part in clay)
    assert {(part.wait.days, part.wait.then_school_days) for part in clay if part.wait is not None} == asked


# --------------------------------------------------------------------------------------------- before a visit


def numbered_parts(folder: Path, days_before: int = 1, **changes: Any) -> Path:
    """The small school with a lesson of three parts, each with something to cut for it."""
    preps = [[{"what": f"cut for part {n}", "days_before": days_before}] for n in (1, 2, 3)]
    parts = [a_part(f"part {n}", [an_item("yarn-ball")], preps=prep) for n, prep in enumerate(preps, 1)]
    return small_school(folder, **{"lessons": [a_lesson("long", parts)], "teaching": {"3": ["long"]}, **changes})


def test_after_an_untold_visit_it_is_prepared_for_either_part(tmp_path: Path) -> None:
    book = opened(numbered_parts(tmp_path))
    book.do(MONDAY, FoundLevel(at=at("7:45"), supply="glue-stick", level="low"))  # nobody tells how Monday went
    book.today = WEDNESDAY
    due = [task.what for task in book.day(WEDNESDAY).tasks if task.class_id == "3-B" and task.for_date == THURSDAY]
    assert due == ["cut for part 1", "cut for part 2"]


def test_once_she_told_it_is_prepared_for_the_one_part(tmp_path: Path) -> None:
    book = opened(numbered_parts(tmp_path))
    teach_all(book, MONDAY)
    book.today = WEDNESDAY
    due = [task.what for task in book.day(WEDNESDAY).tasks if task.class_id == "3-B" and task.for_date == THURSDAY]
    assert due == ["cut for part 2"]


def test_preparation_is_kept_by_class_lesson_and_part(tmp_path: Path) -> None:
    tasks = opened(numbered_parts(tmp_path, days_before=0)).day(MONDAY).tasks
    assert {task.key for task in tasks if task.for_date == MONDAY} == {"prep/3-B/long/1/1", "prep/3-K/long/1/1"}


def both_of_one_rule() -> Entry:
    tasks = [{"what": "soak the reed"}, {"what": "cut the reed"}]
    return {"rules": [{"id": "reed", "title": "Reed", "when": ["weaving"], "because": "reed", "tasks": tasks}]}


def test_two_tasks_of_one_rule_are_both_on_the_list(tmp_path: Path) -> None:
    lesson = a_lesson("baskets", [a_part("weave", [an_item("yarn-ball")], tags=["weaving"])])
    folder = small_school(tmp_path, lessons=[lesson], teaching={"3": ["baskets"]}, rules=both_of_one_rule())
    tasks = [task.what for task in opened(folder).day(MONDAY).tasks if task.visit == "P1 3-B"]
    assert tasks == ["soak the reed", "cut the reed"]


def test_two_powders_are_each_mixed_wet(tmp_path: Path) -> None:
    supplies = [a_supply(f"{each}-powder", marks=["powder"]) for each in ("blue", "red")]
    lesson = a_lesson("paint", [a_part("paint", [an_item(each["id"]) for each in supplies], tags=["tempera"])])
    folder = small_school(tmp_path, lessons=[lesson], teaching={"3": ["paint"]}, supplies=supplies, boxes=[])
    tasks = [task.what for task in opened(folder).day(MONDAY).tasks if task.visit == "P1 3-B"]
    assert tasks == [f"Mix {each} powder wet, alone, for 3-B" for each in ("blue", "red")]


@pytest.mark.parametrize("day", [MONDAY, THURSDAY, NEXT_MONDAY])
def test_a_school_without_preparation_has_no_tasks(tmp_path: Path, day: date) -> None:
    lesson = a_lesson("plain", [a_part("draw", [an_item("white-12x18")])])
    assert opened(small_school(tmp_path, lessons=[lesson], teaching={"3": ["plain"]})).day(day).tasks == ()
