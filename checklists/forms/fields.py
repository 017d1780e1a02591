"""The fields of a record as they are asked for: what each is called, and in which way it is said.

The way follows from the field's type alone, the words stand in ``fields.toml``.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any, Literal

import msgspec
from msgspec import Struct
from msgspec import inspect as kinds

from checklists.plan import naming
from checklists.plan.records import AboutHeadcount, ClockTime, Grade

Way = Literal[
    "text",
    "number",
    "whole",
    "date",
    "time",
    "size",
    "stock",
    "numbers",
    "words",
    "yes or no",
    "choice",
    "grade",
    "grades",
    "one",
    "several",
    "counts",
    "list",
    "record",
]
"""How it is said: typed; chosen by a digit; one, or several, of the things there are; with how many of each; or opened,
where it is a list or a record of its own."""

GRADES = ("PK", "K", "1", "2", "3", "4", "5", "6", "7", "8")


class Choice(Struct, frozen=True):
    """One of a few values, and what it is called."""

    value: Any
    words: str


class Field(Struct, frozen=True):
    """One field of a record. ``kind`` is its type, for values; ``of`` the record, of a list or a record of its own."""

    name: str
    label: str
    way: Way
    kind: kinds.Type
    help: str = ""
    unit: str = ""
    group: str = ""
    private: bool = False
    """It tells of a child's need: only how many there are is said until it is opened."""
    names: str = ""
    """The kind of thing it names, where it names one: "supply"."""
    is_own_name: bool = False
    choices: tuple[Choice, ...] = ()
    of: type | None = None
    required: bool = False
    default: Any = None
    can_be_unknown: bool = False


class _FieldWords(Struct, frozen=True, forbid_unknown_fields=True):
    label: str
    help: str = ""
    unit: str = ""
    group: str = ""
    private: bool = False
    words: dict[str, str] = {}


class RecordWords(Struct, frozen=True):
    """What a record is called, what is asked of a new one, what is not shown, and what has a page of its own."""

    title: str
    ask: tuple[str, ...] = ()
    hidden: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()


_YES_NO = (Choice(True, "yes"), Choice(False, "no"))
_NOT_KNOWN = Choice(None, "not known")
_OF_RECORD = ("title", "ask", "hidden", "apart")


@cache
def _told() -> dict[str, dict[str, Any]]:
    text = files("checklists.forms").joinpath("fields.toml").read_text("utf-8")
    return msgspec.toml.decode(text, type=dict[str, dict[str, Any]])


def words_of_record(record_type: type) -> RecordWords:
    """What is said of a record as a whole."""
    told = _told()[record_type.__name__]
    return msgspec.convert({key: told[key] for key in _OF_RECORD if key in told}, RecordWords)


@cache
def fields_of(record_type: type) -> tuple[Field, ...]:
    """The fields that are shown, in the order of ``fields.toml``."""
    kind = kinds.type_info(record_type)
    assert isinstance(kind, kinds.StructType)
    by_name = {each.name: each for each in kind.fields}
    told = _told()[record_type.__name__]
    found = []
    for name, words in told.items():
        if name not in _OF_RECORD:
            field = by_name[name.rstrip("_")]
            found.append(_field(record_type, field, msgspec.convert(words, _FieldWords)))
    return tuple(found)


def fields_of_form(record_type: type) -> tuple[Field, ...]:
    """Those of them that its own form shows."""
    apart = words_of_record(record_type).apart
    return tuple(each for each in fields_of(record_type) if each.name not in apart)


def field_of(record_type: type, name: str) -> Field:
    """One of them."""
    return next(each for each in fields_of(record_type) if each.name == name)


def _field(record_type: type, field: kinds.Field, told: _FieldWords) -> Field:
    place = f"{record_type.__name__}.{field.name}"
    names = _named(naming.NAMES.get(place))
    kind, unknown = _without_none(field.type)
    way, of = _way(kind, names)
    choices: tuple[Choice, ...] = ()
    if way == "yes or no":
        choices = (*_YES_NO, _NOT_KNOWN) if unknown else _YES_NO
    elif isinstance(kind, kinds.LiteralType):
        of_hers = tuple(told.words)
        order = sorted((str(each) for each in kind.values if each != ""), key=of_hers.index if of_hers else None)
        choices = tuple(Choice(each, told.words.get(each, each)) for each in order)
    default = None if field.default is msgspec.NODEFAULT else field.default
    if field.default_factory is not msgspec.NODEFAULT:
        default = field.default_factory()
    return Field(
        name=field.name,
        label=told.label,
        way=way,
        kind=kind,
        help=told.help,
        unit=told.unit,
        group=told.group,
        private=told.private,
        names=names,
        is_own_name=place in naming.OWN and way == "text",
        choices=choices,
        of=of,
        required=field.required,
        default=default,
        can_be_unknown=unknown,
    )


def _named(shape: naming.Shape) -> str:
    """The kind of thing that is named, however the names stand in the field."""
    if shape is None or isinstance(shape, str):
        return shape or ""
    return shape[0] if isinstance(shape, tuple) else next(iter(shape))


def _without_none(kind: kinds.Type) -> tuple[kinds.Type, bool]:
    if not isinstance(kind, kinds.UnionType) or not any(isinstance(each, kinds.NoneType) for each in kind.types):
        return kind, False
    rest = tuple(each for each in kind.types if not isinstance(each, kinds.NoneType))
    return (rest[0] if len(rest) == 1 else kinds.UnionType(rest)), True


def _way(kind: kinds.Type, names: str) -> tuple[Way, type | None]:
    if isinstance(kind, kinds.StructType):
        return "record", kind.cls
    if isinstance(kind, kinds.VarTupleType):
        return _way_of_list(kind, names)
    if isinstance(kind, kinds.DictType):
        return "counts", None
    if isinstance(kind, kinds.UnionType):
        is_size = any(
            isinstance(each, kinds.StrType) and each.pattern == _pattern(AboutHeadcount) for each in kind.types
        )
        return ("size" if is_size else "stock"), None
    if isinstance(kind, kinds.StrType):
        if kind.pattern == _pattern(Grade):
            return "grade", None
        return ("time" if kind.pattern == _pattern(ClockTime) else "one" if names else "text"), None
    simple: dict[type[kinds.Type], Way] = {
        kinds.BoolType: "yes or no",
        kinds.LiteralType: "choice",
        kinds.DateType: "date",
        kinds.IntType: "whole",
        kinds.FloatType: "number",
    }
    return simple[type(kind)], None


def _way_of_list(kind: kinds.VarTupleType, names: str) -> tuple[Way, type | None]:
    item = kind.item_type
    if isinstance(item, kinds.StructType):
        return "list", item.cls
    if isinstance(item, kinds.IntType):
        return "numbers", None
    if isinstance(item, kinds.StrType) and item.pattern == _pattern(Grade):
        return "grades", None
    return ("several" if names else "words"), None


def _pattern(kind: Any) -> str | None:
    info = kinds.type_info(kind)
    return info.pattern if isinstance(info, kinds.StrType) else None
