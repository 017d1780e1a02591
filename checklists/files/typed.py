"""A table read from a file to typed records, with every problem told at once and in a teacher's words.

What is right the first time is converted in one go. Only when that fails are the fields walked one by one, so that each
wrong one is named: unknown, missing, of another kind, out of range. What is harmless is read as it was meant: 24.0 for
24, 12 for "12", a single value for a list of one.
"""

from __future__ import annotations

from typing import Any, TypeVar

import msgspec

from checklists.problems import Problem
from checklists.words import clean

T = TypeVar("T")


def records_from(
    table: dict[str, Any],
    into: type[T],
    *,
    file: str,
    text: str = "",
    entry: str = "",
    newer: bool = False,
    partly: bool = False,
) -> tuple[T | None, tuple[Problem, ...]]:
    """The record, or None and why not. ``text`` is the file's, for line numbers; ``entry`` names the outermost record.

    ``newer``: the file is of a newer format; fields that are not known are told as notes. ``partly``: some lines of the
    file could not be read and were told; what is missing is not told again, and no record comes back.
    """
    clean_table = cleaned(table)
    if not partly:
        try:
            return msgspec.convert(clean_table, into), ()
        except (msgspec.ValidationError, RecursionError):
            pass
    from checklists.files.walk import Walk

    walk = Walk(file, text, newer=newer, partly=partly)
    try:
        read = walk.record(clean_table, into, entry)
    except RecursionError:
        return None, (Problem(file, entry, "Tables stand inside tables, far too many times."),)
    if partly or any(each.level == "grave" for each in walk.problems):
        return None, tuple(walk.problems)
    try:
        return msgspec.convert(read, into), tuple(walk.problems)
    except msgspec.ValidationError:
        unclear = Problem(file, entry, "This cannot be read.", "Compare it with the example school.")
        return None, (*walk.problems, unclear)


def cleaned(value: Any) -> Any:
    """The value with every text in it cleaned, names of fields too."""
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, dict):
        return {clean(key): cleaned(each) for key, each in value.items()}
    if isinstance(value, list):
        return [cleaned(each) for each in value]
    return value
