"""The battery falls out while she packs: killed at random moments, nothing the screen showed as saved is gone."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest

from tests.lost.conftest import Sample
from tests.lost.nursery import Nursery
from tests.lost.reading import ON_LIST, Kept, Shown, read_disk, read_screen, unreadable_files
from tests.terminal import Terminal

CHUNKS, KILLS = 10, 10
"""With those of the closings, more than 300 programs are killed."""
STEPS = (" ",) * 8 + ("\r", "7\r", "12\r", "3s1", "s2", "n1", "n3", "a", "c", "l")
"""Packed, in part, short, not needed, a container as listed, the next container, running low."""
PAUSES = (0.0, 0.0, 0.02, 0.05, 0.4)
"""Seconds between two steps: from faster than the screen to longer than the wait until the day's file is written."""
LONGEST_LIFE = 0.55
TAKEN_BACK = ("Taken back", "Nothing left")


class Life:
    """What one program's screen showed from its first frame until it was killed."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal
        self.first = self.last = read_screen(terminal.shown)
        self.waits_for_undo = False
        """Whether an undo was pressed and no frame has shown it yet."""

    def look_until(self, end: float) -> None:
        for _ in self.terminal.read_frame(end):
            self.last = read_screen(self.terminal.shown)

    def type_in_a_hurry(self, chance: random.Random, end: float) -> None:
        """Steps one after the other, whether the screen keeps up or not."""
        while time.perf_counter() < end:
            self.terminal.press(chance.choice(STEPS))
            self.look_until(min(end, time.perf_counter() + chance.choice(PAUSES)))

    def take_back_every_third(self, chance: random.Random, end: float) -> None:
        """A tick or two, then undo, each once the screen has shown the step before."""
        while time.perf_counter() < end:
            for _ in range(chance.choice((1, 2))):
                self.terminal.press(" ")
                self.look_until_taken_back(end, is_so=False)
            if time.perf_counter() < end:
                self.waits_for_undo = True
                self.terminal.press("u")
                self.waits_for_undo = not self.look_until_taken_back(end, is_so=True)

    def look_until_taken_back(self, end: float, *, is_so: bool) -> bool:
        for _ in self.terminal.read_frame(end):
            self.last = read_screen(self.terminal.shown)
            if any(said in self.terminal.text for said in TAKEN_BACK) is is_so:
                return True
        return False

    def end(self) -> None:
        """Killed; what it had written to the terminal by then still comes out."""
        self.terminal.program.kill()
        self.terminal.program.wait()
        for _ in self.terminal.read_rest():
            self.last = read_screen(self.terminal.shown)
            self.waits_for_undo &= not any(said in self.terminal.text for said in TAKEN_BACK)


def assert_nothing_shown_is_gone(life: Life, kept: Kept) -> None:
    """Every word of the last frame is on the disk. Only what an undo takes back just now may be gone, one line.

    Of a line that was said of twice the screen may show the word before the last one.
    """
    gone = [row for row in life.last.settled.items() if row not in kept.been]
    assert len(gone) <= life.waits_for_undo, (gone, kept.said)
    if life.last.open is not None:
        assert kept.open <= life.last.open + life.waits_for_undo
    message = life.last.message.rstrip(".…")
    if message and not life.waits_for_undo:
        assert any(said.capitalize()[:20] == message.capitalize()[:20] for said in kept.said), (message, kept.said)


@pytest.mark.parametrize("seed", range(CHUNKS))
def test_no_tick_that_was_shown_is_lost(seed: int, sample: Sample, nursery: Nursery, tmp_path: Path) -> None:
    """Ten times in a row on one folder, so that what a kill leaves behind is opened, packed on and killed again."""
    chance = random.Random(seed)
    folder = sample.copy(tmp_path / "school")
    kept = read_disk(folder, sample.day)
    for _ in range(KILLS):
        with Terminal("demo", "--data", str(folder), start=nursery.start) as terminal:
            terminal.wait_for(ON_LIST)
            life = Life(terminal)
            assert_shows(life.first, kept)
            end = time.perf_counter() + chance.uniform(0.0, LONGEST_LIFE)
            if chance.random() < 0.25:
                life.take_back_every_third(chance, end)
            else:
                life.type_in_a_hurry(chance, end)
            life.end()
        kept = read_disk(folder, sample.day)
        assert_nothing_shown_is_gone(life, kept)
        assert not unreadable_files(folder, sample.date, sample.content)


def assert_shows(shown: Shown, kept: Kept) -> None:
    """Opened again, the screen shows what the disk holds."""
    assert shown.rows.items() <= kept.rows.items()
    assert shown.open == kept.open
