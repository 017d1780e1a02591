"""Read the value behind an option: each function takes what was typed and raises ValueError in words for a teacher."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import TypeVar, get_args

from checklists.daybook.entries import OutcomeKind, Reason, Remedy, StoreLevel
from checklists.plan.class_notes import size_typed
from checklists.words import join_words, minute_of, nearest

REMEDIES: tuple[str, ...] = get_args(Remedy)
REASONS: tuple[str, ...] = get_args(Reason)
OUTCOMES: tuple[str, ...] = tuple(each for each in get_args(OutcomeKind))
LEVELS: tuple[str, ...] = get_args(StoreLevel)
YES = ("yes", "y")
NO = ("no", "n")
FIRST_YEAR, LAST_YEAR = 1900, 2199
"""Beyond them a date was mistyped."""
T = TypeVar("T")


def read_date(text: str) -> date | str:
    """A date, or the words "today" and "tomorrow" as they are."""
    if text.casefold() in ("today", "tomorrow"):
        return text.casefold()
    try:
        return _read_day(text)
    except ValueError:
        raise ValueError("is not a date; write year-month-day, like 2026-10-05, or today or tomorrow") from None


def _read_day(text: str) -> date:
    found = date.fromisoformat(text)
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise ValueError(text)
    return found


def read_day_to_move_to(text: str) -> date:
    try:
        return _read_day(text)
    except ValueError:
        raise ValueError("is not a date; write year-month-day, like 2026-10-08") from None


def read_minute(text: str) -> int:
    """A time of day as minutes since midnight."""
    try:
        minute = minute_of(text)
    except ValueError:
        minute = -1
    if not 0 <= minute < 24 * 60 or not text[-2:].isdigit():
        raise ValueError("is not a time of day; write it like 7:40 or 14:05")
    return minute


def read_number(text: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 6:
        raise ValueError("is not a whole number; write it like 18")
    return int(text)


def read_known(text: str) -> str:
    """ "yes", "no", or "unknown"."""
    if text.casefold() in (*YES, *NO):
        return "yes" if text.casefold() in YES else "no"
    return read_one_of(text, ("yes", "no", "unknown"))


def read_places(text: str) -> str:
    """A number, or "unknown"."""
    if text.casefold() == "unknown":
        return "unknown"
    try:
        return str(read_number(text))
    except ValueError:
        raise ValueError("is not a whole number; write it like 30, or unknown") from None


def read_row_numbers(text: str) -> tuple[int, ...]:
    """ "3,7" or "3-5,9": numbers of rows."""
    numbers: list[int] = []
    for each in text.split(","):
        first, _, last = each.strip().partition("-")
        try:
            start, end = read_number(first.strip()), read_number(last.strip() or first.strip())
        except ValueError:
            start, end = 1, 0
        if end < start:
            raise ValueError("are no numbers of rows; write them like 3,7 or 3-5")
        numbers += range(start, min(end, start + 100_000) + 1)
    return tuple(numbers)


def read_one_of(text: str, known: Iterable[str]) -> str:
    """One of the known words; the first letters are enough where they fit only one of them."""
    words, typed = tuple(known), text.casefold().replace("-", " ").strip()
    exact = [each for each in words if each == typed]
    begins = [each for each in words if typed and each.startswith(typed)]
    if exact or len(begins) == 1:
        return (exact or begins)[0]
    near = nearest(typed, begins or words)
    raise ValueError(f"is not one of {join_words(words, 'or')}" + (f"; did you mean {near}?" if near else ""))


def read_by(text: str) -> str:
    return read_one_of(text, ("container", "shelf", "class"))


def read_remedy(text: str) -> str:
    return read_one_of(text, REMEDIES)


def read_reason(text: str) -> str:
    return read_one_of(text, REASONS)


def read_outcome(text: str) -> str:
    """An outcome by its word in the daybook; "half", "no" and "further" are understood too."""
    spoken = {
        "half": "about half",
        "no": "not taught",
        "further": "went further",
        "another": "another part",
        "all": "done",
    }
    return spoken.get(text.casefold()) or read_one_of(text, OUTCOMES)


def read_level(text: str) -> str:
    return read_one_of(text, LEVELS)


def read_yes(text: str) -> bool:
    if text.casefold() in YES:
        return True
    if text.casefold() in NO:
        return False
    raise ValueError("is neither yes nor no")


def read_name(text: str) -> str:
    """The name of something in the plan, looked up later."""
    if not text.strip():
        raise ValueError("names nothing")
    return text.strip()


def read_away(text: str) -> tuple[str, ...]:
    """Classes, "3-B,3-K"; () for "none"."""
    if text.casefold() in ("none", "nobody"):
        return ()
    named = tuple(each.strip() for each in text.split(",") if each.strip())
    if not named:
        raise ValueError("names no class; write them like 3-B,3-K, or none")
    return named


def read_missed(text: str) -> tuple[int, ...] | str:
    """Class-list numbers, "4,11"; () for "none"; the word "unknown" for nobody could say."""
    if text.casefold() in ("none", "nobody", "0"):
        return ()
    if text.casefold() in ("unknown", "?"):
        return "unknown"
    numbers = [read_list_number(each) for each in text.replace(",", " ").split()]
    if not numbers:
        raise ValueError("names nobody; write class-list numbers like 4,11, or none, or unknown")
    return tuple(sorted(set(numbers)))


def read_half(text: str) -> tuple[int, ...]:
    """Class-list numbers, "6,9"; () for "none"."""
    numbers = read_missed(text)
    if isinstance(numbers, str):
        raise ValueError("is no class-list number; write them like 6,9, or none")
    return numbers


def read_not_done(text: str) -> tuple[int, ...]:
    """Class-list numbers, "9,12"."""
    numbers = read_half(text)
    if not numbers:
        raise ValueError("names nobody; write class-list numbers like 9,12, or --not-done 0 where all are done")
    return numbers


def read_list_number(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:4]) <= 400 or len(text) > 3:
        raise ValueError(f"has {text}, which is no class-list number; write them like 4,11, or none, or unknown")
    return int(text)


def read_out_and_back(text: str) -> tuple[str, int, int] | tuple[str, None, None]:
    """ "scissors=13/12": 13 out, 12 back. One number is out and back alike; "scissors=later": not counted yet."""
    supply, sign, counts = text.rpartition("=")
    if sign and supply.strip() and counts.strip().casefold() == "later":
        return supply.strip(), None, None
    out, slash, back = counts.partition("/")
    try:
        if sign and supply.strip():
            return supply.strip(), read_number(out), read_number(back if slash else out)
    except ValueError:
        pass
    raise ValueError("is not a count out and back; write it like scissors=13/12, or scissors=later")


def read_place(text: str) -> tuple[str, str]:
    """ "printing=11": the Printing kit is in room 11."""
    container, _, place = text.rpartition("=")
    if not container.strip() or not place.strip():
        raise ValueError("does not say what stands where; write it like printing=11 or box-3=store")
    return container.strip(), place.strip()


def read_said_of(text: str, read: Callable[[str], T], wrong: str) -> tuple[str, T]:
    """ "NAME=VALUE", the value read by ``read``. Raises ValueError with ``wrong`` for anything else."""
    name, _, value = text.rpartition("=")
    try:
        if name.strip():
            return name.strip(), read(value)
    except ValueError:
        pass
    raise ValueError(wrong)


def read_put_right(text: str) -> tuple[str, bool]:
    """ "printing=yes": the Printing kit was put right."""
    return read_said_of(text, read_yes, "does not say what was put right; write it like printing=yes")


def read_size(text: str) -> int | str:
    """How many children a class has: 25, or "about 24"."""
    try:
        return size_typed(text)
    except ValueError:
        raise ValueError('is not a number of children; write 25, or "about 24"') from None


def read_need(text: str) -> tuple[str, int]:
    """ "fine-motor=2": two children need it; 0: nobody any more."""
    return read_said_of(text, read_number, "does not say how many need what; write it like fine-motor=2")


def read_list_numbers(text: str) -> tuple[int, ...]:
    """Class-list numbers, "7" or "7,12"."""
    numbers = tuple(dict.fromkeys(read_list_number(each) for each in text.replace(",", " ").split()))
    if not numbers:
        raise ValueError("names nobody; write class-list numbers like 7,12")
    return numbers


def read_school_grade(text: str) -> str:
    """ "K", "3"."""
    from checklists.typed.class_names import read_grade  # only here: no command without a grade waits for it

    grade = read_grade(text)
    if not grade:
        raise ValueError("is no grade; write PK, K or a number from 1 to 8")
    return grade
