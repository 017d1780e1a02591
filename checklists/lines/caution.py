"""A caution with its key: what is warned of and in which words, so that a fact that has changed opens it again."""

from __future__ import annotations

from zlib import crc32

from checklists.daybook.state import State
from checklists.lines.records import Because, Caution


def make_caution(
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
    key = f"caution/{class_id}/{lesson}/{what}/{crc32(text.encode()):08x}"
    return Caution(key, text, visit, critical, critical or key not in state.cautioned, because)
