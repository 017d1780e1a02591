"""A demo school made once, and a nursery of programs, for all tests of this folder."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from shutil import copytree, rmtree

import pytest

from checklists.book import Book
from checklists.demo import open_demo
from checklists.lines.records import Day
from tests.lost.nursery import Nursery


class Sample:
    """The demo school, ready to be copied, and its day."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.date: date = open_demo(folder)
        an_hour_ago = folder.stat().st_mtime - 3600
        for path in folder.rglob("*"):  # the plan read ready is used only for files that are not just being written
            os.utime(path, (an_hour_ago, an_hour_ago))
        with Book.open(folder, today=self.date) as book:
            self.day: Day = book.day(self.date)
        self.content = {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}

    def copy(self, to: Path) -> Path:
        """A fresh school in ``to``."""
        rmtree(to, ignore_errors=True)
        copytree(self.folder, to)
        return to


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    return Sample(tmp_path_factory.mktemp("sample") / "school")


@pytest.fixture
def school(sample: Sample, tmp_path: Path) -> Path:
    """The folder of a fresh demo school."""
    return sample.copy(tmp_path / "school")


@pytest.fixture(scope="session")
def nursery() -> Iterator[Nursery]:
    with Nursery() as ready:
        yield ready


@pytest.fixture
def start(nursery: Nursery) -> Callable[..., object]:
    """How to start the screens in a terminal."""
    return nursery.start
