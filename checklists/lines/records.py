"""A day's list as frozen records. Made by ``checklists.lines.day.day_on``; what she did about it is in the daybook."""

from __future__ import annotations

import datetime
from datetime import date
from typing import Literal

from msgspec import Struct

from checklists.daybook.entries import Changed, Fill, Guests
from checklists.daybook.state import Case, Loan
from checklists.plan.records import Group

ContainerKind = Literal["cart", "box", "kit", "folder"]

GROUPS: tuple[Group, ...] = ("Paper", "Supplies", "Differentiation", "Catch-up", "Demo")


class Step(Struct, frozen=True):
    """One part of one lesson. Parts count from 1."""

    lesson: str
    part: int


class Visit(Struct, frozen=True):
    """One class, on one date, in one period, in one room.

    ``steps`` has the part that is taught; two when the outcome of the last visit is unknown, so that what is packed is
    right for either answer. Times are minutes since midnight.
    """

    key: str
    """ "P3 3-B": unique within a day."""
    number: int
    """V1, V2 … in time order."""
    class_id: str
    grade: str
    period: str
    room: str
    start: int
    end: int
    students: int
    about: bool
    tables: int
    steps: tuple[Step, ...]
    walk_before: int
    """Minutes from the room before, or from the store for the first."""
    gap_before: int
    """Minutes since the visit before ended; for the first one, a full morning."""
    gap_after: int
    swap_minutes_before: int
    """Minutes a change of containers at the store would take on the way here."""
    is_first: bool
    is_last: bool
    substitute: bool = False
    instead: Literal["", "too early", "chosen"] = ""
    """Why another lesson is taught in it than the class's own part, which is next all the same."""
    waiting: Step | None = None
    """The class's own part, where it comes too early."""
    insisted: bool = False
    """She has said that the class's own part is taught in it, whatever the dates between parts say."""
    no_water: bool = False
    """The sink of its room gives no water that day."""
    by_hand: int = 0
    """Minutes of one way with what is carried by hand, where no cart gets into its room; 0: it comes on the cart."""
    walk_more: int = 0
    """Minutes that each walk on the way to it takes more than usual."""
    left_ahead: bool | None = None
    """Whether what it needs is carried into its room in a break before it; None: she has not said."""
    adults: int = 1
    guests: tuple[Guests, ...] = ()
    """Children of classes that are away, counted among ``students``."""
    done_ahead: tuple[int, ...] = ()
    """Parts of the class's lesson, later than its next one, that it has done already."""
    next_part: int = 0
    """The class's next part, where she has chosen another one for this visit; 0: what is taught is the next one."""
    joined: tuple[Guests, ...] = ()
    """Whole classes that are taught together with it, counted among ``students`` as well."""
    go_on_too: tuple[str, ...] = ()
    """Of these the ones at the very same part: they go on with it. The others stay where they are."""
    split: bool = False
    """Only about half of the part is planned for it: the class goes on with it at its next visit."""

    @property
    def classes(self) -> tuple[str, ...]:
        """Every class that is in the room as a whole: its own first."""
        return (self.class_id, *(each.of for each in self.joined))

    @property
    def moves_on(self) -> bool:
        """Whether the class's own part is what is taught, so that it goes on by it."""
        return not self.substitute and not self.instead

    @property
    def name(self) -> str:
        return f"V{self.number}"

    @property
    def minutes(self) -> int:
        return self.end - self.start


class Because(Struct, frozen=True):
    """One reason of a line, a task, a check or a caution: for which visit, from what, through which facts."""

    text: str
    """A plain sentence: "24 children, per pair 12"."""
    visits: tuple[str, ...] = ()
    """Keys of the visits."""
    rule: str = ""
    """Id of the rule it comes from; empty for a lesson's own item."""
    rule_title: str = ""
    facts: tuple[str, ...] = ()
    """The chain of facts in words, the given ones first."""
    private: bool = False
    """True: may not appear on a public page."""


class Use(Struct, frozen=True):
    """What one visit takes of a line into the room. Of a tool that comes back, with spare: the count that goes out."""

    visit: str
    amount: float
    per_student: bool
    """Whether it shrinks with the number of students who came."""
    stays: bool = False
    """It stays in the children's work."""
    sets: str = ""
    """How it is laid out by tables in this visit, as ``Line.sets`` says it."""


class Line(Struct, frozen=True):
    """One supply to have in one container."""

    key: str
    """ "box-3/yarn-ball"; with "/catch-up 3-B" behind it for a thing of a catch-up kit."""
    number: int
    """The same on screen and on paper, from 11 on."""
    container: str
    supply: str
    """Id of the supply, or "folder 3-B"."""
    name: str
    group: Group
    need: int
    in_it: int
    """What the container held when the day opened."""
    visits: tuple[str, ...]
    critical: bool
    counted: bool
    """Counted out and back: sharps and the teacher's own tools. Never ticked in bulk."""
    about: bool
    """``need`` rests on a class size that is about, or on an estimate."""
    catch_up_for: str
    """Class whose catch-up kit this belongs to; empty for an ordinary line."""
    shelf: str
    because: tuple[Because, ...]
    forbidden: str = ""
    """Why this must not come along, where a rule forbids it: blocks until it is resolved."""
    instead: str = ""
    """Name of what to use in place of a forbidden thing."""
    on_shelf: int | None = None
    """How many are at the store outside containers, as far as known."""
    counted_on: date | None = None
    """When all there is of it was last counted, wherever it is."""
    comes_back: bool = False
    uses: tuple[Use, ...] = ()
    ahead: int = 0
    """How many more to have in it where the container is filled for the week or the cycle; not asked for on leaving."""
    later: tuple[str, ...] = ()
    """The later visits it is filled for, in words: "Tue P3 3-K"."""
    sets: str = ""
    """How it is laid out by tables: "6 trays of 4, 2 spare"; empty where it is not handed out by table."""
    stays_in_work: bool = False
    """It stays in the children's work until the lesson's last part."""
    pail: int = 0
    """Which pail of several it is packed in, beside its container; 0: in the container itself."""
    before_pail: int = 0
    """How many are for the pails before this one."""
    is_last_pail: bool = False
    loans: tuple[tuple[str, int], ...] = ()
    """Loans of its supply that were open when the day opened: key, how many are out."""

    @property
    def add(self) -> int:
        return max(0, self.need + self.ahead - self.in_it)


class Task(Struct, frozen=True):
    """Preparation with minutes and the date it is due."""

    key: str
    number: int
    what: str
    minutes: int
    due: date
    for_date: date
    visit: str
    class_id: str
    critical: bool
    because: tuple[Because, ...]
    place: str = ""
    """Where in its day there is time for it: "before school", "planning, 11:45", "after school"."""


class Check(Struct, frozen=True):
    """A yes/no to see to, at the store or in a room, or a count out and back."""

    key: str
    number: int
    what: str
    visit: str
    at: Literal["store", "room"]
    critical: bool
    because: tuple[Because, ...]


class Caution(Struct, frozen=True):
    """A warning about a visit."""

    key: str
    what: str
    visit: str
    critical: bool
    is_new: bool
    """False once it was shown for this class and lesson on an earlier day: then it only counts."""
    because: tuple[Because, ...]


class TakeOut(Struct, frozen=True):
    """Something that a container still holds and no coming visit needs: back to the shelf with it."""

    key: str
    """ "take out/box-3/yarn-ball"."""
    number: int
    container: str
    supply: str
    name: str
    count: int
    shelf: str
    because: tuple[Because, ...]


class Offer(Struct, frozen=True):
    """One way out of a decision: what it is called, and what it makes of the day."""

    label: str
    change: Changed


class Decision(Struct, frozen=True):
    """Something about a visit that is hers to choose. ``stops``: nothing is packed for it until she has."""

    key: str
    visit: str
    text: str
    offers: tuple[Offer, ...]
    because: tuple[Because, ...]
    stops: bool = True
    """False: everything is packed meanwhile, and she may leave without having chosen."""


class Question(Struct, frozen=True):
    """A visit of an earlier day whose outcome is unknown. Answered by a ``Reported`` entry of that day."""

    key: str
    date: datetime.date
    visit: str
    class_id: str
    text: str


class Matter(Struct, frozen=True):
    """A carried thing that stands on today's list, with since when and how many school days that is."""

    key: str
    kind: str
    what: str
    since: date
    school_days: int
    container: str
    for_class: str
    stale: bool
    """Older than she wants to see without deciding: do it, let it go, or move it to a date."""
    before_visit: str = ""
    """Key of today's first visit that needs it."""
    supply: str = ""
    count: int = 0
    """How many are short, or went out and were not counted back."""
    packed: dict[str, tuple[int, int]] = {}
    """Of a day that was lost: "container/supply" -> how many packed for it today does not need, how many it does."""


class Container(Struct, frozen=True):
    """A container that today's visits need."""

    id: str
    name: str
    kind: ContainerKind
    shelf: str
    sign: str
    place: str
    """ "store" or a room."""
    place_since: str
    """In words, "Fri 2 Oct P5"; empty at the store."""
    visits: tuple[str, ...]
    kilograms: float | None
    """Of what it holds when packed, as far as masses are known."""


class Behind(Struct, frozen=True):
    """A child who missed three parts or more of a lesson, for whom nothing is decided yet."""

    visit: str
    class_id: str
    number: int
    lesson: str
    parts: tuple[int, ...]
    said: str
    """What is owed, in words."""
    new: bool
    """It was not absent: it has joined the class since."""
    has_short: bool
    """Whether a part of it has a short version."""


class Day(Struct, frozen=True, dict=True):
    """Everything of one date, as the plan, the opening state and the day's changes make it."""

    date: datetime.date
    school_day: bool
    why_no_school: str
    day_name: str
    """Timetable day: "Mon", or the letter of the cycle."""
    bells: str
    visits: tuple[Visit, ...]
    containers: tuple[Container, ...]
    """In the order of the first visit that needs them, the cart first."""
    lines: tuple[Line, ...]
    """In order of number."""
    tasks: tuple[Task, ...]
    """Due today or before, then those coming."""
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    questions: tuple[Question, ...]
    matters: tuple[Matter, ...]
    cases: tuple[str, ...]
    """What was missing when the day opened, in words, the oldest first."""
    notes: tuple[str, ...]
    """What could not be worked out, in words: a class without a lesson, more critical lines than five in a visit."""
    leave_by: int | None
    """Minute of the day where nothing is to be fetched (see ``minutes_left.leave_by_now``); None without visits."""
    store_opens: int
    """Minute of the day from which the store is open; 0: whenever she comes. What it holds cannot leave it before."""
    next_school_day: datetime.date | None
    take_out: tuple[TakeOut, ...] = ()
    decisions: tuple[Decision, ...] = ()
    behind: tuple[Behind, ...] = ()
    fill: Fill = "day"
    """For how long its containers are filled."""
    fetch_minutes: dict[str, int] = {}
    """Room -> minutes from the store and back on this day, to fetch what stands there."""
    open_cases: tuple[Case, ...] = ()
    """What was missing when the day opened; ``daybook.cases`` knows what became of it since."""
    lent: tuple[Loan, ...] = ()
    """What somebody had borrowed when the day opened, the oldest first."""
    longer_ways: dict[str, int] = {}
    """Room, or wing -> minutes more on each walk to or from it; ``walks.walks_of`` gives the day's walks."""
    elevator_out: bool = False
