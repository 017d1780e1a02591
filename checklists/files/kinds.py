"""Single values: whether one is of the kind a field has, what a harmless slip was meant to be, how to say a kind."""

from __future__ import annotations

import re
from datetime import date, datetime, time
from typing import Any

from msgspec import Struct
from msgspec import inspect as kinds

from checklists.plan.records import AboutHeadcount, ClockTime, Grade
from checklists.words import join_words, say_number


class Meant(Struct, frozen=True):
    """The value that was meant."""

    value: Any


def _pattern(kind: Any) -> str:
    info = kinds.type_info(kind)
    assert isinstance(info, kinds.StrType)
    return info.pattern or ""


_CLOCK_TIME, _GRADE, _ABOUT = _pattern(ClockTime), _pattern(Grade), _pattern(AboutHeadcount)
_SAID_PATTERN = {
    _CLOCK_TIME: 'a time of day such as "8:05" or "13:15"',
    _GRADE: 'a grade: "PK", "K" or "1" to "8"',
    _ABOUT: '"about 24"',
}


def settle(value: Any, kind: kinds.Type, *, exact: bool = False) -> Meant | None:
    """The value as the kind has it, or None. ``exact``: only a value that is of the kind as it stands."""
    for tried in (value,) if exact else (value, *_readings(value, kind)):
        if _fits(tried, kind):
            return Meant(tried)
    return None


def _fits(value: Any, kind: kinds.Type) -> bool:
    """Whether a single value is of a kind and within its bounds."""
    if isinstance(kind, kinds.NoneType):
        return value is None
    if isinstance(kind, kinds.BoolType):
        return isinstance(value, bool)
    if isinstance(kind, kinds.IntType):
        return isinstance(value, int) and not isinstance(value, bool) and _within(value, kind)
    if isinstance(kind, kinds.FloatType):
        return isinstance(value, int | float) and not isinstance(value, bool) and _within(value, kind)
    if isinstance(kind, kinds.LiteralType):
        return any(value == word and type(value) is type(word) for word in kind.values)
    if isinstance(kind, kinds.DateTimeType):
        return isinstance(value, datetime)
    if isinstance(kind, kinds.DateType):
        return isinstance(value, date) and not isinstance(value, datetime)
    if isinstance(kind, kinds.StrType):
        return isinstance(value, str) and _has_form(value, kind)
    return isinstance(kind, kinds.AnyType)


def _within(value: float, kind: kinds.IntType | kinds.FloatType) -> bool:
    if abs(value) > 2**53 or value != value:  # beyond every count there is, and not a number
        return False
    return (kind.ge is None or value >= kind.ge) and (kind.le is None or value <= kind.le)


def _has_form(text: str, kind: kinds.StrType) -> bool:
    long_enough = len(text) >= (kind.min_length or 0)
    short_enough = kind.max_length is None or len(text) <= kind.max_length
    return long_enough and short_enough and (kind.pattern is None or re.search(kind.pattern, text) is not None)


def _readings(value: Any, kind: kinds.Type) -> list[Any]:
    """What a value that does not fit as it stands may have been meant to be."""
    if isinstance(value, str):
        return _readings_of_text(value.strip(), kind)
    if isinstance(value, bool):
        return []
    if isinstance(value, float) and value.is_integer():
        return (
            [int(value), str(int(value))] if isinstance(kind, kinds.IntType | kinds.StrType | kinds.LiteralType) else []
        )
    if isinstance(value, int | float) and isinstance(kind, kinds.StrType):
        return [str(value)]
    if isinstance(value, time) and isinstance(kind, kinds.StrType):
        return [f"{value.hour}:{value.minute:02d}"]
    if isinstance(value, datetime) and isinstance(kind, kinds.DateType) and value.time() == time():
        return [value.date()]
    return []


def _readings_of_text(text: str, kind: kinds.Type) -> list[Any]:
    if isinstance(kind, kinds.BoolType):
        return [text.lower() in ("yes", "true")] if text.lower() in ("yes", "true", "no", "false") else []
    if isinstance(kind, kinds.IntType | kinds.FloatType):
        return [int(text)] if re.fullmatch(r"[0-9]{1,9}", text) else []
    if isinstance(kind, kinds.LiteralType):
        return [word for word in kind.values if str(word).lower() == text.lower()]
    if isinstance(kind, kinds.DateTimeType | kinds.DateType):
        read = datetime if isinstance(kind, kinds.DateTimeType) else date
        try:
            return [read.fromisoformat(text)]
        except ValueError:
            return []
    if isinstance(kind, kinds.StrType) and kind.pattern == _GRADE:
        return [text.upper()]
    if isinstance(kind, kinds.StrType) and kind.pattern == _ABOUT:
        return [re.sub(r"^(?:~|about|ca\.?)\s*", "about ", text.lower())]
    return [text] if isinstance(kind, kinds.StrType) else []


def said_kind(kind: kinds.Type) -> str:
    """What is meant to stand there, in words that go after "Write"."""
    if isinstance(kind, kinds.UnionType):
        return join_words([said_kind(each) for each in kind.types if not isinstance(each, kinds.NoneType)], "or")
    if isinstance(kind, kinds.BoolType):
        return "true or false"
    if isinstance(kind, kinds.IntType | kinds.FloatType):
        return _said_number(kind)
    if isinstance(kind, kinds.LiteralType):
        return _said_words(kind)
    if isinstance(kind, kinds.DateTimeType):
        return "a date and time such as 2026-10-05T08:30:00"
    if isinstance(kind, kinds.DateType):
        return "a date such as 2026-10-05"
    if isinstance(kind, kinds.StrType):
        return _said_text(kind)
    if isinstance(kind, kinds.VarTupleType | kinds.ListType):
        return (
            "one or more entries" if isinstance(kind.item_type, kinds.StructType) else "a list in brackets: [ … , … ]"
        )
    if isinstance(kind, kinds.DictType):
        return "pairs in braces: { name = value, … }"
    if isinstance(kind, kinds.StructType):
        needed = [each.encode_name for each in kind.fields if each.required] or [kind.fields[0].encode_name]
        return f"an entry in braces: {{ {needed[0]} = …{', …' if len(needed) > 1 else ''} }}"
    return "something else"


def _said_number(kind: kinds.IntType | kinds.FloatType) -> str:
    number = "a whole number" if isinstance(kind, kinds.IntType) else "a number"
    if kind.ge is not None and kind.le is not None:
        return f"{number} from {say_number(kind.ge)} to {say_number(kind.le)}"
    return f"{number}, {say_number(kind.ge)} or more" if kind.ge is not None else number


def _said_words(kind: kinds.LiteralType) -> str:
    return join_words([f'"{each}"' if isinstance(each, str) else str(each) for each in kind.values if each != ""], "or")


def _said_text(kind: kinds.StrType) -> str:
    if kind.pattern is not None:
        return _SAID_PATTERN.get(kind.pattern, "text of another form")
    return f"text in quotes, at most {kind.max_length} letters" if kind.max_length is not None else "text in quotes"


def seen(value: Any) -> str:
    """A value as it is shown in a problem."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return "empty" if not value else f'"{value if len(value) <= 40 else value[:39] + "…"}"'
    if isinstance(value, list):
        return "a list" if value else "an empty list"
    if isinstance(value, dict):
        return "a group of values"
    return str(value)[:40]
