"""Times of testing: who is not visited, as announced on a day for that day and later ones, until they are over."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from msgspec import structs

from checklists.daybook.entries import Testing
from checklists.daybook.state import State, TestedDays


def with_testing(opening: State, said: Iterable[Testing]) -> State:
    """The opening with what was said of testing on the day. Without grades, all testing in that time is off."""
    known = opening.testing
    for each in said:
        if each.grades:
            told = TestedDays(each.grades, each.first, each.last, each.periods, each.walk_more)
            known = (*(one for one in known if one != told), told)
        else:
            known = tuple(one for one in known if one.last < each.first or one.first > each.last)
    return opening if known == opening.testing else structs.replace(opening, testing=known)


def testing_after(opening: State, day: date) -> tuple[TestedDays, ...]:
    """What is not over when a day ends; ``opening`` has what was said on it."""
    return tuple(each for each in opening.testing if each.last > day)
