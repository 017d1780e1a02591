"""Why something is asked before leaving or at the day's end: the thing on the list behind it, else why it is asked."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.daybook.marks import Marks
from checklists.daybook.matters import KITS, LOW, MISSED, PLACES, PREPARE, REACHED, SHARPS, OpenMatter
from checklists.lines.records import Day
from checklists.pages.reasons import Thing
from checklists.pages.why import Why, why_of
from checklists.plan.records import Plan
from checklists.rules.records import Rule

_ASKED = {
    SHARPS: "What is sharp, and her own tools, are counted out and back in every room before the class lines up. What "
    "is missing stays on top of every day until it is found or written off.",
    PLACES: "A container that stays in a room is fetched before it is needed again, and counts in when to leave. "
    "What is lent is asked for without hurry: without an answer it is still lent, and not missing.",
    REACHED: "Closing the day moves the class on by this: which part it is packed for next, and what was used up.",
    MISSED: "Who missed the part is owed it: the next list has a catch-up kit for them. While nobody can say, a "
    "reserve is packed.",
    KITS: "A kit that is not put right, or a catch-up kit not handed out, comes back on the next list.",
    LOW: "What is low or out goes on the list of what to order.",
    PREPARE: "Preparation for the coming days; what is not done is asked again.",
    "Fetch": "Today needs this container and it is not at the store: fetching it counts in when to leave.",
}
_CHANGE = "Answer it again at any time: the newest answer counts, and u takes the newest step back."


def thing_asked(matter: OpenMatter, day: Day) -> Thing | None:
    """What stands on the day's list behind a question; None where only the question itself is there."""
    things: tuple[Thing, ...] = (*day.decisions, *day.lines, *day.tasks, *day.checks, *day.take_out, *day.matters)
    found = next((each for each in things if each.key == matter.key), None)
    if found is not None:
        return found
    supply = matter.supply or (matter.key.removeprefix("low/") if matter.section == LOW else "")
    lines = [line for line in day.lines if supply and line.supply == supply]
    of_visit = [line for line in lines if matter.visit in line.visits]
    return next(iter(of_visit or lines), None)


def why_asked(matter: OpenMatter, plan: Plan, rules: Iterable[Rule], day: Day, marks: Marks, *, private: bool) -> Why:
    """Why a question is asked: why its thing is on the list, and what the answer is for."""
    said = _ASKED.get(matter.section, "")
    thing = thing_asked(matter, day)
    if thing is None:
        return Why("question", matter.text, (said,) if said else (), (), (_CHANGE,))
    why = why_of(thing, plan, rules, day, marks, private=private)
    how = (*why.how, said) if said and matter.key != thing.key else why.how
    return Why(why.kind, why.title, how, why.reasons, why.change, why.left_out)
