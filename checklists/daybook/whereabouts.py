"""Where is it? The last known place and time of every container, class folder, lent tool and missing thing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime
from typing import Literal

from msgspec import Struct

from checklists.daybook.cases import cases_now
from checklists.daybook.children import as_told
from checklists.daybook.entries import Stands
from checklists.daybook.lending import loans_now
from checklists.daybook.line_states import state_of
from checklists.daybook.marks import Marks
from checklists.daybook.matters import Choice
from checklists.daybook.said_of_cases import say_borrower, say_reported
from checklists.daybook.state import Away, State
from checklists.lines.containers import CART, FOLDER_SUPPLY, box_of, folder_of, name_of
from checklists.lines.records import Day
from checklists.plan.records import Plan
from checklists.walks import STORE
from checklists.words import join_words, plural, say_date, say_room

Kind = Literal["cart", "box", "kit", "folder", "lent", "missing"]
NOT_SAID = "nobody has said"


class Whereabouts(Struct, frozen=True):
    """One thing and where it was last known to be."""

    key: str
    """Id of a container, or key of a loan or a case."""
    kind: Kind
    name: str
    place: str
    """ "store", a room, or empty where neither is known."""
    where: str
    """In words: "Room 11", "the store, shelf B2", "Ms Reyes, Room 9"."""
    since: str
    """In words: "Mon 5 Oct P5", "today 9:35"; that nobody has said."""

    @property
    def is_elsewhere(self) -> bool:
        """Whether it is not where it lives."""
        return self.place != STORE

    @property
    def words(self) -> str:
        """ "Printing kit: Room 11, since Mon 5 Oct P5"."""
        since = f", since {self.since}" if self.since != NOT_SAID else ""
        return f"{self.name}: {self.where}{since}"


def whereabouts(plan: Plan, day: Day, marks: Marks, opening: State) -> tuple[Whereabouts, ...]:
    """Everything with a place: what is missing and lent first, then what is not at the store, then the rest."""
    opening = as_told(plan, day.date, marks, opening)
    found = (
        *_missing(plan, day, marks),
        *_lent(plan, day, marks),
        *_containers(plan, day, marks, opening),
        *_folders(plan, day, marks, opening),
    )
    return tuple(sorted(found, key=lambda each: not each.is_elsewhere))


def matching(things: Iterable[Whereabouts], words: str) -> tuple[Whereabouts, ...]:
    """Those that every word fits: the beginning of a word of the thing, or of where it is."""
    typed = words.casefold().split()
    return tuple(each for each in things if _fits(typed, f"{each.name} {each.where} {each.kind}".casefold()))


def _fits(typed: list[str], text: str) -> bool:
    words = text.replace(",", " ").replace("-", " ").split()
    whole = (*words, *text.split())
    return all(any(word.startswith(sign) for word in whole) for sign in typed)


# ------------------------------------------------------------------------------------------------------ containers


def _containers(plan: Plan, day: Day, marks: Marks, opening: State) -> Iterator[Whereabouts]:
    boxes = [*(box_of(each.grade) for each in plan.boxes), *(box_of(each.grade) for each in plan.classes)]
    shelves = {box_of(each.grade): each.shelf for each in plan.boxes} | {kit.id: kit.shelf for kit in plan.kits}
    kinds: dict[str, Kind] = {CART: "cart"}
    for box in boxes:
        kinds[box] = "box"
    for kit in plan.kits:
        kinds[kit.id] = "kit"
    for container, kind in kinds.items():
        place, since = _place(container, day, marks, opening)
        where = _say_place(place, shelves.get(container, ""))
        yield Whereabouts(container, kind, name_of(plan, container), place, where, since)


def _place(container: str, day: Day, marks: Marks, opening: State) -> tuple[str, str]:
    """Where a container was last said to be, and since when, in words."""
    said = marks.places.get(container)
    if said is not None:
        return said.place, _say_moment(said, day.date)
    place = opening.places.get(container)
    if place is not None:
        return place.where, f"{say_date(place.since)} {place.period}".strip()
    back = opening.at_store.get(container)
    return STORE, say_date(back) if back is not None else NOT_SAID


def _say_moment(said: Stands, today: date) -> str:
    """ "today 9:35"; told on a later day, the day it is told of, with the period where that was said."""
    if said.at.date() == today:
        return f"today {said.at.hour}:{said.at.minute:02d}"
    return f"{say_date(today)} {said.period}".strip()


def _say_place(place: str, shelf: str) -> str:
    if place != STORE:
        return say_room(place)
    return f"the store, shelf {shelf}" if shelf else "the store"


# -------------------------------------------------------------------------------------------- class folders, work


def _folders(plan: Plan, day: Day, marks: Marks, opening: State) -> Iterator[Whereabouts]:
    """A class's folder: in the container it was packed into today, else where it was said to be, else at the store."""
    known = plan.supply_by_id.get(FOLDER_SUPPLY)
    shelf = known.shelf if known is not None else ""
    for class_ in plan.classes:
        folder = folder_of(class_.id)
        place, since = _place(folder, day, marks, opening)
        where = _say_place(place, shelf)
        line = next((line for line in day.lines if line.supply == folder), None)
        mark = marks.lines.get(line.key) if line is not None else None
        is_packed = line is not None and mark is not None and state_of(line, marks) == "packed"
        if line is not None and mark is not None and is_packed and folder not in marks.places:
            place, _ = _place(line.container, day, marks, opening)
            in_it = "on the cart" if line.container == CART else f"in {name_of(plan, line.container)}"
            where = in_it if place == STORE else f"{in_it}, {say_room(place)}"
            since = f"today {mark.at.hour}:{mark.at.minute:02d}" if mark.at.date() == day.date else say_date(day.date)
        where += _on_walls(opening.work_away.get(class_.id))
        yield Whereabouts(folder, "folder", f"Class folder {class_.id}", place, where, since)


def _on_walls(away: Away | None) -> str:
    """ "; 12 pieces on a wall since Mon 5 Oct, until Fri 30 Oct"."""
    if away is None:
        return ""
    until = f", until {say_date(away.until)}" if away.until is not None else ""
    return f"; {plural(away.count, 'piece')} on a wall since {say_date(away.since)}{until}"


# ----------------------------------------------------------------------------------------------- lent and missing


def _lent(plan: Plan, day: Day, marks: Marks) -> Iterator[Whereabouts]:
    for loan in loans_now(day, marks):
        name = f"{loan.count} {plan.name_of_supply(loan.supply)}, lent"
        since = f"{'today' if loan.since == day.date else say_date(loan.since)} {loan.time}"
        yield Whereabouts(loan.key, "lent", name, loan.place, say_borrower(loan), since)


def _missing(plan: Plan, day: Day, marks: Marks) -> Iterator[Whereabouts]:
    for case in cases_now(plan, day, marks):
        name = f"{case.count} {plan.name_of_supply(case.supply)}, missing"
        told = say_reported(case.reported_to, case.reported_when)
        where = f"last in {say_room(case.room)}, {told}" if case.room else told
        since = f"{say_date(case.date)} {case.period}"
        yield Whereabouts(f"case/{case.key}", "missing", name, case.room, where, since)


def place_offers(plan: Plan, container: str, typed: str, at: datetime) -> tuple[Choice, ...]:
    """The store and every room whose name begins as typed, with the classes that have it."""
    whose: dict[str, list[str]] = {room: [] for room in plan.rooms}
    for class_ in plan.classes:
        whose[class_.room].append(class_.id)
    sign = typed.strip().casefold().removeprefix("room ").strip()
    found = [("the store", STORE)] if "the store".startswith(sign) or STORE.startswith(sign) else []
    for room, classes in whose.items():
        if room.casefold().startswith(sign):
            of = f", {join_words(classes)}" if classes else ""
            found.append((f"{say_room(room)}{of}", room))
    return tuple(Choice(name, (Stands(at=at, container=container, place=place),)) for name, place in found)
