"""The first-morning guide as plain text and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from checklists.guide.first_morning import TITLE, Step, plain
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap


def guide_page(steps: Sequence[Step]) -> str:
    """Numbered steps for 80 columns."""
    rows = [TITLE.upper(), ""]
    for number, step in enumerate(steps, 1):
        rows += wrap(plain(step.title), first=f"{number:>2}  ", indent=4)
        rows += [*wrap(plain(step.text), indent=4), ""]
    return "\n".join(rows)


def guide_as_json(steps: Sequence[Step]) -> Fields:
    """The page "guide": ``steps`` with ``title text keys``; ``keys`` are the keys and pages named in it."""
    told = [
        {
            "title": plain(step.title),
            "text": plain(step.text),
            "keys": [each.text for each in (*step.title, *step.text) if each.stands_out],
        }
        for step in steps
    ]
    return {"format": 1, "page": "guide", "steps": told}
