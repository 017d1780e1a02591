"""A folder kept in step on two computers: both tick on, and then one's day file lies beside the other's."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from shutil import copy, copytree

from checklists.book import Book
from tests.days import opened
from tests.schools import MONDAY

COPY = "2026-10-05 (conflicted copy)"


def kept_in_step(
    folder: Path,
    here: Callable[[Book], None],
    there: Callable[[Book], None],
    *,
    day: date = MONDAY,
    suffix: str = "toml",
    today: date = MONDAY,
) -> Path:
    """The folder after ``here`` was done in it and ``there`` in a copy, with the copy's file of the day put beside.

    Gives the path of the second version.
    """
    other = folder.with_name(folder.name + "-other")
    copytree(folder, other)
    for place, work in ((folder, here), (other, there)):
        with opened(place, today) as book:
            work(book)
            if suffix == "journal" and place == other:
                copied = copy(other / "daybook" / f"{day}.journal", folder / "daybook" / f"{COPY}.journal")
    if suffix != "journal":
        copied = copy(other / "daybook" / f"{day}.toml", folder / "daybook" / f"{COPY}.toml")
    return Path(copied)
