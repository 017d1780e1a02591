"""1 July: the second-grade class list becomes that of third grade. (Situation T12 of a real year; common practice, no
source: what is owned, lent, on order or missing stays, and last year's absent children do not appear in August.)"""

from __future__ import annotations

import os
from datetime import date, datetime
from pathlib import Path

import pytest

from checklists.book import Book, NotSaved
from checklists.daybook.entries import CountedSharps, CountedStock, Delivered, Ordered, Packed
from checklists.plan.class_notes import classes_of
from checklists.plan.next_year import next_year
from checklists.plan.records import Need
from tests.commandline.running import trundle
from tests.days import at, close, line_of, needs_by_supply, opened, opened_again, teach, visit_of
from tests.lost.stopping import cut_off_at_every_step
from tests.schools import a_class, small_school

MONDAY_7_JUNE, THURSDAY_10_JUNE, FIRST_OF_JULY = date(2027, 6, 7), date(2027, 6, 10), date(2027, 7, 1)
MONDAY_30_AUGUST, THURSDAY_2_SEPTEMBER, LAST = date(2027, 8, 30), date(2027, 9, 2), date(2028, 6, 15)
DAYS_ASKED = ("2027-06-07", "2027-07-01")
YEAR = ("--first", "2027-08-30", "--last", "2028-06-15")


def small_school_of_two_grades(folder: Path) -> Path:
    """The small school with 2-B: 21 children, two of whom need tools for small hands; no. 7 has left."""
    second = a_class("2-B", room="12", students=21, needs=[{"need": "fine-motor", "count": 2, "tables": [3]}], left=[7])
    third = [a_class("3-B", room="12", students=24), a_class("3-K", room="14", students=22)]
    return small_school(folder, classes=[second, *third])


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """At the end of the year: two of 3-B missed its last lesson, one pair of scissors did not come back.

    3-K has gone on to part 2, and Thursday, its last visit told of by nobody, is not closed.
    """
    folder = small_school_of_two_grades(tmp_path / "school")
    with opened(folder, MONDAY_7_JUNE) as book:
        day = book.day(MONDAY_7_JUNE)
        paper = line_of(day, "white-12x18")
        book.do(MONDAY_7_JUNE, Packed(at=at("7:41", MONDAY_7_JUNE), line=paper.key, count=paper.need))
        teach(book, MONDAY_7_JUNE, "3-B", absent=(4, 11))
        teach(book, MONDAY_7_JUNE, "3-K")
        visit = visit_of(day, "3-B").key
        at_nine = at("9:00", MONDAY_7_JUNE)
        book.do(MONDAY_7_JUNE, CountedSharps(at=at_nine, visit=visit, supply="scissors", out=13, back=12))
        close(book, MONDAY_7_JUNE)
    return folder


def begin(book: Book) -> str:
    year = next_year(book.plan.school, classes_of(book.plan), MONDAY_30_AUGUST, LAST, ())
    return book.begin_year(year.school, year.classes)


def test_in_august_classes_are_others_and_what_she_has_is_the_same(school: Path) -> None:
    with opened(school, FIRST_OF_JULY) as book:
        before = book.opening(FIRST_OF_JULY)
        assert before.owed["3-B"][0].numbers == (4, 11)
        assert before.unsure["3-B"]
        begin(book)
        book = opened_again(book, MONDAY_30_AUGUST)
        after, class_ = book.opening(MONDAY_30_AUGUST), book.plan.class_by_id["3-B"]
        assert (after.progress, after.owed, after.unsure, after.unfinished) == ({}, {}, {}, {})
        assert [case.supply for case in after.cases] == ["scissors"]
        assert after.on_hand == book.closing_of(MONDAY_7_JUNE).on_hand
        assert (class_.students, class_.needs, class_.left) == (21, (Need("fine-motor", 2),), ())
        assert book.plan.class_by_id["3-K"].students == "about 24"
        day = book.day(MONDAY_30_AUGUST)
        assert [(visit.class_id, visit.students, visit.steps[0].part) for visit in day.visits] == [
            ("3-B", 21, 1),
            ("3-K", 24, 1),
        ]
        assert needs_by_supply(day)["white-12x18"] == 45 + 5
        assert not [line for line in day.lines if line.catch_up_for]
        assert not day.questions
        assert "scissors" in day.cases[0]
        book.release()


def test_the_chain_holds_across_the_summer_and_a_restart(school: Path) -> None:
    with opened(school, FIRST_OF_JULY) as book:
        begin(book)
        july = datetime(2027, 7, 15, 10, 0)
        book.do(july.date(), Ordered(at=july, supply="white-12x18", packs=4))
        book.do(july.date(), Delivered(at=july, supply="white-12x18", packs=2))
        paper = book.opening(MONDAY_30_AUGUST).on_hand["white-12x18"]
        assert paper == book.closing_of(MONDAY_7_JUNE).on_hand["white-12x18"] + 2 * 50
        assert [each.due for each in book.opening(MONDAY_30_AUGUST).orders] == [2]
    with opened(school, MONDAY_30_AUGUST) as book:
        teach(book, MONDAY_30_AUGUST, "3-B")
        teach(book, MONDAY_30_AUGUST, "3-K", absent=(2,))
        close(book, MONDAY_30_AUGUST)
        close(book, THURSDAY_2_SEPTEMBER)
        assert not book.check_chain()
        book = opened_again(book, THURSDAY_2_SEPTEMBER)
        assert not book.check_chain()
        later = book.opening(date(2027, 9, 6))
        assert later.progress["3-B"].part == 2
        assert later.owed["3-K"][0].numbers == (2,)
        assert "trundle" not in str(book.problems)
        book.release()


def test_last_years_days_stay_as_they_were_and_cannot_be_corrected(school: Path) -> None:
    path = school / "daybook" / "2027-06-07.toml"
    before = path.read_bytes()
    with opened(school, FIRST_OF_JULY) as book:
        begin(book)
        count = CountedStock(at=at("10:00", FIRST_OF_JULY), supply="white-12x18", count=7)
        with pytest.raises(NotSaved, match="belongs to a school year that is over"):
            book.do(MONDAY_7_JUNE, count)
        with pytest.raises(NotSaved, match="belongs to a school year that is over"):
            book.undo(MONDAY_7_JUNE)
        assert book.undo(FIRST_OF_JULY) is None
        book.do(FIRST_OF_JULY, count)
        assert book.opening(MONDAY_30_AUGUST).on_hand["white-12x18"] == 7
        assert book.is_closed(MONDAY_7_JUNE)
    with opened(school, MONDAY_30_AUGUST) as book:
        teach(book, MONDAY_30_AUGUST, "3-B")
        close(book, MONDAY_30_AUGUST)
        book.do(FIRST_OF_JULY, CountedStock(at=at("8:00", MONDAY_30_AUGUST), supply="white-12x18", count=300))
        assert book.opening(MONDAY_30_AUGUST).on_hand["white-12x18"] == 300
        assert not book.check_chain()
    assert path.read_bytes() == before


def test_the_files_of_the_year_before_are_kept_remarks_and_all(school: Path) -> None:
    path = school / "classes.toml"
    path.write_text("# Mrs. Finch has the key to the kiln\n" + path.read_text())
    before = {name: (school / name).read_bytes() for name in ("school.toml", "classes.toml")}
    with opened(school, FIRST_OF_JULY) as book:
        kept = begin(book)
    assert kept == "years-before/2026-2027"
    assert all((school / kept / name).read_bytes() == content for name, content in before.items())
    assert path.read_text().startswith("# Trundle wrote this file after a change on screen; remarks typed into it")


def test_it_is_taken_back_as_long_as_nothing_is_told_in_the_new_year(school: Path) -> None:
    before = {name: (school / name).read_bytes() for name in ("school.toml", "classes.toml")}
    with opened(school, FIRST_OF_JULY) as book:
        begin(book)
        book.take_year_back()
        assert book.plan.class_by_id["3-B"].students == 24
        assert book.opening(FIRST_OF_JULY).owed["3-B"][0].numbers == (4, 11)
        assert not book.check_chain()
        with pytest.raises(NotSaved):
            book.take_year_back()
    assert all((school / name).read_bytes() == content for name, content in before.items())
    with opened(school, MONDAY_30_AUGUST) as book:
        begin(book)
        book.do(MONDAY_30_AUGUST, CountedStock(at=at("7:30", MONDAY_30_AUGUST), supply="white-12x18", count=9))
        with pytest.raises(NotSaved, match="told in the new school year already"):
            book.take_year_back()


def test_what_was_changed_in_the_classes_since_is_not_lost_by_taking_it_back(school: Path) -> None:
    with opened(school, FIRST_OF_JULY) as book:
        begin(book)
        classes = classes_of(book.plan)
        book.change_classes(type(classes)(classes.classes[:2], classes.timetable | {"Mon": {"P1": "3-B"}}, {}))
        with pytest.raises(NotSaved, match="was changed since"):
            book.take_year_back()
        assert book.plan.school.first_day == MONDAY_30_AUGUST


def begin_in(folder: Path) -> None:
    book = opened(folder, FIRST_OF_JULY)
    begin(book)
    book.release()


def begin_and_take_back_in(folder: Path) -> None:
    book = opened(folder, FIRST_OF_JULY)
    book.take_year_back()
    book.release()


def which_year(folder: Path) -> tuple[int, object]:
    """First day's year and the children of 3-B, as a window finds them that only reads."""
    with Book.open(folder, write=False, today=FIRST_OF_JULY) as book:
        assert not book.uses_last_good
        return book.plan.school.first_day.year, book.plan.class_by_id["3-B"].students


def test_cut_off_anywhere_both_plan_files_are_of_one_year(school: Path, tmp_path: Path) -> None:
    found = [which_year(left) for left in cut_off_at_every_step(school, tmp_path / "cut off", begin_in)]
    assert set(found) == {(2026, 24), (2027, 21)}
    assert found == sorted(found)


def test_cut_off_while_it_is_taken_back_both_are_of_one_year(school: Path, tmp_path: Path) -> None:
    begin_in(school)
    found = [which_year(left) for left in cut_off_at_every_step(school, tmp_path / "cut", begin_and_take_back_in)]
    assert set(found) == {(2027, 21), (2026, 24)}
    assert found == sorted(found, reverse=True)


def test_where_the_disk_refuses_the_second_file_the_first_is_as_it_was(school: Path) -> None:
    before = {name: (school / name).read_bytes() for name in ("school.toml", "classes.toml")}
    in_the_way = school / f".classes.toml.{os.getpid()}.new"
    in_the_way.mkdir()
    with opened(school, FIRST_OF_JULY) as book:
        with pytest.raises(NotSaved, match="something else of this name stands in the way"):
            begin(book)
        assert book.plan.school.first_day.year == 2026
        assert {name: (school / name).read_bytes() for name in before} == before
        assert not (school / "change.pending").exists()
        in_the_way.rmdir()
        begin(book)
        assert book.plan.class_by_id["3-B"].students == 21


# ------------------------------------------------------------------------------------------------ without the screen


def test_tried_it_says_everything_and_changes_nothing(school: Path) -> None:
    before = {path.name: path.read_bytes() for path in school.glob("*.toml")}
    ran = trundle("new-year", *YEAR, "--off", "2027-11-25..2027-11-26=Thanksgiving", "--try", data=school)
    assert ran.status == 0, ran.err
    assert "21 children of 2-B" in ran.out
    assert "about 24 children, not known yet: there is no class 2-K" in ran.out
    assert "The children of 3-B and 3-K leave the school." in ran.out
    assert "fine" not in ran.out
    assert {path.name: path.read_bytes() for path in school.glob("*.toml")} == before


def test_the_command_begins_the_year_with_its_days_off_and_undo_ends_it(school: Path, tmp_path: Path) -> None:
    days_off = tmp_path / "days off.txt"
    days_off.write_text("# from the district's page\n2027-09-06 Labor Day\n\n2027-12-20..2027-12-31=winter break\n")
    more = ("--off", "2027-11-25..2027-11-26=Thanksgiving", "--days-off", str(days_off))
    fields = trundle("new-year", *YEAR, *more, "--json", data=school).fields
    assert fields["begun"] is True
    assert fields["kept"] == "years-before/2026-2027"
    assert [each["reason"] for each in fields["days_off"]] == ["Labor Day", "Thanksgiving", "winter break"]
    # Mon 30 Aug 2027 to Thu 15 Jun 2028 are 42 weeks less a Friday, 209 weekdays, less 1 + 2 + 10 days off
    assert fields["school_days"] == 41 * 5 + 4 - 13
    classes = {each["class"]: (each["from"], each["students"]) for each in fields["classes"]}
    assert classes == {"2-B": ("", "about 22"), "3-B": ("2-B", 21), "3-K": ("", "about 24")}
    off = trundle("morning", "--json", "--date", "2027-09-06", data=school).fields
    assert (off["visits"], off["why_no_school"]) == ([], "Labor Day")
    assert trundle("new-year", "--undo", data=school).status == 0
    again = trundle("new-year", "--undo", data=school)
    assert (again.status, "no new year was begun" in again.err) == (2, True), again.err


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("--first", "2027-08-30"), "Say both days"),
        (("--first", "2027-05-30", "--last", "2028-06-15"), "is not after this year's last day"),
        ((*YEAR, "--off", "Thanksgiving"), "is no day off; write it like"),
        ((*YEAR, "--off", "2026-11-26"), "is not within the school year"),
        ((*YEAR, "--days-off", "nowhere.txt"), "cannot be read"),
    ],
)
def test_what_cannot_be_is_refused_in_words(typed: tuple[str, ...], said: str, school: Path) -> None:
    ran = trundle("new-year", *typed, data=school)
    assert ran.status == 2
    assert said in ran.err


def test_days_that_are_not_closed_are_named_before(school: Path) -> None:
    with opened(school, THURSDAY_10_JUNE) as book:
        teach(book, THURSDAY_10_JUNE, "3-B")
    assert "Thu 10 Jun is not closed" in trundle("new-year", *YEAR, "--try", data=school).out


def test_school_days_that_are_left_of_this_year_are_told(school: Path) -> None:
    """After Mon 7 Jun four are left, the last one Fri 11 Jun; after 1 July none."""
    told = [trundle("new-year", *YEAR, "--try", "--date", day, "--at", "9:00", data=school).out for day in DAYS_ASKED]
    assert ["has 4 school days left" in each for each in told] == [True, False]
