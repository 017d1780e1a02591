"""What came back from the rooms: who was not done, another part than the planned one, another number of children.

Situations T18, T26, T30 and T52, and parts in another order. Numbers are those of the reference school: common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from checklists.book import Book
from checklists.daybook.class_sizes import FROM_NOW_ON, ONLY_TODAY
from checklists.daybook.day_change import compare_days
from checklists.daybook.entries import Changed, OutcomeKind, Reported
from checklists.daybook.matters import OpenMatter
from checklists.daybook.state import Progress, State
from tests.days import (
    NEXT_DAY_A,
    THURSDAY_22,
    after_the_battery_died,
    asked_at_the_end,
    at,
    choose,
    close,
    line_of,
    lines_of,
    needs_by_supply,
    opened,
    opened_again,
    packed,
    teach,
    visit_of,
)
from tests.schools import MONDAY, a_lesson, a_part, a_supply, an_item, reference_school, small_school


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """Tansy Hollow on Mon 5 Oct: 3-B, 24 children, is at part 2 of 4 of Burlap Birds."""
    with opened(reference_school(tmp_path / "school")) as book:
        yield book


def steps(book: Book, class_id: str, on: date) -> list[tuple[str, int]]:
    return [(each.lesson, each.part) for each in visit_of(book.day(on), class_id).steps]


def place(book: Book, class_id: str, on: date) -> Progress:
    return book.opening(on).progress[class_id]


# ------------------------------------------------------------------------------------ who is not done, by number


def test_two_who_are_not_done_have_three_sets_next_time_and_are_known_by_number(book: Book) -> None:
    teach(book, MONDAY, "3-B", "done except", not_done=2, not_done_numbers=(9, 12))
    close(book)
    (left,) = book.opening(NEXT_DAY_A).unfinished["3-B"]
    assert (left.part, left.count, left.numbers) == (2, 2, (9, 12))
    kit = line_of(book.day(NEXT_DAY_A), "yarn-ball", catch_up_for="3-B")
    assert kit.need == 2 + 1  # n + the larger of 1 and 10 %


def test_one_of_them_who_is_absent_next_time_stays_unfinished_and_the_other_has_finished(book: Book) -> None:
    teach(book, MONDAY, "3-B", "done except", not_done=2, not_done_numbers=(9, 12))
    close(book)
    teach(book, NEXT_DAY_A, "3-B", absent=(9,))
    close(book, NEXT_DAY_A)
    (left,) = book.opening(THURSDAY_22).unfinished["3-B"]
    assert (left.part, left.count, left.numbers) == (2, 1, (9,))


def test_a_child_called_out_and_named_as_not_done_counts_once(book: Book) -> None:
    teach(book, MONDAY, "3-B", "done except", not_done=11, not_done_numbers=(6,), half=(6,))
    close(book)
    (left,) = book.opening(NEXT_DAY_A).unfinished["3-B"]
    assert (left.count, left.numbers) == (11, (6,))


def test_half_time_adds_to_the_finish_up_list_and_not_to_the_absences(book: Book) -> None:
    """T26: ten are not done, and no. 6 was called out: 11."""
    teach(book, MONDAY, "3-B", "done except", not_done=10, half=(6,))
    close(book)
    (left,) = book.opening(NEXT_DAY_A).unfinished["3-B"]
    assert (left.count, left.numbers) == (11, (6,))
    assert "3-B" not in book.opening(NEXT_DAY_A).owed


# -------------------------------------------------------------------------------------------------- T18 and T52


def test_absent_again_on_the_catch_up_day_stays_for_the_next_visit_of_the_class(book: Book) -> None:
    """T18: no. 4 missed part 2 on Monday and part 3 on the next day A; the days between have nothing of it."""
    teach(book, MONDAY, "3-B", absent=(4,))
    close(book)
    assert not lines_of(book.day(date(2026, 10, 6)), "yarn-ball", catch_up_for="3-B")
    teach(book, NEXT_DAY_A, "3-B", absent=(4,))
    close(book, NEXT_DAY_A)
    owed = book.opening(THURSDAY_22).owed["3-B"]
    assert [(each.part, each.numbers) for each in owed] == [(2, (4,)), (3, (4,))]


def test_about_half_repeats_the_part_and_nobody_owes_it(book: Book) -> None:
    """T52: the class came 12 minutes late."""
    teach(book, MONDAY, "3-B", "about half")
    close(book)
    assert steps(book, "3-B", NEXT_DAY_A) == [("burlap-birds", 2)]
    assert place(book, "3-B", NEXT_DAY_A).again
    assert "3-B" not in book.opening(NEXT_DAY_A).owed


# ---------------------------------------------------------------------------------------------- another part


def test_a_part_that_was_done_ahead_is_passed_over_and_the_planned_one_stays_next(book: Book) -> None:
    """3-B is at part 2 and does part 3: next 2, then 4, and after it the lesson is over."""
    teach(book, MONDAY, "3-B", "another part", reached_part=3)
    close(book)
    assert steps(book, "3-B", NEXT_DAY_A) == [("burlap-birds", 2)]
    assert place(book, "3-B", NEXT_DAY_A).done_ahead == (3,)
    teach(book, NEXT_DAY_A, "3-B")
    close(book, NEXT_DAY_A)
    assert steps(book, "3-B", THURSDAY_22) == [("burlap-birds", 4)]
    assert place(book, "3-B", THURSDAY_22).done_ahead == ()


def test_the_last_part_done_ahead_ends_the_lesson_with_the_open_one_before_it(book: Book) -> None:
    teach(book, MONDAY, "3-B", "another part", reached_part=4)
    close(book)
    teach(book, NEXT_DAY_A, "3-B", "went further", reached_part=3)
    close(book, NEXT_DAY_A)
    now = place(book, "3-B", THURSDAY_22)
    assert "burlap-birds" in now.lessons_done
    assert now.done_ahead == ()


def test_who_missed_the_other_part_is_owed_that_one(book: Book) -> None:
    teach(book, MONDAY, "3-B", "another part", reached_part=3, absent=(4, 11))
    close(book)
    (owed,) = book.opening(NEXT_DAY_A).owed["3-B"]
    assert (owed.part, owed.numbers) == (3, (4, 11))


def test_going_further_passes_over_what_was_done_ahead_and_nobody_owes_it_twice(book: Book) -> None:
    teach(book, MONDAY, "3-B", "another part", reached_part=3, absent=(4,))
    close(book)
    teach(book, NEXT_DAY_A, "3-B", "went further", reached_part=4, absent=(11,))
    close(book, NEXT_DAY_A)
    owed = {each.part: each.numbers for each in book.opening(THURSDAY_22).owed["3-B"]}
    assert owed == {3: (4,), 2: (11,), 4: (11,)}
    assert "burlap-birds" in place(book, "3-B", THURSDAY_22).lessons_done


def test_the_planned_part_named_as_another_one_is_simply_done(book: Book) -> None:
    teach(book, MONDAY, "3-B", "another part", reached_part=2)
    close(book)
    now = place(book, "3-B", NEXT_DAY_A)
    assert (now.part, now.done_ahead) == (3, ())


def test_an_earlier_part_taught_again_changes_nothing_of_the_classes_place(book: Book) -> None:
    before = place(book, "3-B", MONDAY)
    teach(book, MONDAY, "3-B", "another part", reached_part=1)
    close(book)
    assert place(book, "3-B", NEXT_DAY_A) == before


def test_who_was_not_done_with_the_other_part_finishes_that_one(book: Book) -> None:
    teach(book, MONDAY, "3-B", "another part", reached_part=3, not_done=4)
    close(book)
    (left,) = book.opening(NEXT_DAY_A).unfinished["3-B"]
    assert (left.part, left.count) == (3, 4)


# ------------------------------------------------------------------------------- stock and contents, with numbers


def two_colours(folder: Path) -> Path:
    """3-B, 24 children, at part 1 of 3: red paper, then blue paper, then red paper again; hoops stay in the work."""
    return small_school(
        folder,
        supplies=[
            a_supply("red", kind="paper", on_hand=500),
            a_supply("blue", kind="paper", on_hand=500),
            a_supply("hoop", kind="tool", on_hand=60),
        ],
        lessons=[
            a_lesson(
                "colours",
                [
                    a_part("red", [an_item("red")]),
                    a_part("blue", [an_item("blue"), an_item("hoop", stays_in_work=True)]),
                    a_part("red again", [an_item("red", 2), an_item("hoop", stays_in_work=True)]),
                ],
            )
        ],
        teaching={"3": ["colours"]},
    )


@pytest.fixture
def colours(tmp_path: Path) -> Iterator[Book]:
    with opened(two_colours(tmp_path / "colours")) as book:
        day = book.day(MONDAY)
        book.do(MONDAY, packed(line_of(day, "red")))
        yield book


def test_what_was_packed_for_the_planned_part_stays_and_what_the_other_uses_is_taken_off(colours: Book) -> None:
    """51 red are packed for 24 + 22 and 5 more; part 2 uses 24 blue and 24 hoops, 3-K uses its 22 red."""
    assert line_of(colours.day(MONDAY), "red").need == 24 + 22 + 5
    teach(colours, MONDAY, "3-B", "another part", reached_part=2)
    teach(colours, MONDAY, "3-K")
    close(colours)
    after = colours.opening(date(2026, 10, 8))
    assert after.contents["box-3"]["red"] == 51 - 22
    assert (after.on_hand["red"], after.on_hand["blue"]) == (500 - 22, 500 - 24)
    assert after.on_hand["hoop"] == 60


def test_only_those_who_came_have_used_it(colours: Book) -> None:
    teach(colours, MONDAY, "3-B", "another part", reached_part=3, absent=(1, 2))
    teach(colours, MONDAY, "3-K")
    close(colours)
    after = colours.opening(date(2026, 10, 8))
    assert after.on_hand["red"] == 500 - 22 - 22 * 2
    assert "box-3" not in after.contents, "66 were used and 51 were in it: an estimate never falls below nothing"


def test_hoops_that_are_in_the_work_since_a_part_done_ahead_are_not_packed_again(colours: Book) -> None:
    teach(colours, MONDAY, "3-B", "another part", reached_part=3)
    teach(colours, MONDAY, "3-K", "not taught")
    close(colours)
    thursday = date(2026, 10, 8)
    colours.do(thursday, Changed(at=at("7:00", thursday), parts={"P1 3-B": 2}))
    assert "hoop" not in needs_by_supply(colours.day(thursday))
    assert needs_by_supply(colours.day(thursday))["blue"] == 24 + 3


# ------------------------------------------------------------------------------------ another part, planned so


def test_another_part_planned_for_the_day_is_packed_for_and_moves_the_class_on(colours: Book) -> None:
    before, marks = colours.day(MONDAY), colours.marks(MONDAY)
    colours.do(MONDAY, Changed(at=at("7:30"), parts={"P1 3-B": 2}))
    after = colours.day(MONDAY)
    assert [(each.lesson, each.part) for each in visit_of(after, "3-B").steps] == [("colours", 2)]
    assert needs_by_supply(after) == {**needs_by_supply(after), "blue": 24 + 3, "red": 22 + 3, "hoop": 24 + 2}
    change = compare_days(colours.plan, before, after, marks)
    assert [now.class_id for _, now in change.other_lessons] == ["3-B"]
    assert {each.line.supply: each.take_out for each in change.lines if each.take_out} == {"red": 51 - 25}
    assert any("part 2 was chosen; part 1 stays next" in note for note in after.notes)
    assert "part 2 was chosen for V1" in line_of(after, "blue").because[0].text
    teach(colours, MONDAY, "3-B")
    close(colours)
    now = place(colours, "3-B", date(2026, 10, 8))
    assert (now.part, now.done_ahead) == (1, (2,))


def test_a_planned_other_part_that_nobody_told_of_leaves_the_next_part_certain(colours: Book) -> None:
    colours.do(MONDAY, Changed(at=at("7:30"), parts={"P1 3-B": 2}))
    close(colours)
    assert steps(colours, "3-B", date(2026, 10, 8)) == [("colours", 1)]


def test_another_part_is_taken_back_by_saying_next(colours: Book) -> None:
    colours.do(MONDAY, Changed(at=at("7:30"), parts={"P1 3-B": 2}))
    colours.do(MONDAY, Changed(at=at("7:31"), parts={"P1 3-B": 0}))
    assert steps(colours, "3-B", MONDAY) == [("colours", 1)]


def test_wet_work_of_a_part_done_ahead_holds_back_the_next_one(tmp_path: Path) -> None:
    """Part 2, done on Monday ahead of part 1, dries 7 days: the filler on Thursday, part 1 on the Monday after."""
    folder = small_school(
        tmp_path / "wet",
        lessons=[
            a_lesson(
                "wet-work",
                [a_part("one"), a_part("wet", wait={"days": 7, "why": "it dries"}), a_part("three")],
            ),
            a_lesson("drawing", [a_part("draw", [an_item("white-9x12")])]),
        ],
        supplies=[a_supply("white-9x12", kind="paper")],
        teaching={"3": ["wet-work"]},
    )
    text = (folder / "school.toml").read_text()
    (folder / "school.toml").write_text(text + '\n[habits]\nfiller = "drawing"\n')
    with opened(folder) as book:
        teach(book, MONDAY, "3-B", "another part", reached_part=2)
        close(book)
        visit = visit_of(book.day(date(2026, 10, 8)), "3-B")
        assert (visit.instead, visit.steps[0].lesson) == ("too early", "drawing")
        assert steps(book, "3-B", date(2026, 10, 12)) == [("wet-work", 1)]


# ------------------------------------------------------------------------------------------- T30 another headcount


def test_25_came_where_the_list_has_24_and_she_is_asked_whether_from_now_on(book: Book, tmp_path: Path) -> None:
    teach(book, MONDAY, "3-B", students=25)
    asked = asked_at_the_end(book, MONDAY)["size/3-B"]
    assert asked.text == "V3 3-B: 25 children, and the class list has 24. From now on?"
    assert [each.label for each in asked.choices] == [ONLY_TODAY, FROM_NOW_ON]
    choose(book, MONDAY, "size/3-B", FROM_NOW_ON)
    assert visit_of(book.day(NEXT_DAY_A), "3-B").students == 25
    assert asked_at_the_end(book, MONDAY)["size/3-B"].answer == FROM_NOW_ON
    again = after_the_battery_died(book, into=tmp_path / "again")
    assert visit_of(again.day(NEXT_DAY_A), "3-B").students == 25
    again.release()
    book.undo(MONDAY)
    assert visit_of(book.day(NEXT_DAY_A), "3-B").students == 24
    assert asked_at_the_end(book, MONDAY)["size/3-B"].answer == ""


def test_only_today_leaves_the_class_list_as_it_is(book: Book) -> None:
    teach(book, MONDAY, "3-B", students=25)
    choose(book, MONDAY, "size/3-B", ONLY_TODAY)
    assert asked_at_the_end(book, MONDAY)["size/3-B"].answer == ONLY_TODAY
    assert visit_of(book.day(NEXT_DAY_A), "3-B").students == 24


def test_those_who_were_absent_count_as_children_of_the_class(book: Book) -> None:
    teach(book, MONDAY, "3-B", students=22, absent=(4, 11))
    assert "size/3-B" not in asked_at_the_end(book, MONDAY)


def test_the_new_size_is_still_there_after_the_day_was_closed_and_opened_again(book: Book) -> None:
    teach(book, MONDAY, "3-B", students=25)
    choose(book, MONDAY, "size/3-B", FROM_NOW_ON)
    close(book)
    with opened_again(book) as again:
        assert visit_of(again.day(NEXT_DAY_A), "3-B").students == 25


# --------------------------------------------------------------------------------- undone, and after a dead battery


@pytest.mark.parametrize(
    ("outcome", "more"),
    [
        ("done", {"absent": (4,)}),  # T18
        ("went further", {"reached_part": 3, "absent": (9,)}),  # T23
        ("done except", {"not_done": 10, "half": (6,)}),  # T26
        ("done", {"students": 25}),  # T30
        ("about half", {}),  # T52
        ("another part", {"reached_part": 4, "not_done": 2, "not_done_numbers": (9, 12)}),
    ],
)
def test_what_was_told_outlives_a_dead_battery_and_undo_takes_all_of_it_back(
    book: Book, tmp_path: Path, outcome: OutcomeKind, more: dict[str, Any]
) -> None:
    before = stands(book)
    teach(book, MONDAY, "3-B", outcome, **more)
    told = stands(book)
    assert told != before
    with after_the_battery_died(book, into=tmp_path / "again") as again:
        assert stands(again) == told
        assert again.undo(MONDAY) is not None
        assert stands(again) == before
    book.undo(MONDAY)
    assert stands(book) == before


def stands(book: Book) -> tuple[State, dict[str, Reported], dict[str, OpenMatter]]:
    """The opening of the next day A, what was told of Monday's visits, and what its end asks."""
    return book.opening(NEXT_DAY_A), dict(book.marks(MONDAY).reports), asked_at_the_end(book, MONDAY)


def test_a_class_that_did_two_parts_owes_both_to_who_was_absent_and_both_are_off_the_stock(colours: Book) -> None:
    """T23: 3-B does parts 1 and 2, no. 9 is absent: 23 red, 23 blue and 23 hoops in its work."""
    teach(colours, MONDAY, "3-B", "went further", reached_part=2, absent=(9,))
    teach(colours, MONDAY, "3-K", "not taught")
    close(colours)
    after = colours.opening(date(2026, 10, 8))
    assert [(each.part, each.numbers) for each in after.owed["3-B"]] == [(1, (9,)), (2, (9,))]
    assert (after.on_hand["red"], after.on_hand["blue"], after.on_hand["hoop"]) == (500 - 23, 500 - 23, 60)
    assert place(colours, "3-B", date(2026, 10, 8)).part == 3
