"""An assembly, a drill, a late opening: which visits fall out, which are short, and what can be done. T04, T06, T51.

Common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.entries import Interruption
from checklists.lines.decisions import AS_IT_IS, HALF
from checklists.plan.records import Habits
from checklists.taught_periods import time_left
from tests.days import line_of, opened, packed, teach, visit_of
from tests.schools import MONDAY, reference_school
from tests.situations.changing import changed, coming, decision_of, times_of

ASSEMBLY = (Interruption("9:30", "10:30", "assembly"),)
DRILL = (Interruption("9:24", "9:40", "fire drill"),)
SHORT = "needs 35 min, the period has 30: short 5"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return opened(reference_school(tmp_path / "school"))


# --------------------------------------------------------------------------------------------- T06 an assembly


def test_an_assembly_takes_one_visit_and_shortens_the_next(book: Book) -> None:
    with changed(book, interruptions=ASSEMBLY) as day:
        assert coming(day) == ["K-M", "1-P", "3-K", "2-R", "4-D", "5-H"]
        assert times_of(day, "1-P") == ("8:45", "9:30")
        assert times_of(day, "3-K") == ("10:40", "11:10")
        assert SHORT in decision_of(day, "3-K").text


def test_after_an_assembly_the_shared_box_and_kit_hold_what_one_class_needs(book: Book) -> None:
    with changed(book, interruptions=ASSEMBLY) as day:
        assert line_of(day, "blunt-needle").need == 27  # 25 and 2: the kit is needed still
        assert line_of(day, "yarn-ball").need == 28  # 25 and 3, not 54
        assert all(line.supply != "folder 3-B" for line in day.lines)


# ------------------------------------------------------------------------------------------- T51 a fire drill


def test_a_drill_ends_the_visit_that_is_running_and_delays_the_next(book: Book) -> None:
    with changed(book, interruptions=DRILL) as day:
        assert times_of(day, "1-P") == ("8:45", "9:24")
        assert times_of(day, "3-B") == ("9:50", "10:20")
        assert SHORT in decision_of(day, "3-B").text
        assert [each.visit for each in day.decisions] == ["P3 3-B"]  # 39 minutes are enough for 1-P


@pytest.mark.parametrize(
    ("start", "end", "left"),
    [
        ("9:00", "9:10", (9 * 60 + 20, 9 * 60 + 45)),  # the longer piece: 25 minutes after it, 15 before
        ("9:10", "9:20", (8 * 60 + 45, 9 * 60 + 10)),
        ("8:30", "9:20", (9 * 60 + 30, 9 * 60 + 45)),  # 15 minutes are still of use
        ("8:30", "9:21", None),
        ("8:45", "9:45", None),
        ("9:45", "10:00", (8 * 60 + 45, 9 * 60 + 45)),
        ("8:00", "8:45", (8 * 60 + 45, 9 * 60 + 45)),
    ],
)
def test_what_an_interruption_leaves_of_a_period_of_an_hour(start: str, end: str, left: tuple[int, int] | None) -> None:
    assert time_left(8 * 60 + 45, 9 * 60 + 45, [Interruption(start, end)], Habits()) == left


def test_how_long_a_class_takes_to_settle_is_hers_to_say(tmp_path: Path) -> None:
    quick = opened(reference_school(tmp_path / "school", school={"habits": {"settle_minutes": 5}}))
    with changed(quick, interruptions=ASSEMBLY) as day:
        assert times_of(day, "3-K") == ("10:35", "11:10")
        assert day.decisions == ()


# ------------------------------------------------------------------------------ T04 and R11: what can be done


def test_a_short_part_is_packed_all_the_same_and_may_be_left_undecided(book: Book) -> None:
    with changed(book, bells="two hours later") as day:
        assert [each.visit for each in day.decisions] == ["P3 3-B", "P4 3-K", "P5 2-R", "P6 4-D", "P7 5-H"]
        assert all(SHORT in each.text and not each.stops for each in day.decisions)
        assert line_of(day, "yarn-ball").need == 54


def test_for_a_short_part_the_dry_version_half_of_it_all_of_it_and_no_visit_are_offered(book: Book) -> None:
    with changed(book, bells="two hours later") as day:
        printing = [each.label for each in decision_of(day, "2-R").offers]
        assert printing == ["teach Leaf Rubbings", HALF, AS_IT_IS, "2-R is not visited"]
        assert [each.label for each in decision_of(day, "4-D").offers] == [HALF, AS_IT_IS, "4-D is not visited"]


@pytest.mark.parametrize("label", ["teach Leaf Rubbings", HALF, AS_IT_IS, "2-R is not visited"])
def test_each_way_out_settles_it_and_is_undone(book: Book, label: str) -> None:
    with changed(book, bells="two hours later") as day:
        offer = next(each for each in decision_of(day, "2-R").offers if each.label == label)
        book.do(MONDAY, offer.change)
        after = book.day(MONDAY)
        assert [each.visit for each in after.decisions] == ["P3 3-B", "P4 3-K", "P6 4-D", "P7 5-H"]
        assert ("2-R" in coming(after)) == (label != "2-R is not visited")
        assert not any("short" in each.what and each.visit == "P5 2-R" for each in after.cautions)
        book.undo(MONDAY)
        assert book.day(MONDAY) == day


def test_half_of_a_part_keeps_the_class_at_it(book: Book) -> None:
    with changed(book, interruptions=ASSEMBLY) as day:
        half = next(each for each in decision_of(day, "3-K").offers if each.label == HALF)
        book.do(MONDAY, half.change)
        assert visit_of(book.day(MONDAY), "3-K").split
        after = book.closing_of(MONDAY)  # as planned: nobody has told anything of Monday yet
        assert (after.progress["3-K"].part, after.progress["3-K"].again) == (2, True)
        assert after.progress["1-P"].part == 2
        assert after.unsure == {}
        assert line_of(book.day(MONDAY), "yarn-ball").need == line_of(day, "yarn-ball").need
        book.undo(MONDAY)


def test_a_class_that_was_not_taught_stays_where_it_is_and_ticks_that_hold_stay(book: Book) -> None:
    book.do(MONDAY, packed(line_of(book.day(MONDAY), "clay-mat")))
    with changed(book, interruptions=ASSEMBLY):
        assert "clay/clay-mat" in book.marks(MONDAY).lines
        teach(book, MONDAY, "3-K", "about half")
        after = book.closing_of(MONDAY)
        assert (after.progress["3-B"].part, after.progress["3-K"].part) == (2, 2)
        assert "3-B" not in after.unsure
        book.undo(MONDAY)
