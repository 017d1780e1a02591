"""What is not at the store: the first thing to fetch, and what a line says whose container stands in a room."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from checklists.daybook.marks import FETCH, Marks
from checklists.lines.records import Container, Day, Line, Visit
from checklists.plan.records import Plan
from checklists.walks import STORE
from checklists.words import clock, join_words, minute_of_day, say_room

ADVICE = "Sharps are never left in a room unless they are locked away; your local rules decide."
"""Common practice, no source."""


class Fetch(Struct, frozen=True):
    """A container that stands in a room and is needed today."""

    container: str
    name: str
    place: str
    since: str
    visit: Visit | None
    """The first visit that needs it; None where only later days do."""
    minutes: int
    """There and back; 0 where that is not known, and of what is fetched from the same room on the same way."""
    sharps: tuple[str, ...]
    """Counted things that the list has in it."""
    waits: str = ""
    """The later stop at which there is time for it, "after V4, lunch"; "": it is fetched before she leaves."""

    @property
    def key(self) -> str:
        return f"{FETCH}{self.container}"

    @property
    def words(self) -> str:
        """ "FETCH Printing kit, Room 11, needed P2 (2-T, 8:45), +4 min", or "4 min, can wait until lunch"."""
        said = [f"FETCH {self.name}", say_room(self.place)]
        if self.visit is not None:
            said.append(f"needed {self.visit.period} ({self.visit.class_id}, {clock(self.visit.start)})")
        said += [f"{'' if self.waits else '+'}{self.minutes} min"] if self.minutes else []
        said += [f"can wait until {self.waits.partition(', ')[2] or self.waits}"] if self.waits else []
        return ", ".join(said)

    @property
    def detail(self) -> str:
        """ "since Mon 5 Oct P5; count in it: blunt needle"."""
        since = f"since {self.since}" if self.since else ""
        count = f"count in it: {join_words(self.sharps)}" if self.sharps else ""
        return "; ".join(each for each in (since, count) if each)


def to_fetch(day: Day, marks: Marks, waits: Mapping[str, str] | None = None) -> tuple[Fetch, ...]:
    """What is to be fetched, as needed first. ``waits``: container -> the later stop that is early enough for it.

    Not what she left ahead today in the room that needs it first, nor what she has said may stay where it is, or what
    she has said of its place since the last visit that needs it began.
    """
    found: list[Fetch] = []
    rooms: set[tuple[str, str]] = set()
    for container in day.containers:
        place = place_now(container, marks)
        if place == STORE or f"{FETCH}{container.id}" in marks.let_go:
            continue
        users = visits_since(container, day, marks)
        if container.visits and not users:
            continue
        visit = users[0] if users else None
        if container.id in marks.places and visit is not None and visit.room == place:
            continue
        wait = (waits or {}).get(container.id, "")
        minutes = day.fetch_minutes.get(place, 0) if (place, wait) not in rooms else 0
        rooms.add((place, wait))
        sharps = dict.fromkeys(line.name for line in day.lines if line.container == container.id and line.counted)
        since = "" if container.id in marks.places else container.place_since
        found.append(Fetch(container.id, container.name, place, since, visit, minutes, tuple(sharps), wait))
    return tuple(found)


def place_now(container: Container, marks: Marks) -> str:
    """Where a container is, as far as she has said."""
    said = marks.places.get(container.id)
    return said.place if said is not None else container.place


def visits_since(container: Container, day: Day, marks: Marks) -> tuple[Visit, ...]:
    """The visits that need a container and were still to begin when she said where it stands; else all of them."""
    said = marks.places.get(container.id)
    is_of_today = said is not None and said.at.date() == day.date
    minute = minute_of_day(said.at) if said is not None and is_of_today else -1
    return tuple(visit for visit in day.visits if visit.key in container.visits and visit.start > minute)


def say_elsewhere(line: Line, day: Day, marks: Marks) -> str:
    """ "Box 3 is in Room 12 until 9:35; V2 needs it at 8:45." of a line whose container is somewhere else then.

    Empty where the container is at the store, or stands in the very room that needs the line first.
    """
    container = next((each for each in day.containers if each.id == line.container), None)
    place = place_now(container, marks) if container is not None else STORE
    visit = next((each for each in day.visits if each.key in line.visits), None)
    if container is None or place == STORE or visit is None or visit.room == place:
        return ""
    there = next((each for each in day.visits if each.key in container.visits and each.room == place), None)
    until = f" until {clock(there.start)}" if there is not None and there.start > visit.start else ""
    return f"{container.name} is in {say_room(place)}{until}; {visit.name} needs it at {clock(visit.start)}."


def warn_of_sharps(plan: Plan, held: Iterable[str], name: str, place: str) -> str:
    """What to say when a container with these supplies stays in a room: a caution where one of them is sharp."""
    sharp = [each.name for each in map(plan.supply_by_id.get, held) if each is not None and each.sharp]
    if place == STORE or not sharp:
        return ""
    return f"{name} in {say_room(place)} holds {join_words(sharp)}. {ADVICE}"
