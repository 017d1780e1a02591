"""Problems of the plan, the rules and the daybook as plain text, all at once."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.pages.plain import wrap
from checklists.problems import Problem
from checklists.words import plural


def problems_page(problems: Iterable[Problem]) -> str:
    """Every problem with its place and what to do, the grave ones first; a sentence that all is well without any."""
    every = tuple(problems)
    parts: list[str] = []
    grave = [each for each in every if each.level == "grave"]
    notes = [each for each in every if each.level == "note"]
    if grave:
        parts += [f"{plural(len(grave), 'thing')} to put right:"]
        parts += [row for each in grave for row in wrap(str(each), first="  - ", indent=4)]
    if notes:
        parts += [f"{plural(len(notes), 'thing')} that {'was' if len(notes) == 1 else 'were'} read anyway:"]
        parts += [row for each in notes for row in wrap(str(each), first="  - ", indent=4)]
    return "\n".join(parts or ["All is well: the plan, the rules and the daybook read and fit together."]) + "\n"
