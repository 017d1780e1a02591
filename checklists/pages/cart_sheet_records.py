"""The cart sheet of a day as frozen records. Made by ``cart_sheet.cart_sheet_of``; texts in it are clean.

Nothing in it is private: no need, no reason, no class-list number.
"""

from __future__ import annotations

from datetime import date, datetime

from msgspec import Struct


class Along(Struct, frozen=True):
    """A container that rides for a visit; ``stands_in`` is a room where it is not at the store."""

    name: str
    sign: str
    stands_in: str
    stands_there: bool = False
    """It was left ahead in the visit's own room."""
    by_helper: bool = False
    """A helper carries it there."""


class FolderAlong(Struct, frozen=True):
    """A class's folder. ``number`` is that of its line; ``container`` is empty where it lies on the top tray."""

    class_id: str
    number: int
    container: str


class TableThing(Struct, frozen=True):
    """An adapted thing: how many, at which tables, as far as that is known. What is counted stands there as well."""

    number: int
    name: str
    count: int
    tables: tuple[int, ...]


class Trays(Struct, frozen=True):
    """How a tool is laid out by tables: "6 trays of 4, 2 spare"."""

    number: int
    name: str
    sets: str


class Counted(Struct, frozen=True):
    """What is counted out and back, with the numbers of its lines."""

    numbers: tuple[int, ...]
    supply: str
    name: str
    out: int


class Taught(Struct, frozen=True):
    """The part that is taught, or one of several it may be."""

    lesson: str
    part: int
    parts: int
    title: str


class VisitBlock(Struct, frozen=True):
    """What the sheet says of one visit. Times are minutes since midnight."""

    number: int
    key: str
    class_id: str
    room: str
    start: int
    end: int
    students: int
    about: bool
    tables: int
    guests: tuple[tuple[str, int], ...]
    """Classes whose children join, and how many of them are among ``students``."""
    taught: tuple[Taught, ...]
    own_part_waits: bool
    """Another lesson is taught than the class's own part, which is next all the same."""
    to_decide: str
    """What must be decided about it; empty: nothing."""
    packed_meanwhile: bool
    """It is packed as planned until she has decided; otherwise nothing is."""
    from_room: str
    """Where she comes from; empty: the store."""
    walk: int
    gap: int | None
    """Minutes since the visit before ended; None where she comes from the store."""
    late: int
    """Minutes after the bell at which she comes by the route; 0: in time."""
    along: tuple[Along, ...]
    folders: tuple[FolderAlong, ...]
    sink: bool | None
    projector: bool | None
    own: tuple[str, ...]
    """What the room or the children have."""
    at_tables: tuple[TableThing, ...]
    trays: tuple[Trays, ...]
    clean_up_from: int
    counted: tuple[Counted, ...]
    missed: tuple[str, ...]
    """What rides for those who missed a part or are not done, as numbers of children only."""


class Ahead(Struct, frozen=True):
    """Containers to take ahead to a room, and the minutes there and back."""

    names: tuple[str, ...]
    room: str
    minutes: int


class Stop(Struct, frozen=True):
    """A time at the store before a visit. ``on`` has the room in it where a container does not stand at the store."""

    before_visit: int
    breaks: tuple[str, ...]
    since: int | None
    leave_by: int
    off: tuple[str, ...]
    on: tuple[Along, ...]
    half_slots: int
    holds: int
    too_much: bool
    minutes: int = 0
    fetch: tuple[tuple[str, str, int], ...] = ()
    """Containers that stand in a room, by name, the room, and the minutes there and back: fetched first."""
    ahead: tuple[Ahead, ...] = ()
    by_hand: tuple[Along, ...] = ()
    """What is carried from here where no cart gets to."""
    mass_and_trips: str = ""
    """Of that; empty where the cart comes along."""
    back: tuple[str, ...] = ()
    """What was carried by hand to the visit before."""


class CartSheet(Struct, frozen=True):
    """The sheet of one day."""

    school: str
    date: date
    day_name: str
    is_cycle: bool
    bells: str
    leave_by: int | None
    ahead_by: int | None
    """When to set out with what is left ahead before; None where nothing is, or stands there already."""
    printed: datetime
    substitute: bool
    why_no_visits: str
    """Empty where there are some."""
    visits: tuple[VisitBlock, ...]
    stops: tuple[Stop, ...]
    behind: tuple[tuple[str, str], ...] = ()
    """What is to be fetched after school: container and room."""
