"""The battery falls out while she closes the day: it is closed as it should be, or it is open with all she said."""

from __future__ import annotations

import random
import re
import time
from pathlib import Path

import pytest

from checklists.book import Book
from checklists.daybook.closing import close_day
from tests.lost.conftest import Sample
from tests.lost.nursery import Nursery
from tests.lost.reading import ON_DAY_END, ON_LIST, read_disk, unreadable_files
from tests.terminal import Terminal

CHUNKS, KILLS = 5, 8
LONGEST = 0.15
"""Seconds from the key that closes to the kill: several times what closing takes here, so that both ends are met."""
CLOSES, CLOSED = "cc", "is closed"
"""The second key closes although counts are open."""


def left_to_settle(terminal: Terminal) -> int:
    found = re.search(r"(\d+) things to settle", terminal.text)
    return int(found[1]) if found else 0


def answer_one(terminal: Terminal) -> None:
    """All of the sharps in hand came back; until the screen shows that it counts."""
    before = left_to_settle(terminal)
    terminal.press("=")
    terminal.wait_until(lambda: left_to_settle(terminal) == before - 1)


@pytest.mark.parametrize("seed", range(CHUNKS))
def test_a_day_is_closed_whole_or_not_at_all(seed: int, sample: Sample, nursery: Nursery, tmp_path: Path) -> None:
    chance = random.Random(1000 + seed)
    folder = sample.copy(tmp_path / "school")
    for _ in range(KILLS):
        before = read_disk(folder, sample.day)
        was_shown_closed = was_opened_again = False
        with Terminal("demo", "--data", str(folder), start=nursery.start) as terminal:
            terminal.wait_for(ON_LIST)
            terminal.press("e")
            terminal.wait_for(ON_DAY_END)
            answers = chance.randrange(3)
            for _ in range(answers):
                answer_one(terminal)
            terminal.press(CLOSES)
            end = time.perf_counter() + chance.uniform(0.0, LONGEST)
            for _ in terminal.read_frame(end):
                was_shown_closed |= CLOSED in terminal.text
            if was_shown_closed and chance.random() < 0.3:
                was_opened_again = True
                terminal.press("u")
                for _ in terminal.read_frame(time.perf_counter() + chance.uniform(0.0, LONGEST)):
                    pass
            terminal.program.kill()
            terminal.program.wait()
            for _ in terminal.read_rest():
                was_shown_closed |= CLOSED in terminal.text

        after = read_disk(folder, sample.day)
        assert not unreadable_files(folder, sample.date, sample.content)
        assert len(after.said) == len(before.said) + answers
        with Book.open(folder, write=False, today=sample.date) as book:
            follows = close_day(book.plan, book.day(sample.date), book.marks(sample.date), book.opening(sample.date))
        if after.record.closing is not None:
            assert after.record.closing == follows
            folder = sample.copy(folder)
        else:
            assert after.record.closed_at is None
            assert not was_shown_closed or was_opened_again
