"""A walk that she says: from the school's file as it is to one with that walk. Nothing else in it changes."""

from __future__ import annotations

from msgspec import structs

from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Plan, School, Walk
from checklists.walks import STORE, say_place
from checklists.words import join_words

MOST_MINUTES = 60
"""A walk within a building, or to one close by, takes no longer."""


def say_walk(plan: Plan, start: str, end: str, minutes: int) -> School:
    """The school with so many minutes between two places, either way round. Raises CannotNote where that cannot be."""
    known = (STORE, *plan.rooms)
    for place in (start, end):
        if place not in known:
            raise CannotNote(f"There is no room {place} in the plan. There are {join_words(known)}.")
    if start == end:
        raise CannotNote(f"From {say_place(start)} to {say_place(end)} there is no way to walk.")
    if not 0 <= minutes <= MOST_MINUTES:
        raise CannotNote(f"A walk of {minutes} min is too long: 0 to {MOST_MINUTES}.")
    return with_walk(plan.school, start, end, minutes)


def with_walk(school: School, start: str, end: str, minutes: int) -> School:
    """Where the walk was said before, it stays in its place among the others; else it comes last."""
    new, pair = Walk((start, end), minutes), {start, end}
    said = [n for n, each in enumerate(school.walks) if set(each.between) == pair]
    if not said:
        return structs.replace(school, walks=(*school.walks, new))
    kept = (each if n not in said else structs.replace(each, minutes=minutes) for n, each in enumerate(school.walks))
    return structs.replace(school, walks=tuple(kept))


def put_walk_back(school: School, before: School, start: str, end: str) -> School:
    """The school with one walk as it was before: said otherwise, or by nobody. Whatever else was changed stays."""
    pair = {start, end}
    was = next((each.minutes for each in before.walks if set(each.between) == pair), None)
    if was is not None:
        return with_walk(school, start, end, was)
    return structs.replace(school, walks=tuple(each for each in school.walks if set(each.between) != pair))
