"""Folders to measure on: the demo school as it opens, the same without a history, a school with many lines."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path
from shutil import copytree, ignore_patterns

from checklists.book import Book
from checklists.demo import SCHOOL, open_demo
from tests.schools import MONDAY, a_lesson, a_part, a_supply, an_item, small_school


def sample_school(folder: Path) -> date:
    """The demo school with its history, opened once before; the date it opens on."""
    on = open_demo(folder)
    settle(folder)
    return on


def school_without_history(folder: Path) -> Path:
    """The demo school before its first day."""
    copytree(SCHOOL, folder, ignore=ignore_patterns("cache", "daybook"))
    settle(folder)
    return folder


def school_with_lines(folder: Path, lines: int) -> Path:
    """A school whose Monday has one box with so many lines, all open."""
    supplies = [a_supply(f"thing-{number}", f"thing number {number}") for number in range(lines)]
    part = a_part("use all things", [an_item(supply["id"]) for supply in supplies])
    small_school(folder, supplies=supplies, lessons=[a_lesson("paper-hills", [part]), a_lesson("yarn-birds", [part])])
    settle(folder)
    with Book.open(folder, today=MONDAY) as book:
        assert len(book.day(MONDAY).lines) >= lines
    return folder


def settle(folder: Path) -> None:
    """As on any morning: the files are older than the plan kept ready from them."""
    for path in folder.rglob("*.toml"):
        before = path.stat().st_mtime - 3600
        os.utime(path, (before, before))
    Book.open(folder).release()
