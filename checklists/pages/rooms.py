"""Rooms in words: what is known of each, what is not, and what the day's list turns on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from checklists.asking import Asked
from checklists.pages.fields import Fields
from checklists.pages.plain import wrap
from checklists.plan.records import Plan, Room
from checklists.plan.room_notes import ROOM_FACTS, RoomFact
from checklists.words import join_words, say_date, say_room

OPTION: dict[RoomFact, str] = {
    "sink": "--sink",
    "carpet": "--carpet",
    "projector": "--projector",
    "drying_places": "--drying",
}


def rooms_page(plan: Plan, rooms: Sequence[str], day: date, asked: Sequence[Asked]) -> str:
    """A row or two for each room; then what is asked on a day, and how it is said."""
    rows = [row for room in rooms for row in wrap(_say_known(plan, room), first="", indent=4)]
    here = [each for each in asked if each.room in rooms]
    if here:
        rows += ["", f"The list of {say_date(day)} turns on this:"]
        rows += [row for each in here for row in wrap(each.text, first=" ?  ", indent=4)]
        first = here[0]
        rows.append(f"Say it like this: {_how_to_say(first, 30 if first.fact == 'drying_places' else True)}")
    return "\n".join(rows) + "\n"


def how_to_answer(asked: Asked) -> str:
    """What to type for the answer that is given most."""
    if asked.class_id:
        return f"trundle class {asked.class_id} --size {asked.students}"
    return _how_to_say(asked, 30 if asked.fact == "drying_places" else asked.fact != "carpet")


def _how_to_say(asked: Asked, value: bool | int) -> str:
    name = f'"{asked.room}"' if " " in asked.room else asked.room
    return f"trundle rooms {name} {say_fact(asked.fact, value)}"


def say_fact(fact: RoomFact, value: bool | int | None) -> str:
    """As it is typed: "--sink yes", "--drying 30", "--carpet unknown"."""
    word = "unknown" if value is None else str(value) if fact == "drying_places" else "yes" if value else "no"
    return f"{OPTION[fact]} {word}"


def room_fields(plan: Plan, room: str, asked: Sequence[Asked]) -> Fields:
    """``room sink carpet projector drying_places asked``: null where nobody has said; ``asked`` are the facts that the
    day's list turns on."""
    known = plan.room_by_id.get(room, Room(room))
    facts: Fields = {fact: getattr(known, fact) for fact in ROOM_FACTS}
    return {"room": room, **facts, "asked": [each.fact for each in asked if each.room == room]}


def _say_known(plan: Plan, room: str) -> str:
    known = plan.room_by_id.get(room, Room(room))
    said: list[str] = []
    if known.sink is not None:
        said.append("a sink" if known.sink else "no sink")
    if known.carpet is not None:
        said.append("a carpet" if known.carpet else "a hard floor")
    if known.projector is not None:
        said.append("a projector" if known.projector else "no projector")
    if known.drying_places is not None:
        said.append(f"{known.drying_places} drying places")
    unknown = [fact.replace("_", " ") for fact in ROOM_FACTS if getattr(known, fact) is None]
    told = f"{join_words(said)}." if said else "nothing is known."
    more = f" Not known: {join_words(unknown)}." if said and unknown else ""
    name = say_room(room)
    return f"{name[:1].upper()}{name[1:]}: {told}{more}"
