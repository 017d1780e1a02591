"""What is still open before leaving the store, as plain text: critical first, each with what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from checklists.daybook.before_leaving import DECIDE
from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.pages.morning import banner, head
from checklists.pages.plain import ruled, wrap
from checklists.plan.records import Plan
from checklists.problems import Problem

if TYPE_CHECKING:
    from checklists.daybook.matters import OpenMatter
    from checklists.route.departure import Departure


def leaving_page(
    plan: Plan,
    day: Day,
    marks: Marks,
    departure: Departure,
    matters: Iterable[OpenMatter],
    at: int | None,
    problems: Iterable[Problem] = (),
) -> str:
    """The matters of ``before_leaving``. ``at`` is the minute of that day, None where the page is of another day."""
    every = tuple(matters)
    parts = [*banner(problems), *head(plan, day, marks, at, departure)]
    for title, rows in _parts(every):
        parts += ["", ruled(title), *rows]
    if any(each.section == DECIDE for each in every):
        parts += ["", 'choose: trundle answer "words of it" "the choice"']
    if any(_is_packed(each) for each in every):
        number = next(each.number for each in every if _is_packed(each))
        parts += ["", *_ways(number)]
    if every:
        parts += ["", "Leaving with open lines is allowed: trundle leaving --gone notes it."]
    else:
        parts += ["", "Nothing is open. The cart can go."]
    return "\n".join(parts) + "\n"


def _parts(matters: tuple[OpenMatter, ...]) -> Iterator[tuple[str, list[str]]]:
    """What goes now, critical first, then what waits for each later stop."""
    titles = {"": ("CRITICAL: without it a lesson cannot start", "STILL OPEN")}
    for each in matters:
        titles.setdefault(each.when, (f"CRITICAL, {each.when.upper()}", f"OPEN, {each.when.upper()}"))
    for when, (critical, other) in titles.items():
        for title, wanted in ((critical, True), (other, False)):
            mine = [each for each in matters if each.critical == wanted and each.when == when]
            if mine:
                yield title, [row for each in mine for row in matter_rows(each, choices=not _is_packed(each))]


def _is_packed(matter: OpenMatter) -> bool:
    """Whether it is a line that can be packed, for which the foot of the page says what to type."""
    return any(choice.label == "packed" for choice in matter.choices)


def _ways(number: int) -> list[str]:
    return [
        f"packed: trundle tick {number}    part of it: trundle tick {number} --count 18",
        f"short:  trundle tick {number} --short 18 --remedy share",
        *wrap("(share, use another, make more, fetch, go without)", indent=8),
        f'not needed: trundle tick {number} --not-needed "not today"',
    ]


def matter_rows(matter: OpenMatter, *, choices: bool) -> list[str]:
    """An open matter, with its answers in words where ``choices``, or with what was said of it."""
    start = f" {'!' if matter.critical else ' '}{matter.number or '':>4}  "
    rows = wrap(matter.text, first=start, indent=len(start))
    if matter.answer:
        return rows + wrap(f"said: {matter.answer}", indent=len(start) + 2)
    if not choices or not matter.choices:
        return rows
    ways = " / ".join(choice.label for choice in matter.choices)
    return rows + wrap(ways, first=" " * len(start) + "-> ", indent=len(start) + 3)
