"""Bringing in ten thousand rows, against a tenth of them and against the csv module reading the same."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from tests.benchmarks.measuring import Result
from tests.benchmarks.rules import least_times
from tests.bringing_in.schools import brought, tansy_hollow

ROWS, FEW_ROWS = 10_000, 1_000


def bring_in_many_supplies(folder: Path) -> list[Result]:
    """A list of supplies, each row a new one."""
    files = tansy_hollow()
    many, few = (
        "\n".join(f"thing number {n},{20 + n % 8},S{n % 40}" for n in range(rows)) for rows in (ROWS, FEW_ROWS)
    )
    least = least_times(
        {
            "yard": lambda: list(csv.reader(io.StringIO(many))),
            "many": lambda: brought("supplies", many, files),
            "few": lambda: brought("supplies", few, files),
        },
        turns=3,
    )
    return [
        Result(
            f"{ROWS:,} supplies brought in",
            f"{least['many']:.0f} ms of processor time (read by the csv module: {least['yard']:.1f} ms)",
            f"{least['many'] / least['yard']:.0f}",
            "",
        ),
        Result(
            f"the same, a row's share with {ROWS:,} rows to that with {FEW_ROWS:,}",
            "",
            f"{least['many'] / least['few'] / ROWS * FEW_ROWS:.2f}",
            "1.5 (1.0)",
        ),
    ]
