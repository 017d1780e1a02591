"""The command line: a whole process that prints the day's list."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

from tests.benchmarks.measuring import Result, median
from tests.benchmarks.schools import sample_school
from tests.commandline.running import surroundings

TURNS = 21


def print_the_morning(folder: Path) -> Result:
    """`trundle morning` against an interpreter that brings in rich.console, in turns."""
    on = sample_school(folder)
    morning = (sys.executable, "-m", "tui.main", "morning", "--data", str(folder), "--date", on.isoformat())
    bare = (sys.executable, "-c", "import rich.console")
    ours, yard = [], []
    for turn in range(TURNS + 1):
        times = time_of(*morning), time_of(*bare)
        if turn:
            ours.append(times[0])
            yard.append(times[1])
    return Result(
        "`trundle morning`, whole process, demo school",
        f"{median(ours):.0f} ms (an interpreter that imports rich.console: {median(yard):.0f} ms)",
        f"{median([a / b for a, b in zip(ours, yard, strict=True)]):.2f}",
        "2.5 (1.5)",
    )


def time_of(*words: str) -> float:
    """Milliseconds of a whole process."""
    started = time.perf_counter()
    done = subprocess.run(words, env=surroundings(), capture_output=True, check=False)
    taken = (time.perf_counter() - started) * 1e3
    assert done.returncode in (0, 1), done.stderr.decode()
    return taken
