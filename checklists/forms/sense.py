"""What can stand in the files and makes no sense all the same: a thing said twice, more children than there are."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from typing import Any

from msgspec import Struct
from msgspec.inspect import VarTupleType

from checklists.forms.fields import fields_of, words_of_record
from checklists.forms.places import Gone, Place, value_at
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Box, Need, SchoolClass, Walk
from checklists.words import plural


def what_makes_no_sense(before: PlanFiles, after: PlanFiles, place: Place) -> str:
    """Why a change at a place makes no sense, in words; empty where it does, or where it made none before."""
    known = set(_senseless(before, place))
    return next((each for each in _senseless(after, place) if each not in known), "")


def _senseless(files: PlanFiles, place: Place) -> Iterator[str]:
    for length in range(1, len(place) + 1):
        try:
            holder, value = value_at(files, place[: length - 1]), value_at(files, place[:length])
        except Gone:
            return
        if isinstance(value, tuple):
            yield from _of_list(value)
            if isinstance(holder, Struct):
                yield from _of_length(holder, str(place[length - 1]), len(value))
        if isinstance(value, SchoolClass) and "needs" in place[length:]:
            yield from _of_needs(value)


def _of_list(entries: tuple[Any, ...]) -> Iterator[str]:
    told: set[Hashable] = set()
    for each in entries:
        if isinstance(each, Walk) and len(set(each.between)) < len(each.between):
            yield "A walk is between two places that are not the same."
        key = _told_by(each)
        if key is not None and key in told:
            yield f"That {words_of_record(type(each)).title} is in the list already. Enter on it changes it."
        told.add(key)


def _told_by(record: Any) -> Hashable:
    """By what it is the same as another one of its list; None where two may be alike."""
    match record:
        case Walk():
            return frozenset(record.between)
        case Need():
            return record.need
        case Box():
            return record.grade
        case _:
            return None


def _of_length(holder: Struct, name: str, count: int) -> Iterator[str]:
    """A list that must have something in it, or just so many."""
    kind = next((each.kind for each in fields_of(type(holder)) if each.name == name), None)
    least, most = (kind.min_length, kind.max_length) if isinstance(kind, VarTupleType) else (None, None)
    if least is not None and least == most and count != least:
        title = words_of_record(type(holder)).title
        yield f"There are just {least} of them. Add another {title}, and take this one out."
    elif least is not None and count < least:
        yield "It is the only one, and one must be there. Say it otherwise, or add another one first."


def _of_needs(class_: SchoolClass) -> Iterator[str]:
    for each in class_.needs:
        if each.count > class_.headcount > 0:
            yield f"{class_.id} has {plural(class_.headcount, 'child')}: {each.count} cannot need it."
