"""Who is owed which part: from the records of a class to those after something happened. Each child once a part.

A record tells of one part and one reason: missed, new in the class, the short version chosen, a piece broken. A child
is in one record of a part at most, but for broken pieces: who has made a thing and lost it did not miss the part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import structs

from checklists.daybook.entries import Reported
from checklists.daybook.state import Owed


def with_owed(owed: Iterable[Owed], fresh: Owed) -> tuple[Owed, ...]:
    """The records with one more.

    Who is owed the part already is not owed it twice, and stays as it was. Of counts without numbers the larger stands
    where a part is taught again: it is missed by somebody only once. Broken pieces add up.
    """
    left = tuple(owed)
    same = [each for each in left if _part_of(each) == _part_of(fresh)]
    known = {number for each in same for number in each.numbers}
    numbers = tuple(sorted(set(fresh.numbers) - known))
    before = next((each for each in same if _kind_of(each) == _kind_of(fresh)), None)
    count = fresh.count if before is None else _counts_together(before, fresh)
    if before is not None:
        others = tuple(each for each in left if each is not before)
        every = tuple(sorted({*before.numbers, *numbers}))
        since = min(before.since, fresh.since)
        unknown = (before.unknown or fresh.unknown) and not every and not count
        return (*others, structs.replace(before, since=since, numbers=every, count=count, unknown=unknown))
    if numbers or count or (fresh.unknown and not known):
        return (*left, structs.replace(fresh, numbers=numbers))
    return left


def _part_of(owed: Owed) -> tuple[str, int, bool]:
    return owed.lesson, owed.part, owed.broken


def _kind_of(owed: Owed) -> tuple[bool, bool]:
    return owed.new, owed.short


def _counts_together(before: Owed, fresh: Owed) -> int:
    return before.count + fresh.count if fresh.broken else max(before.count, fresh.count)


def without_number(owed: Iterable[Owed], number: int, lesson: str | None = None) -> tuple[Owed, ...]:
    """The records without one child, of one lesson or of all."""
    return tuple(kept for each in owed for kept in _without(each, number, lesson))


def _without(owed: Owed, number: int, lesson: str | None) -> Iterator[Owed]:
    if number not in owed.numbers or lesson not in (None, owed.lesson):
        yield owed
        return
    numbers = tuple(each for each in owed.numbers if each != number)
    if numbers or owed.count:
        yield structs.replace(owed, numbers=numbers)


def in_short_version(owed: Iterable[Owed], number: int, lesson: str) -> tuple[Owed, ...]:
    """The records with the short version chosen for what one child missed of a lesson."""
    every = tuple(owed)
    mine = [each for each in every if number in each.numbers and each.lesson == lesson and not each.broken]
    for each in mine:
        if not each.short:
            rest = (kept for one in every for kept in (_without(one, number, lesson) if one is each else (one,)))
            every = with_owed(rest, structs.replace(each, numbers=(number,), count=0, short=True))
    return every


def has_short_version(owed: Iterable[Owed], number: int, lesson: str) -> bool:
    """Whether the short version was chosen for a child: what it misses further of the lesson is short as well."""
    return any(each.short and number in each.numbers and each.lesson == lesson for each in owed)


def still_owed(owed: Owed, report: Reported) -> Iterator[Owed]:
    """What stays owed after the catch-up kit was handed out: to those absent again, of counts the worst case."""
    numbers = tuple(number for number in owed.numbers if number in report.absent)
    others = min(owed.count, len(report.absent) - len(numbers))  # listed today, but only counted when they missed it
    came_or_not = len(owed.numbers) - len(numbers) + owed.count - others
    count = others + min(came_or_not, report.absent_count)
    if numbers or count:
        yield structs.replace(owed, numbers=numbers, count=count, unknown=False)
