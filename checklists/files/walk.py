"""The slow way from a table to a record: field by field, telling every problem and mending what is harmless."""

from __future__ import annotations

from typing import Any

from msgspec import inspect as kinds

from checklists.files.kinds import Meant, said_kind, seen, settle
from checklists.files.where import TomlPath, line_at, lines_of
from checklists.problems import Problem
from checklists.words import nearest

_NOUNS = {
    "classes": "class",
    "supplies": "supply",
    "boxes": "box",
    "rooms": "room",
    "kits": "kit",
    "walks": "walk",
    "periods": "period",
    "breaks": "break",
    "days_off": "day off",
    "needs": "need",
    "parts": "part",
    "items": "item",
    "short_version": "short version, item",
    "extension": "extension, item",
    "preps": "prep",
    "rules": "rule",
    "off": "switched off",
    "cautions": "caution",
    "tasks": "task",
    "checks": "check",
    "entries": "entry",
    "teaching": "teaching, grade",
    "places": "place",
    "cases": "case",
    "lessons": "lesson",
}
_NAMED_BY = {
    "boxes": "grade",
    "needs": "need",
    "off": "rule",
    "carried": "key",
    "cases": "key",
    "periods": "name",
    "breaks": "name",
}
"""Field that tells one entry of a list from another, where it is not ``id``. Without it, its number does."""


class Walk:
    """Gathers the problems of one file."""

    def __init__(self, file: str, text: str, *, newer: bool, partly: bool) -> None:
        self.file = file
        self.newer = newer
        self.partly = partly
        self.problems: list[Problem] = []
        self._lines = lines_of(text)

    def record(self, table: dict[str, Any], into: type, entry: str) -> Any:
        """The table with every harmless slip mended; what could not be mended is in ``problems``."""
        return self._struct(table, kinds.type_info(into), (), entry)

    def _tell(self, path: TomlPath, entry: str, what: str, to_do: str = "", *, note: bool = False) -> None:
        line = line_at(self._lines, path)
        self.problems.append(Problem(self.file, entry, what, to_do, line, "note" if note else "grave"))

    def _value(self, value: Any, kind: kinds.Type, path: TomlPath, entry: str, field: str) -> Any:
        if isinstance(kind, kinds.UnionType):
            return self._union(value, kind, path, entry, field)
        if isinstance(kind, kinds.StructType):
            if isinstance(value, dict):
                return self._struct(value, kind, path, f"{entry}, {_words(field)}".lstrip(", "))
            self._wrong(value, kind, path, entry, field)
            return None
        if isinstance(kind, kinds.VarTupleType | kinds.ListType):
            return self._list(value, kind, path, entry, field)
        if isinstance(kind, kinds.DictType):
            return self._table(value, kind, path, entry, field)
        settled = settle(value, kind)
        if not isinstance(settled, Meant):
            self._wrong(value, kind, path, entry, field)
            return None
        return settled.value

    def _union(self, value: Any, kind: kinds.UnionType, path: TomlPath, entry: str, field: str) -> Any:
        structs = [each for each in kind.types if isinstance(each, kinds.StructType)]
        if isinstance(value, dict) and structs:
            return self._one_of(value, structs, path, entry, field)
        inner = [each for each in kind.types if isinstance(each, kinds.VarTupleType | kinds.DictType)]
        if inner and isinstance(value, list | dict):
            return self._value(value, inner[0], path, entry, field)
        for exact in (True, False):
            for each in kind.types:
                settled = settle(value, each, exact=exact)
                if isinstance(settled, Meant):
                    return settled.value
        self._wrong(value, kind, path, entry, field)
        return None

    def _one_of(
        self, value: dict[str, Any], structs: list[kinds.StructType], path: TomlPath, entry: str, field: str
    ) -> Any:
        if len(structs) == 1:
            return self._value(value, structs[0], path, entry, field)
        tag = structs[0].tag_field or ""
        by_tag = {str(each.tag): each for each in structs}
        chosen = by_tag.get(str(value.get(tag)))
        if chosen is not None:
            return self._struct(value, chosen, path, entry)
        near = nearest(str(value.get(tag)), by_tag)
        self._tell(path, entry, f"{tag} is {seen(value.get(tag))}.", f'Is "{near}" meant?' if near else "")
        return None

    def _struct(self, table: dict[str, Any], kind: kinds.Type, path: TomlPath, entry: str) -> dict[str, Any]:
        assert isinstance(kind, kinds.StructType)
        fields = {each.encode_name: each for each in kind.fields}
        read: dict[str, Any] = {}
        guessed: set[str] = set()
        if kind.tag_field is not None:
            read[kind.tag_field] = kind.tag
        for name, value in table.items():
            if name in fields:
                read[name] = self._value(value, fields[name].type, (*path, name), entry, name)
            elif name != kind.tag_field:
                guessed.add(
                    self._unknown_field(name, [each for each in fields if each not in table], (*path, name), entry)
                )
        for name, field in fields.items():
            if field.required and name not in table and name not in guessed and not self.partly:
                self._tell(path, entry, f"{name} is missing.", f"Add: {name} = {said_kind(field.type)}")
        return read

    def _unknown_field(self, name: str, free: list[str], path: TomlPath, entry: str) -> str:
        """Tell of it; the field that was probably meant comes back, "" where none is near."""
        near = nearest(name, free)
        to_do = f"Is {near} meant?" if near else "Take it out, or put a # before it."
        self._tell(path, entry, f"{name} is not known here.", to_do, note=self.newer)
        return near or ""

    def _list(
        self, value: Any, kind: kinds.VarTupleType | kinds.ListType, path: TomlPath, entry: str, field: str
    ) -> Any:
        values = value if isinstance(value, list) else [value]
        least, most = kind.min_length or 0, kind.max_length
        if len(values) < least or (most is not None and len(values) > most):
            wanted = (
                f"exactly {least}"
                if least == most
                else f"at least {least}"
                if len(values) < least
                else f"at most {most}"
            )
            self._tell(path, entry, f"{field} has {len(values)}.", f"There must be {wanted}.")
        read = []
        for number, each in enumerate(values):
            here = (*path, number)
            if isinstance(each, dict) and _is_struct(kind.item_type):
                name = _entry_name(entry, field, each, number)
                item = kind.item_type
                if isinstance(item, kinds.UnionType):
                    read.append(self._union(each, item, here, name, ""))
                else:
                    read.append(self._struct(each, item, here, name))
            else:
                read.append(self._value(each, kind.item_type, here, entry, field))
        return read

    def _table(self, value: Any, kind: kinds.DictType, path: TomlPath, entry: str, field: str) -> Any:
        if not isinstance(value, dict):
            self._wrong(value, kind, path, entry, field)
            return None
        read = {}
        for key, each in value.items():
            here = (*path, key)
            named = settle(key, kind.key_type)
            place = f"{entry}, {_NOUNS.get(field, _words(field))}".lstrip(", ")
            if not isinstance(named, Meant):
                self._tell(
                    here, place, f"{seen(key)} cannot stand before the = sign.", f"Write {said_kind(kind.key_type)}."
                )
            elif isinstance(kind.value_type, kinds.StructType | kinds.DictType | kinds.VarTupleType):
                read[named.value] = self._inner(each, kind.value_type, here, f"{place} {key}", key)
            else:
                read[named.value] = self._value(each, kind.value_type, here, place, str(key))
        return read

    def _inner(self, value: Any, kind: kinds.Type, path: TomlPath, entry: str, field: str) -> Any:
        """A value of a table whose name is in ``entry`` already, so that it is not named twice."""
        if isinstance(kind, kinds.StructType) and isinstance(value, dict):
            return self._struct(value, kind, path, entry)
        if isinstance(kind, kinds.DictType) and isinstance(value, dict):
            return {
                name: self._value(each, kind.value_type, (*path, name), entry, str(name))
                for name, each in value.items()
            }
        return self._value(value, kind, path, entry, field)

    def _wrong(self, value: Any, kind: kinds.Type, path: TomlPath, entry: str, field: str) -> None:
        meant = said_kind(kind)
        to_do = f"Write {meant}."
        words = [str(each) for each in _literal_words(kind)]
        if isinstance(value, str) and (near := nearest(value, words)):
            to_do = f'Is "{near}" meant? Write {meant}.'
        self._tell(path, entry, f"{field} is {seen(value)}.", to_do)


def _is_struct(kind: kinds.Type) -> bool:
    types = kind.types if isinstance(kind, kinds.UnionType) else (kind,)
    return any(isinstance(each, kinds.StructType) for each in types)


def _literal_words(kind: kinds.Type) -> list[object]:
    types = kind.types if isinstance(kind, kinds.UnionType) else (kind,)
    return [word for each in types if isinstance(each, kinds.LiteralType) for word in each.values]


def _entry_name(entry: str, field: str, table: dict[str, Any], number: int) -> str:
    noun = _NOUNS.get(field, _words(field))
    name = table.get(_NAMED_BY.get(field, "id"))
    if not isinstance(name, str | int) or name == "":
        name = number + 1
    return f"{entry}, {noun} {str(name)[:60]}".lstrip(", ")


def _words(field: str) -> str:
    return field.replace("_", " ")
