"""What all measurements share: a result as a row of the table, and a sample of times as numbers."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct


class Result(Struct, frozen=True):
    """One row: what was measured, in words and milliseconds; the budget, and the yardstick it is held against."""

    what: str
    measured: str
    ratio: str
    budget: str


HEAD = Result("what", "measured", "ratio to the yardstick", "at most (aim)")


def as_table(results: Sequence[Result]) -> str:
    """The results as a Markdown table."""
    rows = [HEAD, Result("---", "---", "---", "---"), *results]
    return "\n".join(f"| {row.what} | {row.measured} | {row.ratio} | {row.budget} |" for row in rows)


def quantile(times: Sequence[float], share: float) -> float:
    """The time that ``share`` of the sample does not exceed, by nearest rank."""
    ordered = sorted(times)
    return ordered[min(len(ordered) - 1, max(0, -(-int(share * 1000) * len(ordered) // 1000) - 1))]


def median(times: Sequence[float]) -> float:
    return quantile(times, 0.5)
