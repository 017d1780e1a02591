"""The plan of the reference school as records, and bringing something into it."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from checklists.book import Book
from checklists.bringing_in.bring_in import bring_in
from checklists.bringing_in.understood import Does, Kind, Understood
from checklists.plan.plan_files import PlanFiles
from tests.schools import MONDAY, reference_school


@cache
def tansy_hollow() -> PlanFiles:
    """The reference school: seven classes, a cycle A to F, days off on 7 September and 12 October."""
    with TemporaryDirectory() as folder:
        reference_school(Path(folder))
        with Book.open(Path(folder)) as book:
            return book.plan_files


def brought(
    kind: Kind, content: str | bytes, files: PlanFiles | None = None, on: date = MONDAY, **more: Any
) -> Understood:
    """What is understood of it at Tansy Hollow."""
    return bring_in(kind, content, files or tansy_hollow(), on, **more)


def said(understood: Understood, *does: Does) -> list[str]:
    """What the rows that do this say."""
    return [each.said for each in understood.those_that(*does)]
