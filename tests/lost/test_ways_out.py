"""However the program is told to end, the day's file is written and the terminal is as it was before."""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.lost.conftest import Sample
from tests.lost.reading import ON_LIST, read_disk
from tests.terminal import SCREENS, Terminal


@pytest.fixture
def terminal(school: Path) -> Iterator[Terminal]:
    """The demo school on screen, with one line packed a moment ago."""
    with Terminal(*SCREENS, "demo", "--data", str(school)) as opened:
        opened.wait_for(ON_LIST)
        opened.press("c ")
        opened.wait_for(" Packed ")
        yield opened


def assert_folded(school: Path, sample: Sample) -> None:
    """The day's file alone holds the tick."""
    assert not list((school / "daybook").glob("*.journal"))
    assert len(read_disk(school, sample.day).said) == 1


@pytest.mark.parametrize("keys", ["qq", "\x11"])
def test_quitting(keys: str, terminal: Terminal, school: Path, sample: Sample) -> None:
    """With its own key, and with the one that ends most programs of a terminal (Ctrl and Q)."""
    terminal.press(keys)
    assert terminal.wait_for_end() == 0
    assert terminal.is_restored
    assert_folded(school, sample)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_being_told_to_end(number: signal.Signals, terminal: Terminal, school: Path, sample: Sample) -> None:
    """Exit status: 128 and the number of the signal. Source: POSIX shell command language, exit status for commands."""
    terminal.send_signal(number)
    assert terminal.wait_for_end() == 128 + number
    assert terminal.is_restored
    assert_folded(school, sample)


@pytest.mark.skipif(sys.platform == "win32", reason="a closed window tells its program by signal")
def test_a_closed_window(terminal: Terminal, school: Path, sample: Sample) -> None:
    terminal.close()
    assert terminal.program.wait(timeout=30) == 128 + signal.SIGHUP
    assert_folded(school, sample)


def test_a_program_that_ended_gave_the_folder_back(terminal: Terminal, school: Path, sample: Sample) -> None:
    terminal.send_signal(signal.SIGTERM)
    terminal.wait_for_end()
    with Terminal(*SCREENS, "demo", "--data", str(school)) as next_one:
        next_one.wait_for(ON_LIST, absent="Nothing can be written")
        next_one.press("u")
        next_one.wait_for("Taken back")
    assert not read_disk(school, sample.day).said
