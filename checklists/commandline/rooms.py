"""The command about rooms: what is known of each and what is not, and what is so from now on."""

from __future__ import annotations

from msgspec import structs

from checklists.book import Book
from checklists.commandline.finding import find_place
from checklists.commandline.opening import day_to_pack, moment_on, open_book
from checklists.commandline.output import say, say_json
from checklists.commandline.request import NotUnderstood, Request
from checklists.pages.plain import wrap
from checklists.pages.rooms import room_fields, rooms_page, say_fact
from checklists.pages.what_follows import what_follows
from checklists.plan.class_notes import CannotNote
from checklists.plan.records import Room
from checklists.plan.room_notes import ROOM_FACTS, RoomFact, say_of_room, tell_of_room
from checklists.walks import STORE
from checklists.words import plural, say_date


def show_or_say_rooms(request: Request) -> int:
    """Every room, or one; with anything said of it, that is so from now on and what follows is told."""
    said = _said(request)
    if said and not request.words:
        raise NotUnderstood("Say which room that is about: trundle rooms 12 --sink yes.")
    with open_book(request, write=bool(said)) as book:
        room = _find_room(" ".join(request.words), book) if request.words else ""
        if said:
            return _change(request, book, room, said)
        rooms = [room] if room else list(book.plan.rooms)
        day = day_to_pack(request, book)
        asked = book.facts_asked(day)
        if request.json:
            shown = [room_fields(book.plan, each, asked) for each in rooms]
            say_json({"format": 1, "page": "rooms", "date": day.isoformat(), "rooms": shown})
        else:
            say(rooms_page(book.plan, rooms, day, asked))
    return 0


def _said(request: Request) -> dict[RoomFact, bool | int | None]:
    """Fact -> what it is from now on; None: nobody knows any more."""
    typed: dict[RoomFact, str] = {
        "sink": request.sink,
        "carpet": request.carpet,
        "projector": request.projector,
        "drying_places": request.drying,
    }
    return {fact: _value(fact, word) for fact, word in typed.items() if word}


def _value(fact: RoomFact, word: str) -> bool | int | None:
    if word == "unknown":
        return None
    return int(word) if fact == "drying_places" else word == "yes"


def _find_room(word: str, book: Book) -> str:
    place = find_place(word, book.plan)
    if place == STORE:
        raise NotUnderstood("The store is no room that a class is taught in. Write a room's number.")
    return place


def _change(request: Request, book: Book, room: str, said: dict[RoomFact, bool | int | None]) -> int:
    day = day_to_pack(request, book)
    before, marks, files = book.day(day), book.marks(day), book.plan_files
    was = book.plan.room_by_id.get(room, Room(room))
    school = files.school
    try:
        for fact, value in said.items():
            school = say_of_room(school, room, fact, value)
    except CannotNote as problem:
        raise NotUnderstood(str(problem)) from None
    told = [tell_of_room(room, fact, said[fact]) for fact in ROOM_FACTS if fact in said]
    if school != files.school:
        book.change_files(structs.replace(files, school=school), "; ".join(told), moment_on(request, day))
    follows = what_follows(book.plan, before, book.day(day), marks)
    if request.json:
        shown = room_fields(book.plan, room, book.facts_asked(day))
        say_json({"format": 1, "page": "rooms", "date": day.isoformat(), "rooms": [shown], "follows": list(follows)})
        return 0
    words = "; ".join(told)
    rows = wrap(f"{words[:1].upper()}{words[1:]}, from now on.")
    rows += [row for each in follows for row in wrap(each, first="  ", indent=4)]
    if not follows:
        rows += wrap(f"The list of {say_date(day)} stays as it is.", indent=2)
    still = book.facts_asked(day)
    if still:
        rows.append(f"{plural(len(still), 'question')} more of this day: trundle rooms")
    changed = {fact: getattr(was, fact) for fact in ROOM_FACTS if fact in said}
    rows += wrap(f"As before again: trundle rooms {_word(room)} {' '.join(say_fact(f, v) for f, v in changed.items())}")
    say("\n".join(rows) + "\n")
    return 0


def _word(room: str) -> str:
    return f'"{room}"' if " " in room else room
