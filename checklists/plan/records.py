"""The plan as frozen records: what a school year is planned to be, before anything happened.

Read by ``checklists.files.plan_folder`` from the files a person writes; nothing here computes and nothing here changes
during a day. Every thing is named by its ``id``, short and readable; ids are what records refer to each other by.
"""

# Without postponed annotations: msgspec would evaluate the text of each of them at every start.

from datetime import date
from functools import cached_property
from typing import Annotated, Literal, TypeVar

from msgspec import Meta, Struct

Id = Annotated[str, Meta(min_length=1, max_length=60)]
Text = Annotated[str, Meta(max_length=400)]
ClockTime = Annotated[str, Meta(pattern=r"^([01]?\d|2[0-3]):[0-5]\d$")]
"""A time of day as people write it, "8:05" or "13:15"; ``words.minute_of`` gives minutes since midnight."""
Grade = Annotated[str, Meta(pattern=r"^(PK|K|[1-8])$")]
"""Pre-kindergarten "PK", kindergarten "K", then "1" to "8"; ``grade_number`` gives -1, 0, 1 …"""
Headcount = Annotated[int, Meta(ge=0, le=400)]
AboutHeadcount = Annotated[str, Meta(pattern=r"^about [1-9]\d{0,2}$")]
Amount = Annotated[float, Meta(ge=0, le=100_000)]
Whole = Annotated[int, Meta(ge=0, le=1_000_000)]
Minutes = Annotated[int, Meta(ge=0, le=600)]
Share = Annotated[float, Meta(ge=0, le=1)]

Basis = Literal["student", "pair", "table", "class", "lesson"]
"""What a quantity is counted by. Pairs and tables round up; "lesson" is one for all the day's visits of that lesson."""
Group = Literal["Paper", "Supplies", "Differentiation", "Catch-up", "Demo"]
SupplyKind = Literal["paper", "material", "tool", "sample", "sheet"]
StockLevel = Literal["plenty", "low", "out"]


class Record(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Base of every record that is read from a plan file."""


# ------------------------------------------------------------------------------------------------- the school


class Period(Record, frozen=True):
    name: Id
    start: ClockTime
    end: ClockTime


class Break(Record, frozen=True):
    """A time spent at the store in which containers can be changed: lunch, planning."""

    name: Text
    start: ClockTime
    end: ClockTime


class Bells(Record, frozen=True):
    """A named bell schedule: regular, delayed opening, early dismissal. A period it leaves out does not take place."""

    id: Id
    periods: tuple[Period, ...] = ()
    breaks: tuple[Break, ...] = ()


class DayOff(Record, frozen=True):
    """A planned day off, or every day from ``first`` to ``last``, both included."""

    first: date
    last: date | None = None
    reason: Text = ""


class Rotation(Record, frozen=True):
    """How timetable days follow one another: by weekday, or through ``days`` in turn on school days.

    ``lost_day`` says what an unplanned lost day does to a cycle: the cycle "slides" (the lost letter is taught next),
    stays "fixed" to its dates (the letter is lost), or is "announced" (it slides until somebody announces a letter).
    """

    kind: Literal["weekdays", "cycle"] = "weekdays"
    days: tuple[Id, ...] = ()
    lost_day: Literal["slides", "fixed", "announced"] = "slides"


class Room(Record, frozen=True):
    """Facts of a room. ``None`` is "not known": rules then pack so that it is right for either answer."""

    id: Id
    sink: bool | None = None
    carpet: bool | None = None
    projector: bool | None = None
    drying_places: Annotated[int, Meta(ge=0, le=500)] | None = None
    upstairs: bool = False
    wing: Text = ""
    """The wing or hall it is in: rooms that say the same one, on one floor, are neighbours where no walk is known."""
    can_be_locked: bool = False
    archived: bool = False
    """It stays in its file, and is offered and asked about nowhere."""


class Walk(Record, frozen=True):
    """Minutes with the loaded cart between two rooms, either way. The store is the place "store"."""

    between: Annotated[tuple[Id, ...], Meta(min_length=2, max_length=2)]
    minutes: Minutes


class Building(Record, frozen=True):
    """A second building, reached by car: what its visits need is loaded the school day before.

    ``drive_minutes`` from the store, and ``unload_minutes`` until the cart there is ready; common practice, no source.
    """

    name: Text
    rooms: tuple[Id, ...]
    drive_minutes: Minutes = 15
    unload_minutes: Minutes = 7


class Cart(Record, frozen=True):
    """The cart: how much it takes, what always stands on it. A box is 2 half slots, a kit 1."""

    half_slots: Annotated[int, Meta(ge=1, le=60)] = 8
    wet_sheets: Annotated[int, Meta(ge=0, le=200)] = 25
    folders_on_top: Annotated[int, Meta(ge=0, le=60)] = 3
    """Class folders that the top tray takes."""
    folder_half_slots: Annotated[int, Meta(ge=0, le=20)] = 0
    """What each further folder takes on the cart; 0: it rides in its grade's box."""
    standing: dict[Id, Whole] = {}
    limit_kg: Amount = 70


StopPin = Literal["never", "always", "free"]
RidePin = Literal["always", "helper", "free"]
RoomPin = Literal["never", "free"]


class RoutePins(Record, frozen=True):
    """What she wants of her route whatever would be best. "free" on a day takes back for it what holds for good."""

    stops: dict[Id, StopPin] = {}
    """Period -> whether she never, or always, goes by the store after the visit in it."""
    rides: dict[Id, RidePin] = {}
    """Container -> it always rides and is never left ahead, or a helper carries it from room to room."""
    leave_in: dict[Id, RoomPin] = {}
    """Room -> nothing is ever left in it."""


class Spare(Record, frozen=True):
    """The larger of a number and a percentage, on the total, rounded up."""

    at_least: Whole = 0
    percent: Annotated[float, Meta(ge=0, le=200)] = 0


class Habits(Record, frozen=True):
    """How she works. Every built-in value is common practice, no source, except as marked; all are hers to change."""

    attendance: Share = 0.94
    """Share of a class present on an ordinary day."""
    reserve_certainty: Share = 0.95
    early_share: Share = 0.25
    """Share of a class done early; ``early_share_young`` for kindergarten and grade 1."""
    early_share_young: Share = 0.40
    set_up_minutes: Minutes = 4
    slack_minutes: Minutes = 2
    swap_minutes: Minutes = 2
    """Handling of a change of containers at the store, without the walks."""
    leave_ahead_before_school: Minutes = 15
    """Minutes before school for taking containers ahead to rooms."""
    leave_ahead_in_a_break: Minutes = 30
    """The same in a break at the store that is no meal, at most."""
    minutes_a_line: Annotated[float, Meta(ge=0, le=10)] = 0.3
    clean_up_dry: Minutes = 5
    """Minutes before the end of a visit at which cleaning up begins; ``clean_up_wet`` for wet work, ``clean_up_long``
    for print, clay, plaster and paste. ``clean_up_young`` and ``clean_up_no_sink`` come on top."""
    clean_up_wet: Minutes = 7
    clean_up_long: Minutes = 9
    clean_up_young: Minutes = 2
    """More for kindergarten and grade 1."""
    clean_up_no_sink: Minutes = 2
    """More where there is no sink, or nobody knows of one."""
    arrival: ClockTime = "7:25"
    default_walk: Minutes = 2
    """From the store to a room, where nobody has said the walk; ``elevator_minutes`` come on top for one upstairs."""
    elevator_minutes: Minutes = 2
    neighbour_minutes: Minutes = 1
    """Between two rooms of one wing and floor, where nobody has said the walk; other pairs go by the store."""
    settle_minutes: Minutes = 10
    """From the end of an assembly or a drill until a class can begin."""
    least_useful_minutes: Minutes = 15
    """Where less than this is left of a period it is not taught."""
    free_period_minutes: Minutes = 30
    """Where so many minutes lie between two visits beside the breaks, she spends them at the store."""
    stairs_minutes: Minutes = 3
    """One way from the store to a room upstairs, or back, with what is carried by hand while the elevator is out."""
    spare_paper: Spare = Spare(2, 10)
    spare_paper_young: Spare = Spare(3, 15)
    spare_material: Spare = Spare(2, 10)
    spare_tool: Spare = Spare(1, 5)
    spare_about: Spare = Spare(4, 0)
    """At least this much spare for a class whose size is about, until it is confirmed."""
    back_up_share: Share = 0.2
    """Share of what a class has of its own that goes along all the same."""
    stale_after_school_days: Annotated[int, Meta(ge=1, le=30)] = 3
    box_limit_kg: Amount = 11
    """What one person lifts from the floor to a shelf; above ``never_lift_kg`` nobody does alone."""
    never_lift_kg: Amount = 16
    pail_kg: Amount = 6
    """What is too much for a box goes into pails of at most this."""
    filled_share: Share = 0.8
    """Share of a box's room beyond which the lid comes off."""
    lead_school_days: Annotated[int, Meta(ge=0, le=120)] = 15
    """From an order to its delivery: approval and shipping."""
    claim_days: Annotated[int, Meta(ge=10, le=30)] = 10
    """Days after a delivery within which a supplier must be told what is missing or wrong."""
    filler: str = ""
    """Id of the lesson taught where a class has no lesson placed."""


class DaybookNames(Record, frozen=True):
    """What the daybook calls things that were renamed since: name now -> name there. Trundle writes this.

    The days that are told keep the names they were told by, so that nothing of them is ever rewritten.
    """

    classes: dict[Id, Id] = {}
    rooms: dict[Id, Id] = {}
    periods: dict[Id, Id] = {}
    days: dict[Id, Id] = {}
    bells: dict[Id, Id] = {}
    gone: tuple[Id, ...] = ()
    """Classes of the daybook that are no more: another class of that name has another one there."""


class School(Record, frozen=True):
    format: Literal[1]
    name: Text
    first_day: date
    last_day: date
    bells: Annotated[tuple[Bells, ...], Meta(min_length=1)]
    """The first one is the regular schedule."""
    days_off: tuple[DayOff, ...] = ()
    rotation: Rotation = Rotation()
    rooms: tuple[Room, ...] = ()
    walks: tuple[Walk, ...] = ()
    buildings: tuple[Building, ...] = ()
    """Those besides the one the store is in."""
    cart: Cart = Cart()
    route: RoutePins = RoutePins()
    habits: Habits = Habits()
    daybook_names: DaybookNames = DaybookNames()


# ------------------------------------------------------------------------------------------------- the classes


class Need(Record, frozen=True):
    """So many children of a class need something adapted. Private: public pages show things, never this."""

    need: Id
    count: Annotated[int, Meta(ge=1, le=60)] = 1
    tables: tuple[int, ...] = ()


class SchoolClass(Record, frozen=True):
    """Students who come together. Children are class-list numbers, never names."""

    id: Id
    grade: Grade
    room: Id
    students: Headcount | AboutHeadcount
    tables: Annotated[int, Meta(ge=1, le=60)] = 6
    adults: Annotated[int, Meta(ge=1, le=6)] = 1
    needs: tuple[Need, ...] = ()
    avoid: tuple[Id, ...] = ()
    has: tuple[Id, ...] = ()
    """Supplies that the room or the children already have."""
    left: tuple[Annotated[int, Meta(ge=1, le=400)], ...] = ()
    """Class-list numbers of children who left: the numbers of the others do not shift."""
    archived: bool = False
    """It stays in its file, and is offered and asked about nowhere."""

    @property
    def headcount(self) -> int:
        return self.students if isinstance(self.students, int) else int(self.students.split()[1])

    @property
    def is_about(self) -> bool:
        return isinstance(self.students, str)


class Classes(Record, frozen=True):
    """The file of classes: who comes when, and which lessons a grade is taught in which order."""

    classes: tuple[SchoolClass, ...] = ()
    timetable: dict[Id, dict[Id, Id]] = {}
    """Timetable day -> period -> class. Days are "Mon" … "Fri", or those of the cycle."""
    teaching: dict[Grade, tuple[Id, ...]] = {}
    """Grade -> lessons of the year in order."""


# ------------------------------------------------------------------------------------------- supplies and kits


class Supply(Record, frozen=True):
    """A thing in the catalogue. ``returns`` defaults by kind: tools and samples come back, the rest is consumed."""

    id: Id
    name: Text
    kind: SupplyKind = "material"
    returns: bool | None = None
    sharp: bool = False
    """Counted out and back, never left in a room."""
    own: bool = False
    """The teacher's own tool: counted out and back."""
    marks: tuple[Id, ...] = ()
    """What it is or contains, for the rules: "scissors", "powder", "latex" …"""
    grams: Amount | None = None
    litres: Amount | None = None
    """Room that one takes up in a box."""
    pack: Annotated[int, Meta(ge=1, le=10_000)] = 1
    shelf: Text = ""
    on_hand: Whole | StockLevel | None = None
    counted: date | None = None
    spare: Spare | None = None
    conforms: bool | None = None
    """The label says it conforms to ASTM D4236 (16 CFR 1500.14(b)(8)). None: no art material, or not looked up."""
    label_caution: Text = ""
    """A chronic-hazard caution printed on the label."""
    for_the_teacher: bool = False
    """Used by the teacher alone, never in the children's hands."""
    instead: Id | None = None
    """What she uses in its place where it must not come along."""
    archived: bool = False
    """It stays in its file, and is offered and asked about nowhere."""

    @property
    def comes_back(self) -> bool:
        return self.returns if self.returns is not None else self.kind in ("tool", "sample")

    @property
    def is_counted(self) -> bool:
        return self.sharp or self.own


class Box(Record, frozen=True):
    """The box of a grade. A grade without an entry has a box all the same."""

    grade: Grade
    shelf: Text = ""
    sign: Text = ""
    standing: dict[Id, Whole] = {}
    half_slots: Annotated[int, Meta(ge=0, le=20)] = 2
    litres: Amount = 28
    """Room in it; a large flat bin. Common practice, no source."""
    empty_grams: Amount = 1200
    may_be_left: bool = True


class Kit(Record, frozen=True):
    """The kit of a technique, shared by grades. What it holds lives in it; part items of these supplies go there."""

    id: Id
    name: Text
    shelf: Text = ""
    holds: dict[Id, Whole] = {}
    """Supply -> how many are in it when it is full."""
    reset: Text = ""
    """What putting it right after use means: "rinse, count, refill"."""
    reset_minutes: Minutes = 0
    half_slots: Annotated[int, Meta(ge=0, le=20)] = 1
    litres: Amount = 28
    empty_grams: Amount = 300
    may_be_left: bool = True
    archived: bool = False
    """It stays in its file, and is offered and asked about nowhere."""


class Supplies(Record, frozen=True):
    supplies: tuple[Supply, ...] = ()


class Kits(Record, frozen=True):
    boxes: tuple[Box, ...] = ()
    kits: tuple[Kit, ...] = ()


# ----------------------------------------------------------------------------------------------------- lessons


class Item(Record, frozen=True):
    """What a part needs of one supply."""

    supply: Id
    count: Amount = 1
    per: Basis = "student"
    critical: bool = False
    into: Id = ""
    """ "box", "cart" or a kit's id. Empty: the lesson's kit that holds it, the cart where it stands, else the box."""
    demo: bool = False
    """For the teacher's demonstration; stands under Demo, and no spare is added."""
    stays_in_work: bool = False
    """A tool that stays in the children's work until the lesson's last part: hoops, boards, clips."""
    note: Text = ""
    not_for: tuple[Id, ...] = ()
    """Classes that are taught the lesson without it."""

    def is_for(self, *classes: str) -> bool:
        """Whether any of these classes, taught together, needs it."""
        return not self.not_for or any(each not in self.not_for for each in classes)


class Prep(Record, frozen=True):
    """Preparation for a part: cut, wind, slice, copy."""

    what: Text
    minutes: Minutes = 5
    days_before: Annotated[int, Meta(ge=0, le=20)] = 1
    """School days before the visit on which it falls due."""


class Wait(Record, frozen=True):
    """Time that must pass before the next part, or may at most: drying, kiln, wet clay."""

    days: Annotated[int, Meta(ge=0, le=120)] = 0
    then_school_days: Annotated[int, Meta(ge=0, le=40)] = 0
    at_most_days: Annotated[int, Meta(ge=1, le=120)] | None = None
    why: Text = ""


class Part(Record, frozen=True):
    """What is taught in one period."""

    title: Text
    tags: tuple[Id, ...] = ()
    minutes: Minutes = 45
    least_minutes: Minutes = 35
    items: tuple[Item, ...] = ()
    pieces_each: Amount = 1
    """Pieces a student leaves to dry, where the part is wet."""
    catch_up: Literal["by rule", "full", "short", "none"] = "by rule"
    """How it is made up. By rule: in full, but what is wet, hot, printed or of clay in its short version, else held."""
    short_version: tuple[Item, ...] = ()
    preps: tuple[Prep, ...] = ()
    wait: Wait | None = None
    optional: bool = False
    """A class that is behind may leave it out."""


class Lesson(Record, frozen=True):
    """A project of one or more parts."""

    id: Id
    title: Text
    parts: Annotated[tuple[Part, ...], Meta(min_length=1)]
    grades: tuple[Grade, ...] = ()
    kits: tuple[Id, ...] = ()
    extension: tuple[Item, ...] = ()
    """For those who finish early; counts are per student done early."""
    dry_version: Id = ""
    """Lesson to teach instead where no water, mess or sharp tools can be."""
    archived: bool = False
    """It stays in its file, and is offered and asked about nowhere."""

    def items_from(self, part: int, but: tuple[int, ...] = ()) -> tuple[Item, ...]:
        """Everything listed for a part and those after it, short versions and what is for early finishers included.

        ``but`` are later parts that are done already.
        """
        left = (each for n, each in enumerate(self.parts, 1) if n >= part and n not in but)
        listed = (item for each in left for item in (*each.items, *each.short_version))
        return (*listed, *self.extension)


class Archive(Struct, frozen=True, omit_defaults=True):
    """What is archived, each with its place among all of its kind in the plan files."""

    classes: tuple[tuple[int, SchoolClass], ...] = ()
    supplies: tuple[tuple[int, Supply], ...] = ()
    kits: tuple[tuple[int, Kit], ...] = ()
    lessons: tuple[tuple[int, Lesson], ...] = ()


Of = TypeVar("Of")


def _with_archived(used: tuple[Of, ...], archived: tuple[tuple[int, Of], ...]) -> tuple[Of, ...]:
    """Everything of a kind in its order: what was archived is in its place among it."""
    every = list(used)
    for place, each in archived:
        every.insert(place, each)
    return tuple(every)


class Plan(Struct, frozen=True, dict=True):
    """Everything read from the plan files, with look-ups by id. ``supplies`` includes the built-in ones.

    What is archived is found by its id, because earlier days speak of it, and is in no list that is gone through.
    """

    school: School
    classes: tuple[SchoolClass, ...]
    timetable: dict[str, dict[str, str]]
    teaching: dict[str, tuple[str, ...]]
    supplies: tuple[Supply, ...]
    boxes: tuple[Box, ...]
    kits: tuple[Kit, ...]
    lessons: tuple[Lesson, ...]
    archive: Archive = Archive()

    @property
    def every_class(self) -> tuple[SchoolClass, ...]:
        """Those that are archived too, in the order of the file; so are the three below."""
        return _with_archived(self.classes, self.archive.classes)

    @property
    def every_supply(self) -> tuple[Supply, ...]:
        return _with_archived(self.supplies, self.archive.supplies)

    @property
    def every_kit(self) -> tuple[Kit, ...]:
        return _with_archived(self.kits, self.archive.kits)

    @property
    def every_lesson(self) -> tuple[Lesson, ...]:
        return _with_archived(self.lessons, self.archive.lessons)

    @cached_property
    def class_by_id(self) -> dict[str, SchoolClass]:
        return {each.id: each for each in self.every_class}

    @cached_property
    def supply_by_id(self) -> dict[str, Supply]:
        return {each.id: each for each in self.every_supply}

    @cached_property
    def lesson_by_id(self) -> dict[str, Lesson]:
        return {each.id: each for each in self.every_lesson}

    def name_of_supply(self, supply: str) -> str:
        """What a supply is called; its id where the plan has no such supply any more."""
        known = self.supply_by_id.get(supply)
        return known.name if known is not None else supply

    def title_of_lesson(self, lesson: str) -> str:
        """What a lesson is called; its id where the plan has no such lesson any more."""
        known = self.lesson_by_id.get(lesson)
        return known.title if known is not None else lesson

    @cached_property
    def lessons_that_tie_up(self) -> frozenset[str]:
        """Lessons in which tools stay in the children's work from part to part."""
        parts = ((lesson.id, part) for lesson in self.every_lesson for part in lesson.parts)
        return frozenset(lesson for lesson, part in parts if any(item.stays_in_work for item in part.items))

    @cached_property
    def lessons_with(self) -> dict[str, tuple[str, ...]]:
        """Supply -> titles of the lessons that list it."""
        found: dict[str, dict[str, None]] = {}
        for lesson in self.lessons:
            for item in lesson.items_from(1):
                found.setdefault(item.supply, {})[lesson.title] = None
        return {supply: tuple(titles) for supply, titles in found.items()}

    @cached_property
    def kit_by_id(self) -> dict[str, Kit]:
        return {each.id: each for each in self.every_kit}

    @cached_property
    def room_by_id(self) -> dict[str, Room]:
        return {each.id: each for each in self.school.rooms}

    @cached_property
    def rooms(self) -> tuple[str, ...]:
        """Every room in use: those with facts, then those that only a class has."""
        known = (each.id for each in self.school.rooms if not each.archived)
        return tuple(dict.fromkeys((*known, *(each.room for each in self.classes))))

    @cached_property
    def building_of_room(self) -> dict[str, Building]:
        """Rooms that are not in the building of the store."""
        return {room: each for each in self.school.buildings for room in each.rooms}

    @cached_property
    def box_by_grade(self) -> dict[str, Box]:
        return {each.grade: each for each in self.boxes}

    @cached_property
    def bells_by_id(self) -> dict[str, Bells]:
        return {each.id: each for each in self.school.bells}

    @cached_property
    def walk_minutes(self) -> dict[frozenset[str], int]:
        return {frozenset(each.between): each.minutes for each in self.school.walks}


def grade_number(grade: str) -> int:
    """Pre-kindergarten -1, kindergarten 0, then the grade itself."""
    return {"PK": -1, "K": 0}[grade] if grade in ("PK", "K") else int(grade)
