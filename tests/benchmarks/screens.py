"""The screens in a real terminal of 80 by 24: from the start to the first list, from a key to the repainted list."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

from tests.benchmarks.measuring import Result, median, quantile
from tests.benchmarks.schools import sample_school, school_with_lines
from tests.schools import MONDAY
from tests.terminal import FRAME_ENDS, PATIENCE, SCREENS, Terminal

YARD = (sys.executable, "-m", "tests.benchmarks.yard")
STARTS, KEYS, IN_A_ROW = 15, 100, 20
"""Keys are pressed twenty in a row in one terminal, then in the next."""
QUIET = 0.05
"""Seconds without output after which a repaint counts as complete."""
FOLDING = 0.3
"""About so long after the last key the day's file is written; a key then waits for it."""


def start_to_list(folder: Path) -> Result:
    """From the start of the process to the chunk that completes the first frame with rows of the list."""
    on = sample_school(folder)
    words = (*SCREENS, "--data", str(folder), "--date", on.isoformat(), "--at", "7:40")
    ours, yard = [], []
    for turn in range(STARTS + 1):
        times = time_of_first(b" to pack", *words), time_of_first(b"line 9", *YARD)
        if turn:  # the first start of each only warms the disk's cache
            ours.append(times[0])
            yard.append(times[1])
    return Result(
        "start to the first painted list, demo school",
        f"{median(ours):.0f} ms (bare list of 150 rows: {median(yard):.0f} ms)",
        f"{median([a / b for a, b in zip(ours, yard, strict=True)]):.2f}",
        "1.4 (1.2)",
    )


def time_of_first(text: bytes, *words: str) -> float:
    """Milliseconds until the frame that holds ``text`` is complete."""
    with Terminal(*words) as terminal:
        end = time.perf_counter() + PATIENCE
        while True:
            at = terminal.written.find(text)
            if at >= 0 and terminal.written.find(FRAME_ENDS, at) >= 0:
                return (terminal.read_at - terminal.started) * 1e3
            assert time.perf_counter() < end, bytes(terminal.written[-300:])
            terminal.read(0.2)


def key_to_repaint(folder: Path) -> list[Result]:
    """From a key that ticks a line to the last byte of its repaint; the tick is on the disk by then."""
    small, large = school_with_lines(folder / "150", 150), school_with_lines(folder / "1000", 1000)
    words = (*SCREENS, "--date", MONDAY.isoformat(), "--at", "7:40", "--data")
    with (
        Terminal(*words, str(small)) as at_150,
        Terminal(*words, str(large)) as at_1000,
        Terminal(*YARD) as yard,
    ):
        for terminal in (at_150, at_1000):
            terminal.wait_for("leave by")
        yard.wait_for("line 9")
        presses: dict[Terminal, tuple[str, list[float]]] = {at_150: (" ", []), at_1000: (" ", []), yard: ("\x1b[B", [])}
        for _ in range(KEYS // IN_A_ROW):
            for terminal, (key, times) in presses.items():
                time_of_key(terminal, key)
                times += [time_of_key(terminal, key) for _ in range(IN_A_ROW)]
        folding = [time_of_key(at_150, " ", after=FOLDING + 0.001 * (number % 20 - 10)) for number in range(40)]
    few, many, bare = (times for _, times in presses.values())
    results = [
        Result(
            f"key to repaint of a saved tick, {lines} lines",
            f"{median(times):.1f} ms, 99 of 100 within {quantile(times, 0.99):.1f} ms",
            f"{median(times) / median(bare):.2f} (cursor in a bare list: {median(bare):.1f} ms)",
            "33 ms (16 ms)",
        )
        for lines, times in ((150, few), (1000, many))
    ]
    return [
        *results,
        Result("the same, 1,000 lines to 150", "", f"{median(many) / median(few):.2f}", "1.3"),
        Result(
            "the same, 150 lines, while the day's file is written",
            f"{median(folding):.1f} ms, 95 of 100 within {quantile(folding, 0.95):.1f} ms",
            f"{median(folding) / median(bare):.2f}",
            "33 ms",
        ),
    ]


def time_of_key(terminal: Terminal, key: str, *, after: float = 0.0) -> float:
    """Milliseconds from the key to the last byte before the terminal falls quiet."""
    wait_quiet(lambda: terminal.read(max(QUIET, after)))
    pressed = time.perf_counter()
    terminal.press(key)
    assert terminal.read(PATIENCE), "the key changed nothing"
    wait_quiet(lambda: terminal.read(QUIET))
    return (terminal.read_at - pressed) * 1e3


def wait_quiet(read: Callable[[], bytes]) -> None:
    while read():
        pass
