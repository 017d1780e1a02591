"""The reserve for absent children against the binomial distribution: a general library and printed tables."""

from __future__ import annotations

from fractions import Fraction
from math import comb

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from checklists.lines.quantities import reserve_for

RATES = (0.01, 0.03, 0.05, 0.06, 0.08, 0.10, 0.12, 0.20, 0.25, 0.50, 0.75)
"""Shares of a class that are absent."""

PRINTED = [
    # (students, absent share, P(X <= 0), P(X <= 1) ..., reserve at 95 %, reserve at 99 %)
    # Source: printed tables of the cumulative binomial distribution. n = 1 to 8 as in a textbook's table A1, four
    # places; n = 5 also as in a table with five places. The rows of 10, 20 and 25 are from memory (they stand in most
    # printed appendices) and reproduced by calculation; those with .06 are calculated only.
    (1, 0.05, (0.9500,), 0, 1),
    (3, 0.10, (0.7290, 0.9720), 1, 2),
    (5, 0.05, (0.77378, 0.97741, 0.99884), 1, 2),
    (5, 0.10, (0.59049, 0.91854, 0.99144), 2, 2),
    (6, 0.10, (0.5314, 0.8857, 0.9842), 2, 3),
    (7, 0.05, (0.6983, 0.9556), 1, 2),
    (8, 0.05, (0.6634, 0.9428), 2, 2),
    (10, 0.05, (0.5987, 0.9139, 0.9885), 2, 3),
    (10, 0.10, (0.3487, 0.7361, 0.9298, 0.9872), 3, 4),
    (20, 0.05, (0.3585, 0.7358, 0.9245, 0.9841), 3, 4),
    (20, 0.10, (0.1216, 0.3917, 0.6769, 0.8670, 0.9568, 0.9887, 0.9976), 4, 6),
    (25, 0.05, (0.2774, 0.6424, 0.8729, 0.9659, 0.9928), 3, 4),
    (25, 0.10, (0.0718, 0.2712, 0.5371, 0.7636, 0.9020, 0.9666, 0.9905), 5, 6),
    (20, 0.06, (0.2901, 0.6605, 0.8850, 0.9710), 3, 4),
    (25, 0.06, (0.2129, 0.5527, 0.8129, 0.9402, 0.9850), 4, 5),
]


def attendance_of(absent: float) -> float:
    """The share present, as a person would write it."""
    return round(1 - absent, 6)


def reached(students: int, absent: float, k: int) -> Fraction:
    """P(X ≤ k) exactly, straight from the definition of the binomial distribution."""
    p = Fraction(str(absent))
    return sum((comb(students, i) * p**i * (1 - p) ** (students - i) for i in range(k + 1)), Fraction(0))


@pytest.mark.parametrize("certainty", [0.8, 0.9, 0.95, 0.99, 0.999])
@pytest.mark.parametrize("absent", RATES)
def test_the_reserve_is_the_quantile_of_the_binomial_distribution(absent: float, certainty: float) -> None:
    # Reference: scipy.stats.binom. It works in binary fractions: where P is equal to the certainty it may take the next
    # number, so the two may differ by its rounding there and nowhere else.
    for students in range(41):
        mine = reserve_for(students, attendance_of(absent), certainty)
        theirs = int(binom.ppf(certainty, students, absent)) if students else 0
        if mine != theirs:
            nearest = min(mine, theirs)
            assert abs(float(binom.cdf(nearest, students, absent)) - certainty) < 1e-12
            assert reached(students, absent, mine) >= Fraction(str(certainty))


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: f"{row[0]} students, {row[1]} absent")
def test_the_reserve_agrees_with_printed_tables(row: tuple[int, float, tuple[float, ...], int, int]) -> None:
    students, absent, printed, usual, certain = row
    places = 5 if len(str(printed[0])) > 6 else 4
    for k, value in enumerate(printed):
        assert float(reached(students, absent, k)) == pytest.approx(value, abs=0.51 * 10**-places)
    assert reserve_for(students, attendance_of(absent), 0.95) == usual
    assert reserve_for(students, attendance_of(absent), 0.99) == certain
    # and the table alone gives the same: the first value that reaches 95 %
    assert next((k for k, value in enumerate(printed) if value >= 0.95), len(printed)) == usual


def test_one_child_of_whom_exactly_95_per_cent_come_needs_no_reserve() -> None:
    # The case of equality: P(X ≤ 0) is exactly .95, which decimal fractions have and binary ones have not.
    assert reserve_for(1, 0.95, 0.95) == 0


def test_at_94_per_cent_attendance_classes_of_18_to_23_need_3_and_of_24_to_30_need_4() -> None:
    # Common practice, no source; the numbers themselves are P(X ≤ 3) = .9474 for 24 and .9326 for 26 (calculated).
    assert {reserve_for(students, 0.94, 0.95) for students in range(18, 24)} == {3}
    assert {reserve_for(students, 0.94, 0.95) for students in range(24, 31)} == {4}
    assert float(reached(24, 0.06, 3)) == pytest.approx(0.9474, abs=5e-5)
    assert float(reached(26, 0.06, 3)) == pytest.approx(0.9326, abs=5e-5)


@given(st.integers(0, 40), st.sampled_from(RATES), st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99]))
def test_more_children_more_absence_or_more_certainty_never_need_less(
    students: int, absent: float, certainty: float
) -> None:
    here = reserve_for(students, attendance_of(absent), certainty)
    assert reserve_for(students + 1, attendance_of(absent), certainty) >= here
    assert reserve_for(students, attendance_of(min(1, absent + 0.02)), certainty) >= here
    assert reserve_for(students, attendance_of(absent), min(1, certainty + 0.005)) >= here


@given(st.integers(0, 40), st.sampled_from([0.5, 0.9, 0.95, 0.99]))
def test_nobody_is_reckoned_with_where_all_come_and_everybody_where_none_does(students: int, certainty: float) -> None:
    assert reserve_for(students, 1.0, certainty) == 0
    assert reserve_for(students, 0.0, certainty) == students


@given(st.integers(0, 30), st.sampled_from(RATES), st.sampled_from([0.8, 0.95, 0.99]))
def test_the_reserve_is_the_smallest_number_that_is_enough(students: int, absent: float, certainty: float) -> None:
    n = reserve_for(students, attendance_of(absent), certainty)
    assert reached(students, absent, n) >= Fraction(str(certainty))
    assert n == 0 or reached(students, absent, n - 1) < Fraction(str(certainty))
