"""Which reasons may be shown: those that tell of a child's need only where they were asked for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Protocol

from msgspec import structs

from checklists.lines.records import Because, Caution, Check, Decision, Line, Matter, TakeOut, Task, Visit
from checklists.words import join_words, say_room

Thing = Line | Task | Check | Caution | TakeOut | Decision | Matter
"""What can be asked why it is there."""


class Explained(Protocol):
    """A line, a task, a check or a caution."""

    @property
    def because(self) -> tuple[Because, ...]: ...


def reasons_of(thing: Explained, private: bool) -> tuple[Because, ...]:
    """The reasons of a thing; without the private ones unless ``private``."""
    return tuple(each for each in thing.because if private or not each.private)


def is_hidden(thing: Explained, private: bool) -> bool:
    """Whether a task, a check or a caution tells only of a need, so that its own words must not be shown."""
    return not private and bool(thing.because) and all(each.private for each in thing.because)


def say_forbidden(line: Line, private: bool) -> str:
    """Why a line must not come along and what to use; the why is left out where it would tell of a child's need."""
    tells = any(each.private for each in line.because) and not private
    use = f" Use {line.instead} instead." if line.instead else ""
    return ("must not come along." if tells else f"must not come along: {line.forbidden.rstrip('.')}.") + use


def without_repeats(
    cautions: Iterable[Caution], visits: Iterable[Visit]
) -> tuple[tuple[Caution, tuple[str, ...]], ...]:
    """Each caution once, with all the visits it is for. What differs only in class and room is said of the others too.

    The first of them stands for all, with every reason.
    """
    by_key = {visit.key: visit for visit in visits}
    together: dict[tuple[str, bool, bool], list[Caution]] = {}
    for each in cautions:
        together.setdefault((_without_names(each, by_key), each.critical, each.is_new), []).append(each)
    found = []
    for same in together.values():
        because = tuple(dict.fromkeys(reason for each in same for reason in each.because))
        keys = tuple(dict.fromkeys(each.visit for each in same))
        what = same[0].what
        if len({each.what for each in same}) > 1:
            what += f" The same for {join_words(dict.fromkeys(by_key[key].class_id for key in keys[1:]))}."
        found.append((structs.replace(same[0], what=what, because=because), keys))
    return tuple(found)


def _without_names(caution: Caution, visits: Mapping[str, Visit]) -> str:
    """Its words without the class and the room they speak of."""
    visit = visits.get(caution.visit)
    if visit is None:
        return caution.what
    return caution.what.replace(visit.class_id, "…").replace(say_room(visit.room), "…")
