"""What is still open before leaving the store, as plain text: critical first, each with what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from checklists.daybook.marks import Marks
from checklists.lines.records import Day
from checklists.pages.morning import banner, head
from checklists.pages.plain import ruled, wrap
from checklists.plan.records import Plan
from checklists.problems import Problem

if TYPE_CHECKING:
    from checklists.daybook.matters import OpenMatter


def leaving_page(
    plan: Plan,
    day: Day,
    marks: Marks,
    matters: Iterable[OpenMatter],
    at: int | None,
    problems: Iterable[Problem] = (),
) -> str:
    """The matters of ``before_leaving``. ``at`` is the minute of that day, None where the page is of another day."""
    every = tuple(matters)
    parts = [*banner(problems), *head(plan, day, marks, at)]
    for title, wanted in (("CRITICAL: without it a lesson cannot start", True), ("STILL OPEN", False)):
        rows = [row for each in every if each.critical == wanted for row in matter_rows(each)]
        if rows:
            parts += ["", ruled(title), *rows]
    if every:
        parts += ["", *wrap("Leaving with open lines is allowed: trundle leaving --gone notes it.")]
    else:
        parts += ["", "Nothing is open. The cart can go."]
    return "\n".join(parts) + "\n"


def matter_rows(matter: OpenMatter) -> list[str]:
    """An open matter with what can be done about it, or with what was said of it."""
    start = f" {'!' if matter.critical else ' '}{matter.number or '':>4}  "
    rows = wrap(matter.text, first=start, indent=len(start))
    if matter.answer:
        return rows + wrap(f"said: {matter.answer}", indent=len(start) + 2)
    ways = [choice.label for choice in matter.choices]
    if matter.typed and matter.hint:
        ways.append(matter.hint)
    return rows + (wrap(" / ".join(ways), first=" " * len(start) + "-> ", indent=len(start) + 3) if ways else [])
