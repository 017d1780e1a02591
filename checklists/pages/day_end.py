"""What is unresolved at the day's end, as plain text in the order of asking; and what closing the day did."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from checklists.lines.records import Day
from checklists.pages.leaving import matter_rows
from checklists.pages.morning import banner
from checklists.pages.plain import ruled, two_ends, wrap
from checklists.plan.records import Plan
from checklists.problems import Problem
from checklists.words import plural, say_date, say_room

_HOW = {
    "Sharps and own tools": "trundle report V3 --count scissors=13/12 (out, back)",
    "Where things are": "trundle report V3 --stands printing=11 (room, or store)",
    "What each class reached": "trundle report V3 --outcome done, half or no; --not-done 3; --reached 3",
    "Who missed it": "trundle report V3 --missed 4,11, or none, or --missed-count 2",
    "Kits": "trundle report V3 --put-right printing=yes --handed-out yes",
    "Running low": "trundle low glue-stick --level low, out or plenty",
    "To prepare": "trundle tick and the number",
}
"""What to type for the questions of a section; those with answers of their own are told with ``trundle answer``."""

if TYPE_CHECKING:
    from checklists.daybook.matters import OpenMatter


def day_end_page(
    plan: Plan, day: Day, matters: Iterable[OpenMatter], closed: bool, problems: Iterable[Problem] = ()
) -> str:
    """The matters of ``at_day_end`` under their sections, answered ones as a count."""
    every = tuple(matters)
    still = [each for each in every if not each.answer]
    state = "closed" if closed else "not closed yet"
    parts = [*banner(problems), two_ends(plan.school.name, f"{say_date(day.date)}, {state}")]
    for section in dict.fromkeys(each.section for each in still):
        parts += ["", ruled(section.upper())]
        for each in still:
            if each.section == section:
                parts += matter_rows(each, choices=_is_answered_by_word(each))
        parts += wrap(_HOW.get(section, "trundle answer"), first="        : ", indent=10)
    answered = len(every) - len(still)
    parts.append("")
    if answered:
        parts.append(f"{plural(answered, 'matter')} answered already.")
    parts.append(f"{plural(len(still), 'matter')} unresolved." if still else "Nothing is unresolved.")
    if not closed:
        parts += wrap("trundle close closes the day and carries over what is unresolved.")
    return "\n".join(parts) + "\n"


def _is_answered_by_word(matter: OpenMatter) -> bool:
    """Whether `trundle answer` is the way: carried matters and missing things, which no visit's report settles."""
    return not matter.typed and not matter.visit and matter.section in ("Sharps and own tools", "Kits")


def closed_page(day: Day, carried: Iterable[OpenMatter], did: Iterable[str], following: Day | None) -> str:
    """What closing did: ``carried`` were unresolved when the day was closed, ``did`` are the words of the closing."""
    still = sum(not each.answer for each in carried)
    parts = [f"{say_date(day.date)} is closed" + (f"; {plural(still, 'matter')} unresolved." if still else ".")]
    said = tuple(did)
    if said:
        parts += ["", ruled("DONE"), *(row for each in said for row in wrap(each, first="  - ", indent=4))]
    if following is not None and following.visits:
        first = following.visits[0]
        parts += ["", f"Next: {say_date(following.date)}, first {first.class_id} in {say_room(first.room)}."]
    return "\n".join(parts) + "\n"
