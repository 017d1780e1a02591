"""A class as it is typed: `3-B`, `3-B 12`, `3-B 12 24`; a room with how many children; how many alone."""

from __future__ import annotations

import re

from msgspec import Struct

from checklists.first_start.question import NotTaken
from checklists.walks import STORE

_CLASS = re.compile(r"(PK|K|[1-8])[-.]?((?:(?<=[-.])|(?![0-9]))[\w'.\-]*)", re.IGNORECASE)
_NUMBER = re.compile(r"(~|about)? ?(\d{1,4})", re.IGNORECASE)
_IDLE_WORDS = re.compile(r"\b(?:room|rm|children|kids|students)\b\.?", re.IGNORECASE)
LONGEST_NAME = 20
LONGEST_ROOM = 24
"""A room can be called like its class, grade and all."""
MOST_CHILDREN = 99
_TAKEN_ROOMS = (STORE, "everywhere")

Students = int | str
"""A number as it is, or "about 24"."""


class ClassTyped(Struct, frozen=True):
    """What was said of a class so far; "" and None: not said."""

    grade: str
    id: str
    room: str = ""
    students: Students | None = None


class RoomTyped(Struct, frozen=True):
    """A room, and how many children there are."""

    room: str
    students: Students | None = None


def read_students(text: str) -> Students:
    """ "24" is 24; "~24" and "about 24" are about so many. Raises NotTaken."""
    found = _NUMBER.fullmatch(text.strip())
    if found is None or not 1 <= int(found[2]) <= MOST_CHILDREN:
        raise NotTaken(f"How many children: 1 to {MOST_CHILDREN}; ~24 is about 24.")
    return f"about {int(found[2])}" if found[1] else int(found[2])


def read_class(text: str) -> ClassTyped:
    """A class, with room and number where they were typed behind it. Raises NotTaken."""
    words = _IDLE_WORDS.sub(" ", text.replace(",", " ")).split()
    if not words:
        raise NotTaken("The grade and the class: 3-B, K-M.")
    if len(words) > 1 and re.fullmatch(r"PK|K|[1-8]", words[0], re.IGNORECASE) and words[1].isalpha():
        words[:2] = [f"{words[0]}-{words[1]}"]  # "3 B"
    found = _CLASS.fullmatch(words[0])
    if found is None:
        raise NotTaken("First the grade, PK, K or 1 to 8, then the class in letters or digits: 3-B, K-M.")
    grade, name = found[1].upper(), found[2].strip("-.'")
    if len(name) > LONGEST_NAME:
        raise NotTaken(f"A class has a short name here, at most {LONGEST_NAME} letters: 3-B.")
    ident = f"{grade}-{name.upper() if len(name) == 1 else name}" if name else grade
    rest = " ".join(words[1:])
    said = read_room(rest) if rest else RoomTyped("")
    return ClassTyped(grade, ident, said.room, said.students)


def read_room(text: str) -> RoomTyped:
    """A room, and behind it how many children: "12", "12 24", "12 ~24", "the library 24". Raises NotTaken."""
    text = " ".join(_IDLE_WORDS.sub(" ", text.replace(",", " ")).split())
    students: Students | None = None
    found = re.fullmatch(r"(.+?)\s+((?:~|about\s*)?\s?\d{1,4})", text, re.IGNORECASE)
    if found is not None:
        text, students = found[1], read_students(found[2])
    room = text.removeprefix("the ").strip()
    if not room or "/" in room or len(room) > LONGEST_ROOM:
        raise NotTaken(f"The room's number or name, at most {LONGEST_ROOM} letters and no /: 12, library.")
    if room.casefold() in _TAKEN_ROOMS:
        raise NotTaken(f'"{room}" has a meaning of its own here. Call the room something else: {room} room.')
    return RoomTyped(room, students)


def say_class(said: ClassTyped) -> str:
    """ "3-B, room 12, about 24 children"."""
    room = f", room {said.room}" if said.room else ""
    return f"{said.id}{room}{f', {said.students} children' if said.students is not None else ''}"


def say_room_and_students(said: RoomTyped) -> str:
    return f"room {said.room}{f', {said.students} children' if said.students is not None else ''}"
