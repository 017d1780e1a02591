"""Random weeks of a school beside an independent model: contents, stock, places, owed, progress, cases, questions.

After each day, correction, undo, closing and restart both must know the same, and the daybook's chain must hold.
RANDOM_WEEKS_SCHOOLS and RANDOM_WEEKS_DAYS ask for more; ``python -m tests.references.truth.weeks 1 200`` for hundreds.
"""

from __future__ import annotations

import os

import pytest

from tests.references.truth.weeks import live

SCHOOLS = int(os.environ.get("RANDOM_WEEKS_SCHOOLS", "3"))
"""With three, each way a cycle goes on after a lost day comes once: it slides, stays with its dates, is announced."""
DAYS = int(os.environ.get("RANDOM_WEEKS_DAYS", "36"))


@pytest.mark.parametrize("seed", range(1, SCHOOLS + 1))
def test_after_random_weeks_the_daybook_knows_what_an_independent_model_knows(seed: int) -> None:
    assert not live(seed, DAYS)
