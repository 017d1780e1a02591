"""Walks with the cart: minutes between two places, of which the store is one, as far as they are said and where not.

A pair that nobody has said is assumed by wing and floor, else by way of the store, and never longer than that. The
minutes assumed are common practice, no source; all are habits of hers to change. A day can make its walks longer, or
send her by the stairs.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from msgspec import Struct

from checklists.plan.records import Plan
from checklists.words import say_room

STORE = "store"
MOST_MINUTES_MORE = 30


class SaidOfWalks(Protocol):
    """What was said of a day's walks: a change of the day, or the day itself."""

    @property
    def longer_ways(self) -> Mapping[str, int] | None: ...
    @property
    def elevator_out(self) -> bool | None: ...


class DayWalks(Struct, frozen=True):
    """The walks of one day. Without anything said of it they are those of a usual day."""

    plan: Plan
    longer_ways: Mapping[str, int] = {}
    """Room, or wing -> minutes more on each walk to or from it."""
    elevator_out: bool = False

    def minutes(self, start: str, end: str) -> int:
        """Minutes from one place to another, either way round.

        With the elevator out nobody gets from floor to floor but by the stairs at the store.
        """
        if start == end:
            return 0
        if STORE in (start, end):
            return self._from_store(end if start == STORE else start)
        by_store = self._from_store(start) + self._from_store(end)
        if self._takes_stairs(start) != self._takes_stairs(end):
            return by_store
        more = self._more(start, end)
        known = self.plan.walk_minutes.get(frozenset((start, end)))
        if known is not None:
            return known + more
        near = _assumed_near(self.plan, start, end)
        return by_store if near is None else min(near + more, by_store)

    def by_stairs(self, room: str) -> int:
        """One way from the store to a room upstairs with what is carried."""
        return self.plan.school.habits.stairs_minutes + self._more(STORE, room)

    def _from_store(self, room: str) -> int:
        if self._takes_stairs(room):
            return self.by_stairs(room)
        known = self.plan.walk_minutes.get(frozenset((STORE, room)))
        return (_assumed_from_store(self.plan, room) if known is None else known) + self._more(STORE, room)

    def _takes_stairs(self, room: str) -> bool:
        """Of another building's elevator nothing is said."""
        return self.elevator_out and is_upstairs(self.plan, room) and room not in self.plan.building_of_room

    def _more(self, start: str, end: str) -> int:
        """What is longer on the way: within a wing that is closed off, nothing."""
        return sum(
            minutes
            for place, minutes in self.longer_ways.items()
            if _is_in(self.plan, start, place) != _is_in(self.plan, end, place)
        )


def walks_of(plan: Plan, said: SaidOfWalks | None) -> DayWalks:
    """The walks of a day, by what it was changed to or by its list."""
    if said is None:
        return DayWalks(plan)
    return DayWalks(plan, said.longer_ways or {}, bool(said.elevator_out))


def walk_between(plan: Plan, start: str, end: str) -> int:
    """Minutes with the cart from one place to another on a usual day, either way round."""
    return DayWalks(plan).minutes(start, end)


def _assumed_from_store(plan: Plan, room: str) -> int:
    habits, building = plan.school.habits, plan.building_of_room.get(room)
    if building is not None:
        return habits.default_walk + building.drive_minutes + building.unload_minutes
    return habits.default_walk + (habits.elevator_minutes if is_upstairs(plan, room) else 0)


def _assumed_near(plan: Plan, start: str, end: str) -> int | None:
    """Where one gets from room to room without the store: in another building, or along the wing they both say."""
    there, here = plan.building_of_room.get(start), plan.building_of_room.get(end)
    if there is not None or here is not None:
        return plan.school.habits.default_walk if there is here else None
    same_wing = wing_of(plan, start) == wing_of(plan, end) != ""
    same_floor = is_upstairs(plan, start) == is_upstairs(plan, end)
    return plan.school.habits.neighbour_minutes if same_wing and same_floor else None


def is_said(plan: Plan, start: str, end: str) -> bool:
    """Whether somebody has said how long the walk is."""
    return frozenset((start, end)) in plan.walk_minutes


def may_be_asked(plan: Plan, start: str, end: str) -> bool:
    """Not of a drive: its minutes are said with the building."""
    return plan.building_of_room.get(start) is plan.building_of_room.get(end)


def why_assumed(plan: Plan, start: str, end: str) -> str:
    """Where the minutes of a walk come from that nobody has said: "rooms of one wing"."""
    if not may_be_asked(plan, start, end):
        return "with the drive"
    if STORE in (start, end):
        return (
            "a usual walk and the elevator" if any(is_upstairs(plan, each) for each in (start, end)) else "a usual walk"
        )
    near = _assumed_near(plan, start, end)
    if near is None or near > walk_between(plan, start, STORE) + walk_between(plan, STORE, end):
        return "as by the store"
    return "rooms of one building" if start in plan.building_of_room else "rooms of one wing"


def is_upstairs(plan: Plan, room: str) -> bool:
    known = plan.room_by_id.get(room)
    return known is not None and known.upstairs


def wing_of(plan: Plan, room: str) -> str:
    """The wing a room says, in small letters, so that "B" and "b" are one; "" where it says none."""
    known = plan.room_by_id.get(room)
    return _folded(known.wing) if known is not None else ""


def _folded(wing: str) -> str:
    return " ".join(wing.split()).casefold()


def _is_in(plan: Plan, room: str, place: str) -> bool:
    """Whether a room is the place, or in it where the place is a wing."""
    return room == place or (place not in plan.room_by_id and wing_of(plan, room) == _folded(place) != "")


# ------------------------------------------------------------------------------------------------- naming places


def wings_of(plan: Plan) -> tuple[str, ...]:
    """Every wing that a room says, as it is written first."""
    wings: dict[str, str] = {}
    for room in plan.school.rooms:
        if room.wing.strip():
            wings.setdefault(_folded(room.wing), " ".join(room.wing.split()))
    return tuple(wings.values())


def way_named(plan: Plan, word: str) -> str | None:
    """The room or the wing that is meant: "12", "room 12", "b", "hall B"; None where there is no such one."""
    said = _folded(word)
    names = {_folded(each): each for each in (*reversed(wings_of(plan)), *plan.rooms)}
    for begins in ("", "room ", "rm ", "hall ", "wing ", "the "):
        if said.startswith(begins) and said.removeprefix(begins) in names:
            return names[said.removeprefix(begins)]
    return None


def say_place(place: str) -> str:
    """ "the store", "Room 12"."""
    return "the store" if place == STORE else say_room(place)


def say_way(plan: Plan, place: str) -> str:
    """ "Room 12", "wing B"; what is called a hall or a wing already, as it is called."""
    if place in plan.rooms:
        return say_room(place)
    return place if " " in place else f"wing {place}"
