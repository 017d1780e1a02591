"""Testing, announced once for grades, periods and days: visits, walks, dates and what runs out follow. Situation T07.

Common practice, no source. Thu 22 Oct 2026 is day A of the reference school: 3-B comes in P3, 3-K in P4.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.changing_days import visits_lost
from checklists.daybook import entries
from tests.commandline.running import on_monday
from tests.days import THURSDAY_22, TUESDAY, after_the_battery_died, at, close, opened, opened_again, visit_of
from tests.schools import MONDAY, reference_school
from tests.situations.changing import coming

MONDAY_19, FRIDAY_23, NEXT_A = date(2026, 10, 19), date(2026, 10, 23), date(2026, 10, 30)
WEEK = entries.Testing(
    at=at("15:00"), grades=("3", "4", "5"), first=MONDAY_19, last=FRIDAY_23, periods=("P1", "P2", "P3")
)
EVERYBODY = ["K-M", "1-P", "3-B", "3-K", "2-R", "4-D", "5-H"]
WITHOUT_3_B = [each for each in EVERYBODY if each != "3-B"]


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path / "school"))


def test_one_entry_takes_the_visits_of_these_grades_and_periods(book: Book, tmp_path: Path) -> None:
    assert coming(book.day(THURSDAY_22)) == EVERYBODY
    before = book.day(THURSDAY_22)
    book.do(MONDAY, WEEK)
    assert coming(book.day(THURSDAY_22)) == WITHOUT_3_B  # 3-K, 4-D and 5-H come in later periods
    assert coming(book.day(MONDAY)) == EVERYBODY
    assert coming(after_the_battery_died(book, into=tmp_path / "copy").day(THURSDAY_22)) == WITHOUT_3_B
    assert book.undo(MONDAY) == "testing Mon 19 Oct to Fri 23 Oct: grade 3, 4 and 5, P1, P2 and P3"
    assert book.day(THURSDAY_22) == before


def test_it_is_known_until_it_is_over_and_no_longer(book: Book) -> None:
    book.do(MONDAY, WEEK)
    close(book)
    later = opened_again(book, today=TUESDAY)
    assert coming(later.day(THURSDAY_22)) == WITHOUT_3_B
    assert later.opening(FRIDAY_23).testing != ()
    assert later.opening(NEXT_A).testing == ()
    assert coming(later.day(NEXT_A)) == EVERYBODY


def test_a_class_that_is_tested_stays_where_it_is_and_the_others_go_on(book: Book) -> None:
    def parts() -> dict[str, list[int]]:
        return {visit.class_id: [step.part for step in visit.steps] for visit in book.day(NEXT_A).visits}

    usual = parts()
    book.do(MONDAY, WEEK)
    # As planned the thirds have parts 2, 3 and 4 on 5, 14 and 22 Oct, and their lesson is over on the 30th.
    assert usual["3-B"] == []
    assert parts() == usual | {"3-B": [4]}


def test_said_on_the_day_itself_it_counts_at_once(book: Book) -> None:
    before = book.day(MONDAY)
    book.do(MONDAY, entries.Testing(at=at("7:30"), grades=("3",), first=MONDAY, last=MONDAY))
    assert coming(book.day(MONDAY)) == ["K-M", "1-P", "2-R", "4-D", "5-H"]
    book.undo(MONDAY)
    assert book.day(MONDAY) == before


def test_walks_through_quiet_halls_take_longer_in_these_periods(book: Book) -> None:
    usual = {visit.period: visit.walk_before for visit in book.day(MONDAY).visits}
    quiet = entries.Testing(at=at("7:30"), grades=("8",), first=MONDAY, last=MONDAY, periods=("P1", "P2"), walk_more=2)
    book.do(MONDAY, quiet)
    walks = {visit.period: visit.walk_before for visit in book.day(MONDAY).visits}
    assert walks == usual | {"P1": usual["P1"] + 2, "P2": usual["P2"] + 2}
    assert book.day(MONDAY).leave_by == 8 * 60 - (2 + 2) - 4 - 2


def test_it_is_taken_back_by_saying_that_it_is_off(book: Book) -> None:
    book.do(MONDAY, WEEK)
    book.do(MONDAY, entries.Testing(at=at("15:10"), grades=(), first=MONDAY_19, last=FRIDAY_23))
    assert coming(book.day(THURSDAY_22)) == EVERYBODY


def test_who_loses_a_visit_and_when_it_comes_again(book: Book) -> None:
    book.do(MONDAY, WEEK)
    lost = [(each.class_id, each.dates, each.comes_again) for each in visits_lost(book, MONDAY, WEEK)]
    assert lost == [("3-B", (THURSDAY_22,), NEXT_A)]


def test_the_next_visit_that_is_spoken_of_is_the_one_that_takes_place(book: Book) -> None:
    """4-D's clay is told with its next visit: on Wed 14 Oct, or where that is tested on Thu 22 Oct."""
    book.do(MONDAY, entries.Testing(at=at("7:30"), grades=("4",), first=date(2026, 10, 13), last=date(2026, 10, 16)))
    said = [each.what for each in book.day(MONDAY).cautions if "4-D comes again" in each.what]
    assert said == []  # by Thu 22 Oct the owls are out of the kiln
    assert visit_of(book.day(THURSDAY_22), "4-D").steps[0].part == 2


def test_testing_by_command_names_the_classes_and_is_undone(tmp_path: Path) -> None:
    data = reference_school(tmp_path)
    week = ("--from", "2026-10-19", "--to", "2026-10-23")
    ran = on_monday("testing", "--grades", "3-5", "--periods", "P1-P3", *week, "--walk-more", "2", data=data)
    assert ran.status == 0
    assert "3-B loses 1 visit, Thu 22 Oct; it comes again on Fri 30 Oct." in " ".join(ran.out.split())
    found = on_monday("testing", "--grades", "3-5", "--periods", "P1-P4", *week, "--json", data=data).fields
    assert [(each["class"], each["dates"], each["next"]) for each in found["lost"]] == [
        ("3-B", ["2026-10-22"], "2026-10-30"),
        ("3-K", ["2026-10-22"], "2026-10-30"),
    ]
    assert "Taken back: testing Mon 19 Oct to Fri 23 Oct" in on_monday("undo", data=data).out
    off = on_monday("testing", "--off", *week, data=data)
    assert "no testing Mon 19 Oct to Fri 23 Oct" in off.out


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ((), "Say which grades are tested"),
        (("--grades", "9"), "names no grades; write them like 3-5"),
        (("--grades", "6-8"), "you have no class of 6-8"),
        (("--grades", "3", "--periods", "P9"), "there is no P9; the periods are P1, P2"),
        (("--grades", "3", "--from", "2026-10-19", "--to", "2026-10-18"), "is before"),
        (("--grades", "3", "--from", "2026-10-01", "--to", "2026-10-02"), "is over"),
        (("--off", "--grades", "3"), "Leave out the rest."),
        (("--grades", "3", "--walk-more", "90"), "write 0 to 30"),
    ],
)
def test_what_cannot_be_is_refused_in_words(tmp_path: Path, typed: tuple[str, ...], said: str) -> None:
    ran = on_monday("testing", *typed, data=reference_school(tmp_path))
    assert (ran.status, ran.out) == (2, "")
    assert said in " ".join(ran.err.split())
