"""Supplies from a table: what each row says of its supply, and her catalogue as it would be.

A count that is new is one of the day it is brought in, and counts from then on. What no column speaks of stays.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Any, get_args

from msgspec import structs

from checklists.bringing_in.cells import MOST_OF_A_THING, is_number, read_count, read_yes
from checklists.bringing_in.columns import Columns, filled, find_columns, say_columns, share_of
from checklists.bringing_in.known_words import folded, known_words, says_any
from checklists.bringing_in.table import Table, TableRow
from checklists.bringing_in.understood import NotReadable, Rows, Understood
from checklists.plan.new_ids import new_id
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import StockLevel, Supply, SupplyKind
from checklists.words import join_words, say_number

NAMES = {
    "name": "the name",
    "kind": "the kind",
    "on_hand": "how many there are",
    "pack": "how many in a pack",
    "shelf": "the shelf",
    "grams": "grams of one",
    "sharp": "whether it is sharp",
    "own": "whether it is your own tool",
}
KINDS: tuple[SupplyKind, ...] = get_args(SupplyKind)
LEVELS: dict[str, StockLevel] = {
    **dict.fromkeys(("plenty", "lots", "many", "enough", "full", "ok", "good", "yes"), "plenty"),
    **dict.fromkeys(("low", "few", "some", "running low", "almost out", "little"), "low"),
    **dict.fromkeys(("out", "none", "empty", "gone", "no"), "out"),
}
_PACKS = re.compile(r"(\d{1,4})\s*(?:packs?|packages?|boxes|box|reams?|cases?)", re.IGNORECASE)
_INCHES = r"(?:in\b\.?|inch(?:es)?\b|[\"″”])?"
_SIZE = re.compile(rf"(\d+)\s*{_INCHES}\s*[x×]\s*(\d+)\s*{_INCHES}")
_SHELF = re.compile(r"shelf\s+(?=\S)", re.IGNORECASE)
"""The word before the shelf itself, which is said with it in any case: "shelf B2"."""


def bring_in_supplies(table: Table, files: PlanFiles, rows: Rows, builtin: tuple[Supply, ...], on: date) -> Understood:
    """What the table says of supplies. ``builtin`` come with the program; one that is changed becomes hers."""
    columns = find_columns(table, "supplies", _guess)
    reading = _Reading(files, columns, rows, builtin, on)
    if "name" in columns.at:
        for row in columns.rows:
            reading.read(row)
        notes = (say_columns(columns, NAMES), *reading.notes())
    else:
        notes = ("No column says the name. Write one row for each supply: its name, how many there are, its shelf.",)
    return Understood("supplies", reading.files(), tuple(rows.read), notes)


def _guess(rows: tuple[TableRow, ...]) -> dict[str, int]:
    """The columns where no headings are: names are words, the first numbers are counts, the second packs."""
    width = max((len(row.cells) for row in rows), default=0)
    at: dict[str, int] = {}
    for column in range(width):
        cells = filled(rows, column)
        if not cells:
            continue
        if share_of(cells, lambda each: is_number(each) or folded(each) in LEVELS) >= 0.6:
            field = next((each for each in ("on_hand", "pack") if each not in at), "")
        elif "name" in at and share_of(cells, _kind_of) >= 0.6:
            field = "kind"
        elif "name" not in at:
            field = "name"
        else:
            field = "shelf" if share_of(cells, lambda each: len(each) <= 24) >= 0.8 else ""
        if field and field not in at:
            at[field] = column
    return at


def _kind_of(text: str) -> SupplyKind | None:
    word = folded(text)
    kinds: dict[str, list[str]] = known_words()["supplies"]["kinds"]
    return next((kind for kind in KINDS if word == kind or word in kinds[kind]), None)


class _Reading:
    """The rows read so far."""

    def __init__(self, files: PlanFiles, columns: Columns, rows: Rows, builtin: tuple[Supply, ...], on: date) -> None:
        self.before, self.columns, self.rows, self.on = files, columns, rows, on
        hers = {each.id for each in files.supplies}
        self.by_id = {each.id: each for each in (*files.supplies, *(each for each in builtin if each.id not in hers))}
        self.by_name: dict[str, str] = {}
        for each in self.by_id.values():
            self.by_name.setdefault(folded_name(each.name), each.id)
        self.said_in: dict[str, int] = {}
        self.changed: dict[str, Supply] = {}
        self.kinds_guessed = 0

    def read(self, row: TableRow) -> None:
        shown, name = self.columns.shown(row), self.columns.cell(row, "name")
        if self.rows.is_left(row.number, shown):
            return
        if not re.search(r"\w", name):
            self.rows.refuse(row.number, shown, "No name stands there.", "Write what it is called.")
            return
        known = self.by_id.get(name) or self.by_id.get(self.by_name.get(folded_name(name), ""))
        try:
            fields = self._fields(row, known)
        except NotReadable as wrong:
            self.rows.refuse(row.number, shown, f"{name}: {wrong}", wrong.to_do)
            return
        if known is not None and known.id in self.said_in:
            self._say_twice(row, shown, known, fields)
        elif known is not None:
            self._change(row, shown, known, fields)
        else:
            self._add(row, shown, name, fields)

    def _fields(self, row: TableRow, known: Supply | None) -> dict[str, Any]:
        cell = self.columns.cell
        fields: dict[str, Any] = {}
        if said := cell(row, "kind"):
            kind = _kind_of(said)
            if kind is None:
                raise NotReadable(f'"{said}" is no kind.', f"Write {join_words(KINDS, 'or')}.")
            fields["kind"] = kind
        if said := cell(row, "pack"):
            fields["pack"] = read_count(said, "in a pack", 1, 10_000)[0]
        if said := cell(row, "on_hand"):
            pack = fields.get("pack", known.pack if known is not None else 1)
            fields["on_hand"] = _on_hand(said, pack)
        if said := cell(row, "shelf"):
            fields["shelf"] = _SHELF.sub("", said) or said
        if said := cell(row, "grams"):
            fields["grams"] = float(read_count(said, "grams", 0, 100_000)[0])
        for field in ("sharp", "own"):
            if said := cell(row, field):
                fields[field] = read_yes(said)
        return fields

    def _say_twice(self, row: TableRow, shown: str, known: Supply, fields: dict[str, Any]) -> None:
        before = self.said_in[known.id]
        if any(getattr(known, field) != value for field, value in fields.items()):
            why = f"{known.name} stands in row {before} already, with something else."
            self.rows.refuse(row.number, shown, why, "Keep one of the two rows.")
        else:
            self.rows.add(row.number, shown, "there already", f"{known.name}: the same as row {before}")

    def _add(self, row: TableRow, shown: str, name: str, fields: dict[str, Any]) -> None:
        values = {**self._guessed(name, fields), **fields}
        supply = Supply(id=self._id_for(name), name=name, **values, **self._counted(fields))
        self._keep(supply, row)
        facts = [_say_field(field, value) for field, value in values.items() if field != "marks" and value]
        self.rows.add(row.number, shown, "adds", f"{name}: {', '.join(facts)}", entry=f"supply {supply.id}")

    def _guessed(self, name: str, fields: dict[str, Any]) -> dict[str, Any]:
        """What a name says where no column does: its kind; that it is sharp, which is counted out and back."""
        words = folded_name(name)
        usual: list[dict[str, Any]] = known_words()["supplies"]["named"]
        named = next((each for each in usual if says_any(words, tuple(each["words"]))), {})
        found: dict[str, Any] = {"kind": named.get("kind", "material")} if "kind" not in fields else {}
        self.kinds_guessed += bool(found)
        if named and fields.get("kind", named["kind"]) == named["kind"]:
            found |= {field: value for field, value in named.items() if field in ("sharp", "marks")}
        if "marks" in found:
            found["marks"] = tuple(found["marks"])
        return found

    def _counted(self, fields: dict[str, Any]) -> dict[str, Any]:
        return {"counted": self.on} if isinstance(fields.get("on_hand"), int) else {}

    def _id_for(self, name: str) -> str:
        ident = new_id(name, (), "supply")  # quick where nobody has it, which is nearly always
        return ident if ident not in self.by_id else new_id(name, self.by_id, "supply")

    def _change(self, row: TableRow, shown: str, known: Supply, fields: dict[str, Any]) -> None:
        other = {field: value for field, value in fields.items() if getattr(known, field) != value}
        entry = f"supply {known.id}"
        if not other:
            self.said_in[known.id] = row.number
            self.rows.add(row.number, shown, "there already", known.name, entry=entry)
            return
        self._keep(structs.replace(known, **other, **self._counted(other)), row)
        said = "; ".join(f"{_say_field(each, value)} instead of {_was(known, each)}" for each, value in other.items())
        self.rows.add(row.number, shown, "changes", f"{known.name}: {said}", entry=entry)

    def _keep(self, supply: Supply, row: TableRow) -> None:
        self.said_in[supply.id] = row.number
        self.by_id[supply.id] = self.changed[supply.id] = supply
        self.by_name.setdefault(folded_name(supply.name), supply.id)

    def notes(self) -> list[str]:
        if not self.kinds_guessed:
            return []
        return ["Where no column says the kind, it is told from the name: look at what is new."]

    def files(self) -> PlanFiles:
        if not self.changed:
            return self.before
        kept = [self.changed.get(each.id, each) for each in self.before.supplies]
        there = {each.id for each in kept}
        new = (each for each in self.changed.values() if each.id not in there)
        return structs.replace(self.before, supplies=(*kept, *new))


def folded_name(name: str) -> str:
    """A name to be compared: what stands in parentheses belongs to it, and 12 × 18 in is 12x18."""
    sizes = _SIZE.sub(r"\1x\2 ", name.casefold())
    return " ".join(re.sub(r"[^\w]+", " ", sizes).split())


def _on_hand(text: str, pack: int) -> int | StockLevel:
    """ "320", "plenty", "2 packs" where it is known how many are in one."""
    if level := LEVELS.get(folded(text)):
        return level
    packs = _PACKS.fullmatch(text.strip())
    if packs is None:
        try:
            return read_count(text, "pieces", 0, MOST_OF_A_THING)[0]
        except NotReadable as wrong:
            raise NotReadable(str(wrong), "Write a number, or plenty, low or out.") from None
    if pack == 1:
        raise NotReadable(f'How many are in a pack of "{text}" is not known.', "Write how many pieces there are.")
    return int(packs[1]) * pack


def _say_field(field: str, value: Any) -> str:
    if field in ("sharp", "own"):
        what = "sharp, counted out and back" if field == "sharp" else "your own tool, counted out and back"
        return what if value else f"not {field}"
    if field == "on_hand":
        return f"{value:,} there" if isinstance(value, int) else str(value)
    if field == "pack":
        return f"packs of {value}"
    if field == "grams":
        return f"{say_number(value)} g"
    return f"shelf {value}" if field == "shelf" else str(value)


def _was(supply: Supply, field: str) -> str:
    value = getattr(supply, field)
    if value is None or value == "":
        return "not said"
    if isinstance(value, bool):
        return field if value else f"not {field}"
    return f"{value:,}" if isinstance(value, int) else say_number(value) if isinstance(value, float) else str(value)
