"""Which reasons may be shown: those that tell of a child's need only where they were asked for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from checklists.lines.records import Because, Caution, Check, Decision, Line, Matter, TakeOut, Task

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


def without_repeats(cautions: Iterable[Caution]) -> tuple[tuple[Caution, tuple[str, ...]], ...]:
    """Each caution once, with all the visits it is for: of those in the same words the first, with every reason."""
    together: dict[tuple[str, bool, bool], list[Caution]] = {}
    for each in cautions:
        together.setdefault((each.what, each.critical, each.is_new), []).append(each)
    found = []
    for same in together.values():
        because = tuple(dict.fromkeys(reason for each in same for reason in each.because))
        one = Caution(same[0].key, same[0].what, same[0].visit, same[0].critical, same[0].is_new, because)
        found.append((one, tuple(dict.fromkeys(each.visit for each in same))))
    return tuple(found)
