"""How things stand between two days, and a day's whole record, as frozen records.

A day is an opening ``State``, the entries made on it in order, and a closing state once it was closed.
"""

# Without postponed annotations: msgspec would evaluate the text of each of them at every start.

from datetime import date, datetime
from typing import Literal

from msgspec import Struct

from checklists.daybook.entries import AnyEntry, StoreLevel

CarriedKind = Literal[
    "short",
    "not put right",
    "left in a room",
    "catch-up not handed out",
    "preparation",
    "count pending",
    "new child",
    "left the class",
    "work away",
    "packed",
]


class Piece(Struct, frozen=True, omit_defaults=True, forbid_unknown_fields=True):
    """Base of the records that make up a state."""


class Place(Piece, frozen=True):
    where: str
    since: date
    period: str = ""


class Unfinished(Piece, frozen=True):
    """So many children who were there are not done with a part."""

    lesson: str
    part: int
    count: int
    since: date
    numbers: tuple[int, ...] = ()
    """Those of them whose class-list numbers are known."""


class Progress(Piece, frozen=True):
    """The class's own place: which part of which lesson is next, and since when the one before is behind it."""

    lesson: str
    part: int
    taught_on: date | None = None
    """When the part before this one of the same lesson was taught: the start of any drying."""
    again: bool = False
    """The part was begun and is taught again from the middle."""
    lessons_done: tuple[str, ...] = ()
    done_ahead: tuple[int, ...] = ()
    """Later parts of the lesson that were taught before ``part``, out of order: they are passed over."""
    ahead_on: tuple[date, ...] = ()
    """When each of ``done_ahead`` was taught."""
    after: int = 0
    """The part that was taught on ``taught_on``, where it is not the one before ``part``, which was done ahead."""


class Unsure(Piece, frozen=True):
    """A visit whose outcome nobody has told yet."""

    date: date
    visit: str
    lesson: str
    part: int
    chosen: bool = False
    """She had chosen another part for it than the class's next one."""


class Owed(Piece, frozen=True):
    """Who missed a part: class-list numbers, a count without numbers, or nobody knows (then a reserve is packed)."""

    lesson: str
    part: int
    since: date
    numbers: tuple[int, ...] = ()
    count: int = 0
    unknown: bool = False
    new: bool = False
    """They were not absent: they have joined the class since."""
    broken: bool = False
    """They were there, but their pieces broke: to be made again where the same medium is out."""
    short: bool = False
    """She has chosen the short version for them."""


class Carried(Piece, frozen=True):
    """Something unfinished at the end of a day that comes back.

    Without ``for_class`` it stands on the next school day's list; with it, on that class's next visit. ``not_before``
    is a date she moved it to.
    """

    key: str
    kind: CarriedKind
    what: str
    since: date
    container: str = ""
    supply: str = ""
    count: int = 0
    for_class: str = ""
    not_before: date | None = None
    packed: dict[str, int] = {}
    """Of a day that was lost: "container/supply" -> how many were packed for it."""
    keep_for: date | None = None
    """When what was packed is needed, if it is kept."""


class Away(Piece, frozen=True):
    """Pieces of a class that are not in its folder. ``lesson`` is the one they belong to and are needed for again."""

    count: int
    since: date
    until: date | None = None
    lesson: str = ""


class Case(Piece, frozen=True):
    """A counted thing that did not come back. Stays on top of every day until it is closed."""

    key: str
    supply: str
    count: int
    date: date
    room: str
    period: str
    school_class: str
    out: int
    back: int
    reported_to: str = ""
    reported_when: str = ""


class Loan(Piece, frozen=True):
    """So many of a supply that somebody has borrowed: with whom, in which room, since when."""

    key: str
    supply: str
    count: int
    since: date
    time: str
    """Of the day, "8:40"."""
    to: str = ""
    place: str = ""
    container: str = ""
    """What they were taken from; empty: the shelf."""


class TestedDays(Piece, frozen=True):
    """Grades that are not visited in some periods (none named: all day) of the school days in between, as announced."""

    grades: tuple[str, ...]
    first: date
    last: date
    periods: tuple[str, ...] = ()
    walk_more: int = 0


class Order(Piece, frozen=True):
    """Packs of a supply that were ordered and have not all come."""

    supply: str
    packs: int
    """As ordered."""
    due: int
    """Those that are still to come."""
    since: date
    expected: date | None = None
    claim_by: date | None = None
    """Where a delivery came short, or something else came: until when to tell the supplier."""
    came_instead: str = ""
    """Supply that came in its place."""


class State(Piece, frozen=True):
    """How things stand overnight: one day's closing and the next day's opening."""

    contents: dict[str, dict[str, int]] = {}
    """Container -> supply -> how many are in it."""
    places: dict[str, Place] = {}
    """Containers that are not at the store."""
    at_store: dict[str, date] = {}
    """Container -> when she last said that it is at the store."""
    progress: dict[str, Progress] = {}
    unsure: dict[str, tuple[Unsure, ...]] = {}
    """Class -> visits of it whose outcome is unknown, oldest first."""
    owed: dict[str, tuple[Owed, ...]] = {}
    unfinished: dict[str, tuple[Unfinished, ...]] = {}
    work_away: dict[str, Away] = {}
    """Class -> pieces of it that are not in its folder."""
    on_hand: dict[str, int] = {}
    """Supply -> all she has of it, wherever it is. An estimate once anything was used since ``counted``."""
    counted: dict[str, date] = {}
    levels: dict[str, StoreLevel] = {}
    orders: tuple[Order, ...] = ()
    """What is still due, the oldest order first."""
    carried: tuple[Carried, ...] = ()
    cases: tuple[Case, ...] = ()
    prepared: tuple[str, ...] = ()
    """Keys of preparations that are done for visits still to come."""
    cautioned: tuple[str, ...] = ()
    """Keys of cautions that were shown for a class and its lesson."""
    lost_days: tuple[date, ...] = ()
    announced: dict[str, str] = {}
    """ISO date -> the cycle day that was announced for it."""
    lent: tuple[Loan, ...] = ()
    """What is lent, the oldest first."""
    testing: tuple[TestedDays, ...] = ()
    """Times of testing announced so far that are not over."""
    came_short: dict[str, int] = {}
    """Supply -> on how many days of the year it came up short."""
    standing_seen: dict[str, date] = {}
    """Container -> when its standing set was last looked through."""


class Folded(Piece, frozen=True):
    """How much of the day's journal its file holds already: so many bytes, and the CRC-32 of them."""

    bytes: int
    checksum: int


class Timetable(Piece, frozen=True):
    """Who came when on a day, as it was planned then: a timetable may be changed in the middle of a year."""

    day: str
    """Timetable day: "Mon", or the letter of the cycle."""
    periods: dict[str, str] = {}
    """Period -> class."""


class DayRecord(Struct, frozen=True, omit_defaults=True, forbid_unknown_fields=True):
    """One day's file. ``timetable``, ``opening`` and ``closing`` are there once the day was closed."""

    format: Literal[1]
    date: date
    entries: tuple[AnyEntry, ...] = ()
    closed_at: datetime | None = None
    timetable: Timetable | None = None
    opening: State | None = None
    closing: State | None = None
    folded: Folded | None = None
    """Bookkeeping of ``checklists.files.daybook_folder``; None in every record it gives out."""
