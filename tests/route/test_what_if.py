"""What a slot or two minutes would do: numbers worked out by hand, and that more never costs more on any day."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import takewhile
from pathlib import Path
from random import Random
from shutil import copytree

import pytest
from msgspec import structs

from checklists.book import Book
from checklists.daybook.entries import Changed
from checklists.lines.records import Day
from checklists.looking_ahead import days_as_planned, days_from, outlook_from
from checklists.route.problem import RouteProblem
from checklists.route.solve import solve
from checklists.route.what_if import (
    AS_IT_IS,
    WHAT_IFS,
    Sums,
    WhatIf,
    changed,
    try_all,
    without_names,
    year_of_routes,
)
from tests.days import NEXT_DAY_A, at
from tests.references.random_routes import a_random_day
from tests.route.days import reference_monday
from tests.schools import MONDAY, reference_school, small_school

MORE = [each for each in WHAT_IFS if min(each.half_slots, each.before_school, each.between) >= 0 and each != AS_IT_IS]


def sums_of(*problems: RouteProblem) -> dict[WhatIf, Sums]:
    return {each.what: each.sums for each in try_all(problems)}


# ------------------------------------------------------------------------------------------------ worked out by hand


def test_the_worked_example_with_two_slots() -> None:
    """Two slots are 4 half slots; 5 minutes before school are enough for one trip, of 4 minutes to Room 9.

    As it is: 5 minutes late, the stop after V2, one box ahead and two in the break. With three slots V1 to V4, which
    need 8 half slots, are two over: Box 1 goes ahead, and one box more in the break, where V5 to V7 need 8 as well.
    With one slot V1 alone is over by one, and to Room 4 and back takes 6 minutes. With 7 minutes before school it is
    still one trip. With two minutes more between bells V1 to V2 is in time, V5 to V6 4 - 2 minutes late.
    """
    found = sums_of(reference_monday(4, 5))
    assert found == {
        AS_IT_IS: Sums(late=5, stops=1, ahead=3),
        WhatIf(half_slots=2): Sums(late=5, stops=0, ahead=2),
        WhatIf(half_slots=-2): Sums(not_fitting=1),
        WhatIf(before_school=2): Sums(late=5, stops=1, ahead=3),
        WhatIf(between=2): Sums(late=2, stops=1, ahead=3),
    }


def test_days_are_added_up_and_a_day_that_does_not_fit_counts_in_nothing_else() -> None:
    """Three times the worked example with 4 half slots, and a day that needs 6 half slots at its only visit."""
    (visit, *_) = reference_monday().visits
    kinds = {each.id: structs.replace(each, size=3, may_be_left=False) for each in reference_monday().containers}
    needs = visit.needs
    too_much = structs.replace(
        reference_monday(4, 5),
        visits=(visit,),
        containers=tuple(kinds[each] for each in needs),
        sessions=reference_monday(4, 5).sessions[:1],
    )
    found = {each.what: each for each in try_all([reference_monday(4, 5)] * 3 + [too_much])}
    assert found[AS_IT_IS].sums == Sums(late=15, stops=3, ahead=9, not_fitting=1)
    one_more = found[WhatIf(half_slots=2)]
    assert one_more.sums == Sums(late=15, stops=0, ahead=6, not_fitting=0)
    assert one_more.more == Sums(late=0, stops=-3, ahead=-3, not_fitting=-1)
    one_fewer = found[WhatIf(half_slots=-2)]
    assert one_fewer.sums == Sums(not_fitting=4)
    assert one_fewer.more == Sums(not_fitting=3)


def test_over_the_year_of_the_reference_school_every_day_a_is_late_by_its_two_ways(tmp_path: Path) -> None:
    """All rides with 8 half slots; two more minutes take 1 and 2 of the 1 + 4 minutes late away."""
    with Book.open(reference_school(tmp_path), today=MONDAY) as book:
        year = year_of_routes(outlook_from(book, MONDAY))
        days = [day for day in days_as_planned(outlook_from(book, MONDAY)) if day.visits]
    assert year is not None
    sums = {each.what: each.sums for each in year.tried}
    assert (year.first, year.days, year.half_slots) == (MONDAY, len(days), 8)
    assert sums[AS_IT_IS] == Sums(late=5 * len(days))
    assert sums[WhatIf(between=2)] == Sums(late=2 * len(days))


def test_it_stops_when_nobody_wants_it_any_more(tmp_path: Path) -> None:
    with Book.open(reference_school(tmp_path), today=MONDAY) as book:
        assert year_of_routes(outlook_from(book, MONDAY), lambda: False) is None
    assert try_all([reference_monday()], lambda: False) == ()


# ------------------------------------------------------------------------------------------------------------- laws


@pytest.mark.parametrize("seed", range(40))
def test_more_slots_and_more_minutes_never_cost_more_on_any_day(seed: int) -> None:
    problem = a_random_day(Random(seed), visits=5, containers=6)
    before = solve(problem)
    for what in (*MORE, WhatIf(half_slots=1), WhatIf(half_slots=2, before_school=2, between=2)):
        after = solve(changed(problem, what))
        if before is not None:
            assert after is not None
            assert after.cost <= before.cost
    fewer = solve(changed(problem, WhatIf(half_slots=-2)))
    if fewer is not None:
        assert before is not None
        assert before.cost <= fewer.cost


@pytest.mark.parametrize("seed", range(40))
def test_what_is_left_out_to_solve_like_days_once_never_changes_the_cost(seed: int) -> None:
    problem = a_random_day(Random(seed), visits=5, containers=6)
    found, bare = solve(problem), solve(without_names(problem))
    assert (found and found.cost) == (bare and bare.cost)


def test_masses_that_can_be_too_much_are_kept() -> None:
    """Five containers of 9 kg in a leg where the cart takes 36 kg, as in the test of the route itself."""
    heavy = tuple(structs.replace(each, kilograms=9.0) for each in reference_monday().containers)
    problem = reference_monday(containers=heavy, most_kilograms=36.0)
    plan = solve(without_names(problem))
    assert plan is not None
    assert plan.cost.ahead == 2


# ---------------------------------------------------------------------------------- the same days as the book's own


def test_the_year_ahead_has_the_same_lists_as_the_book(tmp_path: Path) -> None:
    """With days told ahead: a class that is away, another one's part, and a school day that is lost."""
    folder = reference_school(tmp_path)
    with Book.open(folder, today=MONDAY) as book:
        book.do(MONDAY, Changed(at=at(), away=("1-P",)))
        book.do(NEXT_DAY_A, Changed(at=at("7:42"), away=("3-K",)))
        book.do(date(2026, 10, 8), Changed(at=at("7:43"), no_school=True))
        ours = lists_until(book, date(2026, 11, 5))
        assert ours == {each.date: each for each in (book.day(day) for day in ours)}
        assert sum(bool(each.visits) for each in ours.values()) >= 4


def test_it_begins_today_even_where_an_earlier_day_is_looked_at(tmp_path: Path) -> None:
    with Book.open(small_school(tmp_path), today=date(2026, 10, 8)) as book:
        assert outlook_from(book, MONDAY).first == date(2026, 10, 8)
        assert next(days_as_planned(outlook_from(book, MONDAY))) == book.day(date(2026, 10, 8))


def test_of_the_demo_school_a_week_and_a_half_is_the_same_as_well(tmp_path: Path) -> None:
    """Parts that come too early, kits, waiting and drying: the rules at work on the places reached by then."""
    source = Path(__file__).parents[2] / "checklists" / "demo" / "school"
    copytree(source, tmp_path / "school")
    first = date(2026, 10, 5)
    with Book.open(tmp_path / "school", today=first) as book:
        theirs = list(days_from(book, first, 7))
        ours = lists_until(book, theirs[-1].date)
    assert ours == {each.date: each for each in theirs}


def lists_until(book: Book, last: date) -> dict[date, Day]:
    outlook = outlook_from(book, book.today)
    days = takewhile(lambda day: day.date < last + timedelta(1), days_as_planned(outlook))
    return {each.date: each for each in days}
