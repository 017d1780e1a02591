"""What is typed into a field, as a value; or why it cannot be one, in words that help while it is still being typed."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from msgspec.inspect import UnionType

from checklists.bringing_in.dates import SchoolYear, read_dates
from checklists.bringing_in.understood import NotReadable
from checklists.files.kinds import said_kind, settle
from checklists.forms.fields import GRADES, Field
from checklists.plan.class_notes import CannotNote, size_typed
from checklists.plan.records import School
from checklists.typed.times import minute_typed
from checklists.words import clean, clock, join_words, nearest

_NUMBER = re.compile(r"^\d{1,9}(?:[.,]\d{1,6})?$")
_LEVELS = {"p": "plenty", "l": "low", "o": "out"}


class CannotBe(ValueError):  # noqa: N818 - read as a sentence where it is caught
    """What was typed cannot stand there; the message says why, or what can."""


def value_typed(field: Field, text: str, school: School) -> Any:
    """The value that was typed. ``school`` has the year for a date without one. Raises CannotBe."""
    text = clean(text).strip()
    if field.way == "text":
        return _checked(field, " ".join(text.split()))
    if not text:
        raise CannotBe(f"Type {_what(field)}.")
    if field.way in ("whole", "number"):
        return _number(field, text)
    if field.way == "time":
        return _time(text)
    if field.way == "date":
        return date_typed(text, school)
    if field.way == "size":
        try:
            return size_typed(text)
        except CannotNote as why:
            raise CannotBe(str(why)) from None
    if field.way == "stock":
        return _stock(field, text)
    return _several_typed(field, text)


def date_typed(text: str, school: School) -> date:
    """One date, as people type it. Raises CannotBe."""
    try:
        read = read_dates(text, SchoolYear(school.first_day, school.last_day))
    except NotReadable as why:
        raise CannotBe(str(why)) from None
    span = read.spans[0]
    if len(read.spans) > 1 or span.first != span.last:
        raise CannotBe("One date only.")
    return span.first


def _checked(field: Field, value: Any) -> Any:
    kinds = field.kind.types if isinstance(field.kind, UnionType) else (field.kind,)
    settled = next((found for kind in kinds if (found := settle(value, kind)) is not None), None)
    if settled is None:
        if value == "":
            raise CannotBe(f"Type {_what(field)}.")
        raise CannotBe(f"Write {said_kind(field.kind)}.".replace("text in quotes, ", "text of "))
    return settled.value


def _number(field: Field, text: str) -> Any:
    if not _NUMBER.match(text):
        raise CannotBe(f'"{text}" is no number.')
    number = float(text.replace(",", "."))
    if number.is_integer():
        return _checked(field, int(number))
    if field.way == "whole":
        raise CannotBe("A whole number only.")
    return _checked(field, number)


def _time(text: str) -> str:
    """ "8:05", "805", "8.05", "1:15 pm"; without a word an hour before six is one of the afternoon."""
    minute = minute_typed(text)
    if minute is None:
        raise CannotBe("A time of day is typed 8:05, 805 or 13:15.")
    return clock(minute)


def _stock(field: Field, text: str) -> Any:
    if text.isascii() and text.isdigit() and len(text) <= 7:
        return _checked(field, int(text))
    near = nearest(text.casefold(), _LEVELS.values()) or _LEVELS.get(text.casefold()[:1])
    if near is None:
        raise CannotBe("Type how many there are, or plenty, low or out.")
    return near


def _several_typed(field: Field, text: str) -> tuple[Any, ...]:
    parts = tuple(part for part in re.split(r"[\s,;]+", text) if part)
    if len(set(parts)) < len(parts):
        raise CannotBe("One of them is there twice.")
    if field.way == "numbers":
        wrong = next((part for part in parts if not (part.isascii() and part.isdigit() and len(part) <= 4)), None)
        if wrong is not None:
            raise CannotBe(f'"{wrong}" is no number. Type them as 2 5.')
        return tuple(sorted(int(part) for part in parts))
    if field.way == "grades":
        grades = tuple(part.upper() for part in parts)
        wrong = next((part for part in grades if part not in GRADES), None)
        if wrong is not None:
            raise CannotBe(f'"{wrong}" is no grade. There are {join_words(GRADES)}.')
        return tuple(sorted(grades, key=GRADES.index))
    return parts


def _what(field: Field) -> str:
    told = {
        "whole": "a whole number",
        "number": "a number",
        "date": "a date, as 10/5 or Oct 5",
        "time": "a time of day, as 8:05",
        "size": "how many, as 25 or about 24",
        "stock": "how many there are, or plenty, low or out",
        "numbers": "the numbers, as 2 5",
        "grades": "the grades, as 3 4 5",
        "words": "the names in order, as A B C",
    }
    return told.get(field.way, "something")
