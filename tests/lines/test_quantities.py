"""Units, spare and rounding. Counts are common practice, no source."""

from __future__ import annotations

import pytest

from checklists.lines.quantities import larger_spare, round_up, spare_of, units_of, usual_spare
from checklists.plan.records import Habits, Spare, Supply


@pytest.mark.parametrize(
    ("basis", "units"),
    [
        ("student", 25),
        ("pair", 13),
        ("table", 6),
        ("class", 1),
        ("lesson", 1),
        ("piece", 50),
        ("need left-handed", 2),
        ("need wheelchair", 0),
    ],
)
def test_a_class_of_25_at_6_tables_has_so_many_units(basis: str, units: int) -> None:
    assert units_of(basis, 25, 6, 2, {"left-handed": 2}) == units


@pytest.mark.parametrize(
    ("total", "spare"),
    [(0, 0), (1, 2), (20, 2), (21, 3), (49, 5), (66, 7)],
)
def test_spare_is_the_larger_of_2_and_10_per_cent_rounded_up(total: int, spare: int) -> None:
    assert spare_of(Spare(2, 10), total) == spare


def test_binary_fractions_do_not_round_up_by_themselves() -> None:
    assert round_up(0.1 * 3 * 10) == 3
    assert round_up(1.4 * 20) == 28
    assert spare_of(Spare(0, 15), 20) == 3
    assert round_up(2.001) == 3


def test_kindergarten_and_grade_1_have_more_spare_paper_and_no_more_tools() -> None:
    paper, tool = Supply("p", "p", "paper"), Supply("t", "t", "tool")
    assert usual_spare(Habits(), paper, is_young=True) == Spare(3, 15)
    assert usual_spare(Habits(), paper, is_young=False) == Spare(2, 10)
    assert usual_spare(Habits(), tool, is_young=True) == Spare(1, 5)


def test_a_supply_with_a_spare_of_its_own_has_that_and_a_sample_has_none() -> None:
    dear = Supply("w", "w", "paper", spare=Spare(2, 5))
    assert usual_spare(Habits(), dear, is_young=True) == Spare(2, 5)
    assert usual_spare(Habits(), Supply("s", "s", "sample"), is_young=False) == Spare()


def test_of_two_spares_each_number_counts_at_its_larger() -> None:
    assert larger_spare(Spare(3, 5), Spare(2, 10)) == Spare(3, 10)
    assert larger_spare(None, Spare(2, 10)) == Spare(2, 10)
    assert larger_spare(None, None) is None
