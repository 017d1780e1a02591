"""What was said of single children and their work, in words. A need never stands beside a class-list number."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.daybook.entries import AboutChildren, Broken, Excused, Joined, Left, WorkAway
from checklists.daybook.state import Away
from checklists.words import join_words, plural, say_date


def say_of_children(entry: AboutChildren) -> str:
    """ "3-B: no. 25 is new", "4-D: no. 6 and 19 remake part 1"."""
    match entry:
        case Joined():
            return f"{entry.class_id}: no. {entry.number} is new"
        case Left():
            return f"{entry.class_id}: no. {entry.number} has left; the others keep their numbers"
        case Excused(how="short version"):
            return f"{entry.class_id}: the short version for no. {entry.number} from now on"
        case Excused(how="at home"):
            return f"{entry.class_id}: no. {entry.number} has its set and makes it up at home"
        case Excused():
            return f"{entry.class_id}: no. {entry.number} is excused from what it missed"
        case Broken():
            return f"{entry.class_id}: {say_remake(entry.numbers, entry.count)}"
        case WorkAway(count=0):
            return f"{entry.class_id}: all work is back in the folder"
        case WorkAway():
            away = Away(entry.count, entry.at.date(), entry.until)
            return f"{entry.class_id}: {say_hanging(away)}"


def say_remake(numbers: tuple[int, ...], count: int) -> str:
    """ "remake 2: no. 6 and 19"."""
    who = [*([say_numbers(numbers)] if numbers else []), *([f"{count} without a number"] if count else [])]
    return f"remake {len(numbers) + count}: {join_words(who)}"


def say_numbers(numbers: Iterable[int]) -> str:
    """ "no. 6 and 19"."""
    return f"no. {join_words(str(number) for number in numbers)}"


def say_hanging(away: Away) -> str:
    """ "12 pieces hang until Fri 30 Oct"."""
    until = f" until {say_date(away.until)}" if away.until is not None else ""
    return f"{plural(away.count, 'piece')} {'hangs' if away.count == 1 else 'hang'}{until}"
