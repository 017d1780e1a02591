"""Open matters as they may be shown to anybody."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import structs

from checklists.daybook.matters import OpenMatter
from checklists.lines.records import Check, Day, Task
from checklists.pages.reasons import is_hidden, say_forbidden


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
