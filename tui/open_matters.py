"""Open matters as the screens may show them: what tells of a child's need is on the why page of the list."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import structs

from checklists.daybook.matters import OpenMatter
from checklists.lines.records import Check, Day, Task
from checklists.pages.open_matters import without_private
from checklists.pages.reasons import is_hidden
from tui.sections import PRIVATE


def matters_to_show(matters: Iterable[OpenMatter], day: Day) -> tuple[OpenMatter, ...]:
    """The matters in their order, those that are private with other words."""
    things: tuple[Task | Check, ...] = (*day.tasks, *day.checks)
    hidden = {each.key for each in things if is_hidden(each, private=False)}
    shown = without_private(matters, day, private=False)
    return tuple(structs.replace(each, text=PRIVATE) if each.key in hidden else each for each in shown)
