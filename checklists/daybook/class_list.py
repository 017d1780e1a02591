"""The class list: which numbers are on it, and what it becomes when a child joins or leaves, or more came than planned.

Numbers never shift. A new child has the next one after the highest, that of a child who left is not given again.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime

from msgspec import structs

from checklists.daybook.entries import AnyEntry, Joined, Left, Sized
from checklists.plan import class_notes
from checklists.plan.class_notes import CannotNote, last_number
from checklists.plan.records import Classes, SchoolClass
from checklists.words import join_words, plural

MOST_GONE = 9
"""How many numbers a list may hold beyond its headcount where nobody has said who left. Common practice, no source."""


def say_not_on_list(class_: SchoolClass, numbers: Iterable[int], *, to_the_last: bool = False) -> str:
    """What is wrong with class-list numbers that were typed; empty where each is a child of the class.

    Once somebody was said to have left, or with ``to_the_last``, the list ends with its last number. Before, children
    may have left of whom nobody has told, so that a class of 24 may well have a number 30.
    """
    last = last_number(class_)
    is_known = (to_the_last or bool(class_.left)) and not class_.is_about
    for number in numbers:
        if number in class_.left:
            return f"No. {number} has left {class_.id}; the others keep their numbers."
        if is_known and not 1 <= number <= last:
            return (
                f"There is no number {number} on the list of {class_.id}: it goes to {last}."
                f" If a child is new, say trundle joined {class_.id} first."
            )
        if not 1 <= number <= last + MOST_GONE:
            about = "about " if class_.is_about else ""
            return f"There is no number {number} on the list of a class of {about}{class_.headcount}."
    return ""


def joining(class_: SchoolClass, at: datetime) -> Joined:
    """The entry for a new child, with the next number. Raises CannotNote where the list has no more."""
    number = last_number(class_) + 1
    if number > class_notes.MOST_STUDENTS:
        raise CannotNote(f"The list of {class_.id} is full: {class_notes.MOST_STUDENTS} numbers.")
    return Joined(at=at, class_id=class_.id, number=number)


def leaving(class_: SchoolClass, number: int, need: str, at: datetime) -> Left:
    """The entry for a child who left; ``need`` is a need of the class that goes with it, or empty.

    Raises CannotNote for a number that is not on the list, and for a need that the class has not.
    """
    wrong = say_not_on_list(class_, [number], to_the_last=True)
    if wrong:
        raise CannotNote(wrong)
    if not need:
        return Left(at=at, class_id=class_.id, number=number)
    word = need.casefold().replace(" ", "-")
    known = next((each for each in class_.needs if each.need.casefold() == word), None)
    if known is None:
        there = join_words(each.need for each in class_.needs)
        raise CannotNote(f"{class_.id} has no need called {need}." + (f" It has {there}." if there else ""))
    return Left(at=at, class_id=class_.id, number=number, need=known.need, tables=known.tables)


def list_after(classes: Classes, entries: Iterable[AnyEntry]) -> Classes:
    """The file of classes once these were said. What it holds already is not done twice."""
    for entry in entries:
        class_ = _class_of(classes, entry)
        if class_ is None:
            continue
        if isinstance(entry, Joined) and last_number(class_) < entry.number:
            classes = class_notes.size(classes, class_.id, _sized(class_, class_.headcount + 1))
        elif isinstance(entry, Sized) and class_.headcount == entry.before:
            classes = class_notes.size(classes, class_.id, entry.students)
        elif isinstance(entry, Left) and entry.number not in class_.left:
            with suppress(CannotNote):  # a list that has become shorter since has no such number to take off
                classes = _without_child(classes, class_, entry)
    return classes


def _without_child(classes: Classes, class_: SchoolClass, entry: Left) -> Classes:
    known = next((each for each in class_.needs if each.need == entry.need), None)
    if known is not None:
        classes = class_notes.need(classes, class_.id, entry.need, known.count - 1)
    return class_notes.leave(classes, class_.id, entry.number)


def list_before(classes: Classes, entries: Iterable[AnyEntry]) -> Classes:
    """The file of classes with these taken back; what somebody has changed since stays."""
    for entry in entries:
        class_ = _class_of(classes, entry)
        if class_ is None:
            continue
        if isinstance(entry, Joined) and last_number(class_) == entry.number and entry.number not in class_.left:
            classes = class_notes.size(classes, class_.id, _sized(class_, class_.headcount - 1))
        elif isinstance(entry, Sized) and class_.headcount == entry.students:
            before = f"about {entry.before}" if entry.about_before else entry.before
            classes = class_notes.size(classes, class_.id, before)
        elif isinstance(entry, Left) and entry.number in class_.left:
            classes = class_notes.come_back(classes, class_.id, entry.number)
            if entry.need:
                classes = _with_need_again(classes, class_, entry)
    return classes


def _with_need_again(classes: Classes, class_: SchoolClass, entry: Left) -> Classes:
    before = next((each.count for each in class_.needs if each.need == entry.need), 0)
    classes = class_notes.need(classes, class_.id, entry.need, before + 1)
    now = next(each for each in classes.classes if each.id == class_.id)
    needs = tuple(
        structs.replace(each, tables=entry.tables) if each.need == entry.need and not before else each
        for each in now.needs
    )
    return class_notes.put_back(classes, structs.replace(now, needs=needs))


def _class_of(classes: Classes, entry: AnyEntry) -> SchoolClass | None:
    if not isinstance(entry, Joined | Left | Sized):
        return None
    return next((each for each in classes.classes if each.id == entry.class_id), None)


def _sized(class_: SchoolClass, headcount: int) -> int | str:
    return f"about {headcount}" if class_.is_about and headcount > 0 else max(0, headcount)


def say_size(class_: SchoolClass) -> str:
    """ "24 children" or "about 24 children"."""
    return f"{'about ' if class_.is_about else ''}{plural(class_.headcount, 'child')}"
