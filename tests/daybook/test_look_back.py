"""How it stands, in numbers. (Situations T24 and a snow day of a real year; common practice, no source.)"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checklists.daybook.entries import CameUpShort, Changed, FoundInContainer, Packed
from checklists.daybook.look_back import LookBack, Missed, Standing
from checklists.looking_back import how_it_stands
from tests.days import (
    NEXT_DAY_A,
    NEXT_MONDAY,
    THURSDAY,
    THURSDAY_22,
    TUESDAY,
    WEDNESDAY,
    at,
    close,
    line_of,
    opened,
    opened_again,
    teach,
)
from tests.schools import MONDAY, a_class, in_the_evening, reference_school, small_school


def of(look: LookBack, class_id: str) -> Standing:
    return next(each for each in look.standings if each.class_id == class_id)


def test_a_class_that_fell_behind_is_so_many_parts_behind_the_plan_and_the_furthest(tmp_path: Path) -> None:
    """On Thu 22 Oct 3-B is at part 2, 3-K at part 4: since Fri 2 Oct two days A were planned, 5 and 14 Oct."""
    with opened(reference_school(tmp_path), THURSDAY_22) as book:
        for day in (MONDAY, NEXT_DAY_A):
            teach(book, day, "3-B", "not taught")
            teach(book, day, "3-K")
            close(book, day)
        look = how_it_stands(book, THURSDAY_22)
        slow, fast = of(look, "3-B"), of(look, "3-K")
        assert (slow.lesson, slow.part, slow.parts, slow.planned) == ("Burlap Birds", 2, 4, 2)
        assert (slow.to_plan, slow.to_furthest) == (-2, -2)
        assert (fast.part, fast.to_plan, fast.to_furthest) == (4, 0, 0)
        assert [each.class_id for each in look.standings if each.grade == "3"] == ["3-B", "3-K"]


def test_a_visit_nobody_told_of_is_behind_and_said_to_be_untold(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path), TUESDAY) as book:
        teach(book, MONDAY, "3-B")
        close(book)
        look = how_it_stands(book, TUESDAY)
        assert (of(look, "3-B").to_plan, of(look, "3-B").not_told) == (0, 0)
        assert (of(look, "3-K").to_plan, of(look, "3-K").not_told) == (-1, 1)


def test_a_class_that_went_further_is_ahead(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path), TUESDAY) as book:
        teach(book, MONDAY, "3-B", "went further", reached_part=3)
        close(book)
        assert of(how_it_stands(book, TUESDAY), "3-B").to_plan == 1


def test_today_counts_once_it_is_closed(tmp_path: Path) -> None:
    with opened(reference_school(tmp_path)) as book:
        teach(book, MONDAY, "3-B", "not taught")
        before = how_it_stands(book, MONDAY)
        assert (of(before, "3-B").planned, of(before, "3-B").to_plan, before.at_the_end) == (0, 0, False)
        close(book)
        after = how_it_stands(book, MONDAY)
        assert (of(after, "3-B").planned, of(after, "3-B").to_plan, after.at_the_end) == (1, -1, True)


@pytest.mark.parametrize(("lost_day", "behind"), [("slides", 0), ("fixed", -1)])
def test_a_snow_day_in_a_cycle_that_slides_is_made_up_and_in_a_fixed_one_is_lost(
    lost_day: str, behind: int, tmp_path: Path
) -> None:
    with opened(reference_school(tmp_path, lost_day=lost_day), WEDNESDAY) as book:
        book.do(MONDAY, Changed(at=at("6:00"), no_school=True))
        close(book)
        assert of(how_it_stands(book, TUESDAY), "3-B").to_plan == -1
        if lost_day == "slides":
            teach(book, TUESDAY, "3-B")
        close(book, TUESDAY)
        look = how_it_stands(book, WEDNESDAY)
        assert of(look, "3-B").to_plan == behind
        assert [(each.day, each.visits) for each in look.lost] == [(MONDAY, 7)]


def test_with_nothing_left_to_teach_nobody_is_behind(tmp_path: Path) -> None:
    """K-M has one part of its one lesson left; after it there is nothing that could have been taught."""
    with opened(reference_school(tmp_path), THURSDAY_22) as book:
        teach(book, MONDAY, "K-M")
        close(book)
        close(book, NEXT_DAY_A)
        stands = of(how_it_stands(book, THURSDAY_22), "K-M")
        assert (stands.lesson, stands.planned, stands.to_plan) == ("", 1, 0)


def test_lessons_that_are_over_count_with_all_their_parts(tmp_path: Path) -> None:
    """3-B has two parts of Paper Hills behind it and is at the first of Yarn Birds; 3-K is at part 2 of Paper Hills."""
    with opened(small_school(tmp_path), NEXT_MONDAY) as book:
        teach(book, MONDAY, "3-B")
        teach(book, MONDAY, "3-K")
        close(book)
        teach(book, THURSDAY, "3-B")
        close(book, THURSDAY)
        look = how_it_stands(book, NEXT_MONDAY)
        assert (of(look, "3-B").lesson, of(look, "3-B").part, of(look, "3-B").to_plan) == ("Yarn Birds", 1, 0)
        assert (of(look, "3-K").to_plan, of(look, "3-K").to_furthest) == (0, -1)


def test_who_has_missed_two_or_more_is_named_by_number(tmp_path: Path) -> None:
    """No. 4 missed two visits, no. 11 one of them."""
    with opened(small_school(tmp_path), NEXT_MONDAY) as book:
        teach(book, MONDAY, "3-B", absent=(4, 11))
        close(book)
        teach(book, THURSDAY, "3-B", absent=(4,))
        close(book, THURSDAY)
        look = how_it_stands(book, NEXT_MONDAY)
        assert look.missed == (Missed("3-B", 4, 2),)
        assert {number for each in look.owed["3-B"] for number in each.numbers} == {4, 11}


def test_what_came_up_short_counts_once_a_day_and_supply(tmp_path: Path) -> None:
    """Glue is packed in part on Monday and short on Thursday; of paper there is enough on both days."""
    with opened(small_school(tmp_path), NEXT_MONDAY) as book:
        glue, paper = line_of(book.day(MONDAY), "glue-stick"), line_of(book.day(MONDAY), "white-12x18")
        book.do(MONDAY, Packed(at=at("7:41"), line=glue.key, count=20))
        book.do(MONDAY, Packed(at=at("7:42"), line=paper.key, count=paper.need))
        close(book)
        assert book.closing_of(MONDAY).came_short == {"glue-stick": 1}
        again = line_of(book.day(THURSDAY), "glue-stick")
        book.do(THURSDAY, CameUpShort(at=at("7:41", THURSDAY), line=again.key, count=21, remedy="share"))
        close(book, THURSDAY)
        book = opened_again(book, NEXT_MONDAY)
        assert how_it_stands(book, NEXT_MONDAY).came_short == (("glue-stick", 2),)
        book.do(MONDAY, FoundInContainer(at=at("7:50"), container="box-3", supply="glue-stick", count=27))
        assert how_it_stands(book, NEXT_MONDAY).came_short == (("glue-stick", 1),)
        assert not book.check_chain()
        book.release()


def test_grades_are_in_order_of_the_class_most_behind(tmp_path: Path) -> None:
    classes = [a_class("3-B", room="12"), a_class("3-K", room="14"), a_class("4-D", room="14")]
    timetable = {"Mon": {"P1": "3-B", "P2": "4-D"}, "Thu": {"P1": "3-K"}}
    teaching = {"3": ["paper-hills"], "4": ["paper-hills"]}
    school = small_school(tmp_path, classes=classes, timetable=timetable, teaching=teaching)
    with opened(school, NEXT_MONDAY) as book:
        teach(book, MONDAY, "3-B")
        teach(book, MONDAY, "4-D", "not taught")
        close(book)
        teach(book, THURSDAY, "3-K")
        close(book, THURSDAY)
        look = how_it_stands(book, NEXT_MONDAY)
        assert [(each.class_id, each.to_plan) for each in look.standings] == [("4-D", -1), ("3-B", 0), ("3-K", 0)]


def test_no_day_in_between_is_read(tmp_path: Path) -> None:
    """A day file in the middle that cannot be read is told of only when it is looked at."""
    school = reference_school(tmp_path)
    with opened(school, NEXT_DAY_A) as book:
        teach(book, MONDAY, "3-B")
        close(book)
        close(book, TUESDAY)
        close(book, WEDNESDAY)
    (school / "daybook" / f"{TUESDAY}.toml").write_text("nothing of sense")
    with opened(school, NEXT_DAY_A) as book:
        assert of(how_it_stands(book, NEXT_DAY_A), "3-B").to_plan == 0
        assert not [each for each in book.problems if str(TUESDAY) in each.file]


def test_before_anything_is_told_no_class_is_behind(tmp_path: Path) -> None:
    with opened(small_school(tmp_path), date(2026, 8, 31)) as book:
        look = how_it_stands(book, date(2026, 8, 31))
        assert (look.since, {each.to_plan for each in look.standings}) == (None, {0})


def test_in_a_new_year_it_is_looked_back_to_its_first_day(tmp_path: Path) -> None:
    """The reference school's evening before is of the year before here: classes began anew on Mon 5 Oct."""
    school = {"first_day": MONDAY, "last_day": date(2027, 6, 11), "days_off": []}
    folder = in_the_evening(reference_school(tmp_path, school=school), came_short={"glue-stick": 7})
    with opened(folder, TUESDAY) as book:
        teach(book, MONDAY, "3-B", "not taught")
        teach(book, MONDAY, "3-K")
        close(book)
        look = how_it_stands(book, TUESDAY)
        assert (look.since, look.came_short) == (MONDAY, ())
        assert [(of(look, each).part, of(look, each).to_plan) for each in ("3-B", "3-K")] == [(1, -1), (2, 0)]
