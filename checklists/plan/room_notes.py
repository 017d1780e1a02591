"""What she says of a room: from the school's file as it is to one with that fact. Nothing else in it changes."""

from __future__ import annotations

from typing import Literal

from msgspec import structs

from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Room, School
from checklists.words import plural, say_room

RoomFact = Literal["sink", "carpet", "projector", "drying_places"]
ROOM_FACTS: tuple[RoomFact, ...] = ("sink", "carpet", "projector", "drying_places")
MOST_PLACES = 500
"""As many drying places as a room can have in a plan file."""


def say_of_room(school: School, room: str, fact: RoomFact, value: bool | int | None) -> School:
    """The school with one fact of a room; an entry is made where it has none yet. None: nobody knows any more.

    Raises CannotNote for a number of drying places that cannot be.
    """
    if fact == "drying_places":
        if value is not None and not 0 <= value <= MOST_PLACES:
            raise CannotNote(f"{value} drying places are too many: 0 to {MOST_PLACES}.")
    elif value is not None:
        value = bool(value)
    if all(each.id != room for each in school.rooms):
        return structs.replace(school, rooms=(*school.rooms, structs.replace(Room(room), **{fact: value})))
    rooms = (structs.replace(each, **{fact: value}) if each.id == room else each for each in school.rooms)
    return structs.replace(school, rooms=tuple(rooms))


def ask_of_room(fact: RoomFact) -> str:
    """The question about one fact, as it goes on after the room's name."""
    return {
        "sink": "is there a sink?",
        "carpet": "is the floor carpeted?",
        "projector": "is there a projector?",
        "drying_places": "how many wet sheets can lie there to dry?",
    }[fact]


def tell_of_room(room: str, fact: RoomFact, value: bool | int | None) -> str:
    """ "Room 12 has a sink"; "the library: drying places not known"."""
    name = say_room(room)
    if value is None:
        return f"{name}: {fact.replace('_', ' ')} not known"
    if fact == "drying_places":
        return f"{name} has {plural(value, 'drying place')}" if value else f"{name} has no drying places"
    if fact == "carpet":
        return f"{name} has {'a carpet' if value else 'a hard floor'}"
    return f"{name} has {'a' if value else 'no'} {fact}"
