"""Which reasons may be shown: those that tell of a child's need only where they were asked for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from msgspec import structs

from checklists.daybook.matters import OpenMatter
from checklists.lines.records import Because, Check, Day, Line, Task


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


def without_private(matters: Iterable[OpenMatter], day: Day, private: bool) -> tuple[OpenMatter, ...]:
    """Open matters as they may be shown: the words of those that tell of a child's need are replaced by plain ones."""
    if private:
        return tuple(matters)
    others: tuple[Task | Check, ...] = (*day.tasks, *day.checks)
    hidden = [each for each in others if is_hidden(each, private)]
    plainer = {each.key: "a private matter; --private shows it" for each in hidden}
    names = {each.id: each.name for each in day.containers}
    for line in day.lines:
        if line.forbidden:
            where = names.get(line.container, line.container)
            plainer[line.key] = f"{where}: {line.name} {say_forbidden(line, private)}"
    return tuple(structs.replace(each, text=plainer[each.key]) if each.key in plainer else each for each in matters)
