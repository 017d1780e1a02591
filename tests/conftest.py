"""What all tests share: where their folders are, in which order they are run, and when memory is tidied up."""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

IN_MEMORY = Path("/dev/shm")
ROOM_NEEDED = 2_000_000_000
"""Bytes: several times what the folders of all tests that run at once take."""
LONGEST_FIRST = (
    "references/test_year_by_second_look",
    "references/test_rules_against_a_solver",
    "references/test_random_weeks",
    "references/test_route_by_solver",
    "lost/test_killed_while",
    "situations/test_every_situation",
)
"""Begun first, so that at the end no program waits for another one."""


settings.register_profile("any machine", deadline=None)  # how fast a computer is proves nothing
settings.load_profile("any machine")


def pytest_configure() -> None:
    """Put the folders of tests on a disk in memory, where there is one with room.

    Every file is written to the disk before it counts. That takes the time of a disk and proves nothing here: what a
    program that is killed leaves behind is the same on both.
    """
    if IN_MEMORY.is_dir() and os.access(IN_MEMORY, os.W_OK) and shutil.disk_usage(IN_MEMORY).free > ROOM_NEEDED:
        os.environ["TMPDIR"] = str(IN_MEMORY)
        tempfile.tempdir = None
    # Modules and schools read before make up nearly all of the memory, and none of them is ever given back.
    gc.set_threshold(100_000, 20, 100)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: not any(each in item.nodeid for each in LONGEST_FIRST))


def pytest_collection_finish() -> None:
    gc.collect()
    gc.freeze()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> object:
    """A program that has nothing left to do takes over from the one that has most."""
    from xdist.scheduler import WorkStealingScheduling

    return WorkStealingScheduling(config, log)
