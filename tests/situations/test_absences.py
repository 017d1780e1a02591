"""Children who missed a part, on the reference school. Situations T17, T18 and T20; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import HandedOut
from checklists.daybook.state import Owed
from checklists.lines.catch_up import say_owed
from checklists.lines.records import Day, Step
from tests.commandline.running import trundle
from tests.days import (
    NEXT_DAY_A,
    THURSDAY_22,
    TUESDAY,
    at,
    close,
    count_all_back,
    line_of,
    lines_of,
    needs_by_supply,
    opened,
    opened_again,
    teach,
    teach_all,
    visit_of,
)
from tests.schools import FRIDAY_BEFORE, MONDAY, in_the_evening, reference_school, reference_timetable


def missed_part_1(folder: Path, number: int) -> Path:
    """The reference school with one child of 3-B who missed part 1 on the Friday before."""
    owed = (Owed("burlap-birds", 1, FRIDAY_BEFORE, numbers=(number,)),)
    return in_the_evening(reference_school(folder), owed={"3-B": owed})


def kit_of_3_b(day: Day) -> dict[str, int]:
    return needs_by_supply(day, catch_up_for="3-B")


# ------------------------------------------------------------------------------------- T17 absent three times


@pytest.fixture
def absent_three_times(tmp_path: Path) -> Book:
    """No. 11 of 3-B missed part 1, then part 2 on Mon 5 Oct, then part 3 on Wed 14 Oct; no kit was handed out."""
    book = opened(missed_part_1(tmp_path, 11))
    for day in (MONDAY, NEXT_DAY_A):
        book.today = day
        teach_all(book, day, but=("3-B",))
        teach(book, day, "3-B", absent=(11,))
        count_all_back(book, day)
        close(book, day)
    book.today = THURSDAY_22
    return book


def test_a_child_absent_three_times_is_one_child_with_three_parts(absent_three_times: Book) -> None:
    owed = absent_three_times.opening(THURSDAY_22).owed["3-B"]
    assert say_owed(owed) == "11: parts 1, 2 and 3"
    (matter,) = [each for each in absent_three_times.day(THURSDAY_22).matters if each.for_class == "3-B"]
    assert "Catch-up kit of 3-B for 1 child not handed out" in matter.what
    assert matter.since == MONDAY


def test_its_kit_has_one_set_for_each_part_that_must_be_made_up(absent_three_times: Book) -> None:
    # Part 1 in full: one white sheet. Parts 2 and 3 in the short version: a ball of yarn each.
    assert kit_of_3_b(absent_three_times.day(THURSDAY_22)) == {"white-9x12": 1, "yarn-ball": 2}
    assert not any(line.critical for line in absent_three_times.day(THURSDAY_22).lines if line.catch_up_for)


def test_she_is_asked_whether_to_excuse_shorten_or_send_home(absent_three_times: Book) -> None:
    cautions = [each for each in absent_three_times.day(THURSDAY_22).cautions if "has missed" in each.what]
    assert [each.what for each in cautions] == [
        "3-B, no. 11 has missed 3 parts of Burlap Birds: excuse, short version, or take home?"
    ]
    assert not cautions[0].critical


def test_the_three_absences_are_the_same_after_a_restart(absent_three_times: Book) -> None:
    book = opened_again(absent_three_times)
    assert kit_of_3_b(book.day(THURSDAY_22)) == {"white-9x12": 1, "yarn-ball": 2}
    assert say_owed(book.opening(THURSDAY_22).owed["3-B"]) == "11: parts 1, 2 and 3"


# ------------------------------------------------------------- T18 absent again on the day of catching up


@pytest.mark.parametrize("given", [True, False, None], ids=["kit handed out", "kit kept back", "nothing said of it"])
def test_a_child_absent_again_on_the_catch_up_day_stays_owed(tmp_path: Path, given: bool | None) -> None:
    book = opened(missed_part_1(tmp_path, 4))
    visit = visit_of(book.day(MONDAY), "3-B")
    assert kit_of_3_b(book.day(MONDAY)) == {"white-9x12": 1}

    teach_all(book, MONDAY, but=("3-B",))
    teach(book, MONDAY, "3-B", absent=(4,))
    if given is not None:
        book.do(MONDAY, HandedOut(at=at("15:07"), visit=visit.key, given=given))
    close(book)

    book = opened_again(book, today=TUESDAY)
    assert say_owed(book.opening(NEXT_DAY_A).owed["3-B"]) == "4: parts 1 and 2"
    assert kit_of_3_b(book.day(NEXT_DAY_A)) == {"white-9x12": 1, "yarn-ball": 1}
    assert not any("3-B" in each.what for each in book.day(TUESDAY).matters)
    assert not any(line.catch_up_for for line in book.day(TUESDAY).lines)


def test_a_kit_that_was_not_handed_out_stands_on_the_next_visit_of_its_class_only(tmp_path: Path) -> None:
    book = opened(missed_part_1(tmp_path, 4))
    teach_all(book, MONDAY)
    close(book)
    assert [each.kind for each in book.day(TUESDAY).matters] == []
    (matter,) = book.day(NEXT_DAY_A).matters
    assert (matter.kind, matter.for_class, matter.since) == ("catch-up not handed out", "3-B", MONDAY)
    assert not matter.stale


def test_a_child_who_came_and_was_given_the_kit_is_owed_nothing_more(tmp_path: Path) -> None:
    book = opened(missed_part_1(tmp_path, 4))
    teach_all(book, MONDAY)
    book.do(MONDAY, HandedOut(at=at("15:07"), visit=visit_of(book.day(MONDAY), "3-B").key, given=True))
    said = close(book)
    assert "3-B: catch-up handed out." in said
    assert book.opening(NEXT_DAY_A).owed == {}
    assert book.day(NEXT_DAY_A).matters == ()


def test_absent_twice_by_the_command_line(tmp_path: Path) -> None:
    data = missed_part_1(tmp_path, 4)
    monday = ("--date", "2026-10-05", "--at", "15:05")
    wednesday = ("--date", "2026-10-14", "--at", "7:41")
    assert trundle("report", "3-B", "--outcome", "done", "--missed", "4", *monday, data=data).status == 0
    assert trundle("close", *monday, data=data).status == 0
    lines = trundle("morning", "--json", *wednesday, data=data).fields["lines"]
    kit = {line["supply"]: line["need"] for line in lines if line["class"] == "3-B"}
    assert kit == {"white-9x12": 1, "yarn-ball": 1}


# ------------------------------------------------------------- T20 a substitute who told nothing


@pytest.fixture
def nothing_told_of_3_b(tmp_path: Path) -> Book:
    """Mon 5 Oct is closed; of 3-B nobody said what was done or who was absent. It is Wed 14 Oct."""
    book = opened(reference_school(tmp_path))
    teach_all(book, MONDAY, but=("3-B",))
    close(book)
    book.today = NEXT_DAY_A
    return book


def test_an_untold_visit_is_asked_on_top_and_packed_for_either_answer(nothing_told_of_3_b: Book) -> None:
    day = nothing_told_of_3_b.day(NEXT_DAY_A)
    assert [each.text for each in day.questions] == ["3-B on Mon 5 Oct: Burlap Birds, part 2 done?"]
    assert visit_of(day, "3-B").steps == (Step("burlap-birds", 2), Step("burlap-birds", 3))
    assert visit_of(day, "3-K").steps == (Step("burlap-birds", 3),)


def test_in_the_box_shared_by_both_classes_the_spare_covers_the_reserve(nothing_told_of_3_b: Book) -> None:
    # 24 and 25 children: 49, and a margin of 5 that covers the reserve of 4. Not 58.
    assert line_of(nothing_told_of_3_b.day(NEXT_DAY_A), "yarn-ball").need == 54


def test_alone_in_the_box_reserve_and_spare_share_a_margin(tmp_path: Path) -> None:
    """Only 3-B comes on day A: 24 children, a spare of 3, a reserve of 4: 28 and not 31."""
    book = opened(reference_school(tmp_path, timetable=reference_timetable(but="3-K")))
    teach_all(book, MONDAY, but=("3-B",))
    close(book)
    line = line_of(book.day(NEXT_DAY_A), "yarn-ball")
    assert line.need == 28
    assert "4 in reserve, which covers the spare of 3" in [each.text for each in line.because]
    assert lines_of(book.day(NEXT_DAY_A), "yarn-ball", catch_up_for="3-B") == []


def test_one_answer_settles_the_question_and_the_packing(nothing_told_of_3_b: Book) -> None:
    book = nothing_told_of_3_b
    teach(book, MONDAY, "3-B", absent=(4,))
    day = book.day(NEXT_DAY_A)
    assert day.questions == ()
    assert visit_of(day, "3-B").steps == (Step("burlap-birds", 3),)
    assert kit_of_3_b(day) == {"yarn-ball": 1}
    assert line_of(day, "yarn-ball").need == 54

    day = opened_again(book).day(NEXT_DAY_A)
    assert (day.questions, kit_of_3_b(day)) == ((), {"yarn-ball": 1})
    assert book.check_chain() == ()


def test_the_answer_that_it_was_not_taught_leaves_the_class_where_it_was(nothing_told_of_3_b: Book) -> None:
    teach(nothing_told_of_3_b, MONDAY, "3-B", "not taught")
    day = nothing_told_of_3_b.day(NEXT_DAY_A)
    assert day.questions == ()
    assert visit_of(day, "3-B").steps == (Step("burlap-birds", 2),)
    assert nothing_told_of_3_b.opening(NEXT_DAY_A).owed == {}


def test_an_untold_visit_by_the_command_line(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    assert trundle("close", "--date", "2026-10-05", "--at", "15:10", data=data).status == 0
    wednesday = ("--date", "2026-10-14", "--at", "7:41")
    shown = trundle("morning", *wednesday, data=data)
    assert "3-B on Mon 5 Oct: Burlap Birds, part 2 done?" in shown.out
    assert trundle("report", "3-B", "--as-planned", "--date", "2026-10-05", "--at", "7:42", data=data).status == 0
    visits = trundle("morning", "--json", *wednesday, data=data).fields["visits"]
    assert {each["class"]: each["steps"] for each in visits}["3-B"] == [{"lesson": "burlap-birds", "part": 3}]


def test_the_reserve_is_never_critical_and_never_a_kit_of_its_own(nothing_told_of_3_b: Book) -> None:
    state = nothing_told_of_3_b.opening(NEXT_DAY_A)
    assert [each.unknown for each in state.owed["3-B"]] == [True]
    assert not any(line.catch_up_for for line in nothing_told_of_3_b.day(NEXT_DAY_A).lines)
