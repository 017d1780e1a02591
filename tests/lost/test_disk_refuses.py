"""The disk refuses while she packs: it is full, or the folder may no longer be written. The system itself says so."""

from __future__ import annotations

import ctypes
import os
import resource
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.lost.conftest import Sample
from tests.lost.reading import ON_DAY_END, ON_LIST, read_disk, read_screen, unreadable_files
from tests.terminal import SCREENS, Terminal

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="changes limits of a running program, on Linux")
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE = 24, 1
"""Source: linux/prctl.h and linux/capability.h. Without this capability a folder's mode binds root as well."""


def let_modes_bind() -> None:
    if os.geteuid() == 0:
        ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, 0, 0, 0)


@pytest.fixture
def terminal(school: Path) -> Iterator[Terminal]:
    """The demo school on screen, past what is to be fetched, with one line packed."""
    with Terminal(*SCREENS, "demo", "--data", str(school), before=let_modes_bind) as opened:
        opened.wait_for(ON_LIST)
        opened.press("c ")
        opened.wait_for(" Packed ")
        yield opened


def fill_disk(terminal: Terminal, size: int = 0) -> None:
    """No file may become longer than ``size`` bytes: the system answers EFBIG, as a full disk answers ENOSPC."""
    hard = resource.prlimit(terminal.program.pid, resource.RLIMIT_FSIZE)[1]
    resource.prlimit(terminal.program.pid, resource.RLIMIT_FSIZE, (size, hard))


def make_room(terminal: Terminal) -> None:
    hard = resource.prlimit(terminal.program.pid, resource.RLIMIT_FSIZE)[1]
    resource.prlimit(terminal.program.pid, resource.RLIMIT_FSIZE, (hard, hard))


def packed(rows: dict[int, tuple[str, int]]) -> set[int]:
    return {number for number, (state, _) in rows.items() if state == "packed"}


@linux
def test_a_full_disk_is_said_and_the_tick_is_saved_once_there_is_room(
    terminal: Terminal, school: Path, sample: Sample
) -> None:
    saved = read_disk(school, sample.day)
    assert len(saved.said) == 1

    fill_disk(terminal)
    terminal.press(" ")
    terminal.wait_for("Not saved", "the disk is full", "1 not saved: Tab 1 tries again")
    terminal.press("f")
    terminal.press(" ")
    terminal.wait_for("2 not saved")

    assert read_disk(school, sample.day).said == saved.said
    assert not unreadable_files(school, sample.date, sample.content)

    make_room(terminal)
    terminal.press("\t1")
    terminal.wait_for("Everything is saved now", absent="not saved: Tab")
    assert len(read_disk(school, sample.day).said) == 3
    terminal.press("qq")
    assert terminal.wait_for_end() == 0
    assert len(read_disk(school, sample.day).said) == 3


@linux
def test_a_line_that_is_not_saved_says_so_in_its_row(terminal: Terminal, school: Path, sample: Sample) -> None:
    terminal.press("c")
    terminal.wait_for("▐Box K")
    fill_disk(terminal)
    terminal.press(" ")
    terminal.wait_for("1 not saved", "unsaved")
    assert not packed(read_screen(terminal.shown).rows)
    make_room(terminal)
    terminal.press("\t1")
    terminal.wait_for("Everything is saved now", absent="unsaved")
    assert packed(read_screen(terminal.shown).rows)
    assert len(read_disk(school, sample.day).said) == 2


@linux
def test_a_disk_that_fills_up_within_a_line_keeps_no_half_line(
    terminal: Terminal, school: Path, sample: Sample
) -> None:
    fill_disk(terminal, size=100)
    terminal.press(" ")
    terminal.wait_for("Not saved", "the disk is full")
    kept = read_disk(school, sample.day)
    assert len(kept.said) == 1
    assert not kept.notes
    make_room(terminal)
    terminal.press("\t1")
    terminal.wait_for("Everything is saved now")
    kept = read_disk(school, sample.day)
    assert len(kept.said) == 2
    assert not kept.notes


@linux
def test_a_day_that_cannot_be_closed_for_a_full_disk_stays_open_and_is_closed_later(
    terminal: Terminal, school: Path, sample: Sample
) -> None:
    terminal.press("e")
    terminal.wait_for(ON_DAY_END)
    fill_disk(terminal)
    terminal.press("cc")
    terminal.wait_for("Not closed", "the disk is full")
    assert read_disk(school, sample.day).record.closing is None
    assert not unreadable_files(school, sample.date, sample.content)
    make_room(terminal)
    terminal.press("cc")
    terminal.wait_for("is closed")
    kept = read_disk(school, sample.day)
    assert kept.record.closing is not None
    assert len(kept.said) == 1


@linux
def test_a_folder_that_may_no_longer_be_written_is_said_and_what_was_saved_stays(
    terminal: Terminal, school: Path, sample: Sample
) -> None:
    daybook = school / "daybook"
    terminal.press("g")  # writes the day's file, so that the next step needs a new journal
    terminal.wait_for("I go now")
    terminal.press("b")
    terminal.wait_for(ON_LIST)
    daybook.chmod(0o500)
    try:
        terminal.press(" ")
        terminal.wait_for("Not saved", "the computer does not allow it", "1 not saved")
        assert len(read_disk(school, sample.day).said) == 1
    finally:
        daybook.chmod(0o700)
    terminal.press("\t1")
    terminal.wait_for("Everything is saved now")
    assert len(read_disk(school, sample.day).said) == 2
    assert not unreadable_files(school, sample.date, sample.content)


@linux
def test_a_folder_that_may_only_be_read_opens_for_reading(school: Path, sample: Sample) -> None:
    for path in (school, school / "daybook", *(school / "daybook").iterdir()):
        path.chmod(0o500 if path.is_dir() else 0o400)
    try:
        with Terminal(*SCREENS, "demo", "--data", str(school), before=let_modes_bind) as terminal:
            terminal.wait_for(ON_LIST)
            terminal.press(" ")
            terminal.wait_for("Not saved: This folder can only be read")
    finally:
        for path in (school, school / "daybook", *(school / "daybook").iterdir()):
            path.chmod(0o700 if path.is_dir() else 0o600)
    assert not read_disk(school, sample.day).said
