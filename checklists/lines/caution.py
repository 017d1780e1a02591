"""A caution with its key: what is warned of and in which words, so that a fact that has changed opens it again."""

from __future__ import annotations

import re
from zlib import crc32

from checklists.daybook.state import State
from checklists.lines.records import Because, Caution
from checklists.plan.records import DaybookNames, Plan
from checklists.words import say_room

_NOTHING_RENAMED = DaybookNames()


def make_caution(
    plan: Plan,
    state: State,
    class_id: str,
    visit: str,
    lesson: str,
    what: str,
    text: str,
    because: tuple[Because, ...],
    *,
    critical: bool = False,
) -> Caution:
    """Once for a class and lesson: shown before in these words it is not new, unless it is critical."""
    key = f"caution/{class_id}/{lesson}/{what}/{crc32(_as_before(plan, text).encode()):08x}"
    return Caution(key, text, visit, critical, critical or key not in state.cautioned, because)


def _as_before(plan: Plan, text: str) -> str:
    """The words by the names of the daybook: that something is called otherwise now opens no caution again."""
    names = plan.school.daybook_names
    if names == _NOTHING_RENAMED:
        return text
    before = {**names.classes, **names.periods, **names.days}
    before |= {say_room(now): say_room(there) for now, there in names.rooms.items()}
    if not before:
        return text
    words = "|".join(re.escape(each) for each in sorted(before, key=len, reverse=True))
    return re.sub(rf"(?<![\w-])(?:{words})(?![\w-])", lambda found: before[found[0]], text)
