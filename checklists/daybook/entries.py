"""What she did and said on a day, as frozen records: the entries of the daybook.

What the entries amount to is computed (``checklists.daybook.marks``), never stored beside them.
"""

# Without postponed annotations: msgspec would evaluate the text of each of them at every start.

from datetime import date, datetime
from typing import Annotated, Literal

from msgspec import Meta, Struct

from checklists.plan.records import ClockTime, Grade, RidePin, RoomPin, StopPin

Count = Annotated[int, Meta(ge=0, le=1_000_000)]
ListNumber = Annotated[int, Meta(ge=1, le=400)]
Said = Annotated[str, Meta(max_length=400)]

Remedy = Literal["share", "use another", "make more", "fetch", "go without"]
"""What she does about a line that is short."""
Reason = Literal["not today", "room has it", "children have it", "lesson changed", "other"]
"""Why a line is not needed."""
OutcomeKind = Literal["done", "done except", "about half", "not taught", "went further", "another part", "unknown"]
StoreLevel = Literal["plenty", "low", "out"]
Settled = Literal["excused", "short version", "at home"]
"""What is done about a child who missed much of a lesson. At home: it has its set and makes it up there."""
EVERYWHERE = "everywhere"
"""Instead of rooms: all of them."""
Fill = Literal["day", "week", "cycle"]


class Entry(Struct, frozen=True, tag_field="did", omit_defaults=True, kw_only=True, forbid_unknown_fields=True):
    """Something she did or said, at a moment of the day it concerns."""

    at: datetime


class Packed(Entry, frozen=True, kw_only=True, tag="packed"):
    """So many are in the container now. A part packed line has fewer than its need."""

    line: str
    count: Count


class CameUpShort(Entry, frozen=True, kw_only=True, tag="short"):
    """There are only ``count``; what she does about it."""

    line: str
    count: Count
    remedy: Remedy = "go without"


class NotNeeded(Entry, frozen=True, kw_only=True, tag="not needed"):
    line: str
    reason: Reason = "not today"


class Ticked(Entry, frozen=True, kw_only=True, tag="ticked"):
    """A task, a check or a carried matter was seen to."""

    matter: str


class FoundLevel(Entry, frozen=True, kw_only=True, tag="level"):
    """A glance at a supply: plenty, low or out."""

    supply: str
    level: StoreLevel


class Ordered(Entry, frozen=True, kw_only=True, tag="ordered"):
    """So many packs of a supply were ordered; ``expected`` is when they are to come, where somebody has said."""

    supply: str
    packs: Count
    expected: date | None = None


class Delivered(Entry, frozen=True, kw_only=True, tag="delivered"):
    """So many packs of a supply came. ``of`` is what was ordered, where this came in its place: that stays due."""

    supply: str
    packs: Count
    of: str = ""


class CountedStock(Entry, frozen=True, kw_only=True, tag="counted"):
    """She counted all she has of a supply."""

    supply: str
    count: Count


class FoundInContainer(Entry, frozen=True, kw_only=True, tag="contents"):
    """She looked: so many are in the container, whatever the estimate said."""

    container: str
    supply: str
    count: Count


class TakenOut(Entry, frozen=True, kw_only=True, tag="taken out"):
    """So many were taken out of a container and put back on the shelf: a lesson is over, or it must not come along.

    ``left`` is how many are in it still.
    """

    container: str
    supply: str
    count: Count
    left: Count = 0


class Reported(Entry, frozen=True, kw_only=True, tag="visit"):
    """What became of a visit. A later report of the same visit replaces the earlier one.

    ``absent`` are class-list numbers; ``absent_count`` a number without saying who; both empty and ``absences_known``
    false: nobody could say. ``reached_part`` is the last part taught where the class went further, or the one that was
    taught in place of its next one. ``students`` is how many came, where it was not the planned number. ``half`` are
    the numbers of children who were there for half of it, called out for something else: present, and not done.
    """

    visit: str
    outcome: OutcomeKind
    not_done: Count = 0
    reached_part: Annotated[int, Meta(ge=1, le=40)] | None = None
    absent: tuple[ListNumber, ...] = ()
    absent_count: Count = 0
    absences_known: bool = False
    students: Count | None = None
    half: tuple[ListNumber, ...] = ()
    not_done_numbers: tuple[ListNumber, ...] = ()
    """Who of those not done is known by number; ``not_done`` counts them too."""


class CountedSharps(Entry, frozen=True, kw_only=True, tag="count"):
    """A counted supply of a visit, out and back. ``on`` is the visit's date where it was counted on a later day."""

    visit: str
    supply: str
    out: Count
    back: Count
    on: date | None = None


class CountLater(Entry, frozen=True, kw_only=True, tag="count later"):
    """A counted supply of a visit could not be counted back yet: a fire drill, a hurry. It stays on top until it is."""

    visit: str
    supply: str


class Lent(Entry, frozen=True, kw_only=True, tag="lent"):
    """So many of a supply were lent: they are not missing, and not there. ``place`` is a room, where it is known."""

    supply: str
    count: Count
    to: Said = ""
    place: str = ""
    container: str = ""
    """What they were taken from; empty: the shelf."""


class GivenBack(Entry, frozen=True, kw_only=True, tag="given back"):
    """So many of what was lent are back. ``loan`` is the key of the loan, ``supply`` what it is of."""

    loan: str
    supply: str
    count: Count
    container: str = ""
    """What they were put into; empty: the shelf."""


class HandedOut(Entry, frozen=True, kw_only=True, tag="handed out"):
    """Whether the catch-up kit of a class was handed out."""

    visit: str
    given: bool


class PutRight(Entry, frozen=True, kw_only=True, tag="put right"):
    """Whether a kit was put right after use: rinsed, counted, refilled."""

    container: str
    done: bool


class Stands(Entry, frozen=True, kw_only=True, tag="stands"):
    """Where a container is: "store" or a room."""

    container: str
    place: str
    period: str = ""


class LetGo(Entry, frozen=True, kw_only=True, tag="let go"):
    """A carried matter is dropped, with a reason."""

    matter: str
    reason: Said = ""


class CarriedOver(Entry, frozen=True, kw_only=True, tag="carried over"):
    """A matter is left for later, on purpose; ``to`` moves it to a date."""

    matter: str
    to: date | None = None


class ReportedMissing(Entry, frozen=True, kw_only=True, tag="reported missing"):
    """A missing sharp was reported to somebody."""

    case: str
    to_whom: Said
    when: Said = ""


class ClosedCase(Entry, frozen=True, kw_only=True, tag="case closed"):
    """A missing sharp was found, or written off, where and how."""

    case: str
    found: bool
    where: Said = ""
    by: Said = ""
    """Who found it."""
    when: Said = ""
    """When, where that was not the moment it was said."""
    lent: bool = False
    """It was not missing: it had been lent. A loan of the same moment says to whom."""
    count: Count | None = None
    """How many of several were found, while the others are still missing; None: the case is closed."""


class LeftStore(Entry, frozen=True, kw_only=True, tag="left"):
    """She left the store with these lines open."""

    open_lines: tuple[str, ...] = ()


class Guests(Struct, frozen=True, forbid_unknown_fields=True):
    """Children of a class that is away, who join another one."""

    of: str
    join: str
    count: Count


class Interruption(Struct, frozen=True, forbid_unknown_fields=True):
    """A time at which no class is taught: an assembly, a fire drill. Times as people write them, "9:30"."""

    start: ClockTime
    end: ClockTime
    why: Said = ""


class Testing(Entry, frozen=True, kw_only=True, tag="testing"):
    """Grades are tested in some periods of every school day from ``first`` to ``last``: they are not visited then.

    ``walk_more`` minutes are added to each walk in these periods: the halls are to stay quiet.
    """

    grades: tuple[Grade, ...]
    first: date
    last: date
    periods: tuple[str, ...] = ()
    """Empty: all day."""
    walk_more: Annotated[int, Meta(ge=0, le=30)] = 0


class Changed(Entry, frozen=True, kw_only=True, tag="changed"):
    """The day is not as planned. Each field given replaces what an earlier change of the day said of it."""

    no_school: bool | None = None
    day: str | None = None
    bells: str | None = None
    substitute: bool | None = None
    away: tuple[str, ...] | None = None
    """Classes that are not visited."""
    guests: tuple[Guests, ...] | None = None
    students: dict[str, Count] | None = None
    """Class -> how many come that day."""
    adults: dict[str, Count] | None = None
    """Class -> adults in the room that day, the teacher among them."""
    lessons: dict[str, str] | None = None
    """Key of a visit -> lesson taught in it instead; the class stays where it is."""
    fill: Fill | None = None
    """For how long the containers are filled."""
    no_mess: bool | None = None
    """The day is to stay clean: pictures, a concert, visitors."""
    rooms: dict[str, str] | None = None
    """Key of a visit -> room it takes place in; "" for the class's own again."""
    parts: dict[str, Annotated[int, Meta(ge=0, le=40)]] | None = None
    """Key of a visit -> part of the class's own lesson that is taught in it; 0 for its next one again."""
    joined: dict[str, str] | None = None
    """Class -> the class it is taught together with; "" alone again."""
    split: dict[str, bool] | None = None
    """Key of a visit -> whether only about half of its part is taught in it, the rest at the class's next one."""
    interruptions: tuple[Interruption, ...] | None = None
    water_off: tuple[str, ...] | None = None
    """Rooms whose sink gives no water; "everywhere" for all of them."""
    left_ahead: dict[str, bool] | None = None
    """Key of a visit -> whether what it needs is carried into its room in a break before it."""
    elevator_out: bool | None = None
    no_cart: bool | None = None
    """Everything is carried by hand."""
    longer_ways: dict[str, Annotated[int, Meta(ge=0, le=30)]] | None = None
    """Room, or wing -> minutes more on each walk to or from it: a hall is closed. 0: as usual again."""
    planning_lost: bool | None = None
    """She is in another class in her planning period: no time at the store then."""
    store_opens: Annotated[str, Meta(pattern=r"^$|^([01]?\d|2[0-3]):[0-5]\d$")] | None = None
    """When the store is unlocked, "7:55"; "": whenever she comes."""
    stops: dict[str, StopPin | Literal[""]] | None = None
    """Her wishes for the route, as in ``RoutePins``; "": as for good again. Period -> never or always by the store."""
    rides: dict[str, RidePin | Literal[""]] | None = None
    """Container -> it always rides, or a helper carries it."""
    leave_in: dict[str, RoomPin | Literal[""]] | None = None
    """Room -> nothing is left in it."""


class KeptAhead(Struct, frozen=True):
    """A container that was to stand in a room before a visit, or stood there."""

    container: str
    visit: str
    """Key of the first visit that needs it."""
    room: str
    after: str = ""
    """Key of the visit before the break it is taken there in; "": before school."""
    stands: bool = False
    """It stood there already."""
    joins: bool = False


class KeptLeg(Struct, frozen=True):
    """Visits from one stop to the next, by their keys, with what rides and what is left ahead."""

    visits: tuple[str, ...]
    rides: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    """On the cart though none of these visits needs it."""
    ahead: tuple[KeptAhead, ...] = ()


class RouteKept(Entry, frozen=True, kw_only=True, tag="route kept"):
    """The route she was going by when something changed: the one from now on is as like it as it can be.

    ``begun`` visits of it were over or under way; ``out``: she was not at the store.
    """

    legs: tuple[KeptLeg, ...]
    begun: tuple[str, ...] = ()
    out: bool = False
    anew: bool = False
    """The rest of the day is to be as good as can be, however different."""


class ClassPlace(Entry, frozen=True, kw_only=True, tag="class place"):
    """This part of this lesson is the class's next one, whatever the daybook knows: what comes before it is done."""

    class_id: str
    lesson: str
    part: Annotated[int, Meta(ge=1, le=40)] = 1


class Began(Entry, frozen=True, kw_only=True, tag="began"):
    """The daybook begins on this day. What was said with it in setting up the school is no step to be taken back."""


class Joined(Entry, frozen=True, kw_only=True, tag="joined"):
    """A new child: the class is one larger from now on, and owes it the parts of its lesson taught so far."""

    class_id: str
    number: ListNumber


class Sized(Entry, frozen=True, kw_only=True, tag="class size"):
    """The class has so many children from now on: more or fewer came than the plan said."""

    class_id: str
    students: Annotated[int, Meta(ge=0, le=400)]
    before: Annotated[int, Meta(ge=0, le=400)]
    about_before: bool = False
    """``before`` was only about so many."""


class Left(Entry, frozen=True, kw_only=True, tag="left the class"):
    """A child left the school. ``need`` is a need of the class that goes with it, at ``tables`` so far."""

    class_id: str
    number: ListNumber
    need: str = ""
    tables: tuple[int, ...] = ()


class Excused(Entry, frozen=True, kw_only=True, tag="excused"):
    """What is done about a child's missed parts of a lesson: nothing, the short version, or at home.

    Excused or with its set at home, it is owed nothing of the lesson up to the end of the day.
    """

    class_id: str
    number: ListNumber
    lesson: str
    how: Settled = "excused"


class Broken(Entry, frozen=True, kw_only=True, tag="broken"):
    """Pieces made in a part broke, in the kiln or on the way: of these children, and of ``count`` more."""

    class_id: str
    lesson: str
    part: Annotated[int, Meta(ge=1, le=40)]
    numbers: tuple[ListNumber, ...] = ()
    count: Count = 0


class WorkAway(Entry, frozen=True, kw_only=True, tag="work away"):
    """So many pieces of a class are not in its folder: they hang on a wall. 0: all of them are back."""

    class_id: str
    count: Count
    until: date | None = None


AboutChildren = Joined | Left | Excused | Broken | WorkAway
"""What is said of single children and their work: the day's list follows at once, and the class's own visits later."""


AnyEntry = (
    Packed
    | RouteKept
    | CameUpShort
    | NotNeeded
    | Ticked
    | FoundLevel
    | Ordered
    | Delivered
    | CountedStock
    | FoundInContainer
    | TakenOut
    | Reported
    | CountedSharps
    | CountLater
    | Lent
    | GivenBack
    | HandedOut
    | PutRight
    | Stands
    | LetGo
    | CarriedOver
    | ReportedMissing
    | ClosedCase
    | LeftStore
    | Testing
    | Changed
    | Sized
    | ClassPlace
    | Began
    | Joined
    | Left
    | Excused
    | Broken
    | WorkAway
)
