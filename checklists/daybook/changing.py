"""What can be different about a day, as choices that are ready to be said: of the day, and of one visit.

Each choice has its entry made; a screen or a command only shows the words and hands the entry to the book.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Literal

from msgspec import Struct, structs

from checklists.daybook.entries import AnyEntry, Changed, Reported
from checklists.daybook.marks import Marks
from checklists.daybook.reports import is_untold, was_not_taught
from checklists.lines.records import Day, Visit
from checklists.plan.records import Bells, Plan
from checklists.taught_periods import bells_on
from checklists.walks import say_way, wings_of
from checklists.words import clock, join_words, minute_of, plural, say_room

Typed = Literal["", "times", "testing", "children", "gone", "opening", "longer way"]
EVERYWHERE = "everywhere"


class Way(Struct, frozen=True):
    """One thing that may be so: what it is called, whether it is so already, and what says it."""

    label: str
    entries: tuple[AnyEntry, ...]
    is_so: bool = False


class Topic(Struct, frozen=True):
    """Something about a day or a visit that may be another way.

    Of two ways, or where only one is not so yet, its key alone says the other; of more she chooses. ``typed`` is what
    may be typed for it; then there may be no ways at all.
    """

    key: str
    name: str
    value: str
    """How it stands, in words."""
    ways: tuple[Way, ...] = ()
    typed: Typed = ""
    hint: str = ""
    is_changed: bool = False
    """Whether it is not as planned."""

    @property
    def other(self) -> Way | None:
        """The one way that is left, where there is just one."""
        left = [way for way in self.ways if not way.is_so]
        return left[0] if len(left) == 1 and not self.typed else None


class FallsOut(Struct, frozen=True):
    """A planned visit that does not take place, with why; ``back`` brings it back, where something said can."""

    key: str
    class_id: str
    text: str
    back: tuple[AnyEntry, ...]


def topics_of_day(plan: Plan, day: Day, marks: Marks, at: datetime) -> tuple[Topic, ...]:
    """Everything about a day that may be different."""
    changes = marks.changes
    said = changes or Changed(at=at)
    found: list[Topic] = [
        _yes_or_no("no school", "School", "takes place", "none today", said.no_school, "no_school", at)
    ]
    if not day.school_day:
        return tuple(found)
    found.append(_bells(plan, said, at))
    found += _letter(plan, day, said, at)
    found.append(_interruptions(said, at))
    found += [
        _yes_or_no("substitute", "You", "teach yourself", "a substitute teaches", said.substitute, "substitute", at),
        _yes_or_no("no mess", "Mess", "is allowed", "must not be", said.no_mess, "no_mess", at),
        _water(plan, day, said, at),
        _yes_or_no("no cart", "Cart", "is there", "none: carried by hand", said.no_cart, "no_cart", at),
    ]
    if any(room.upstairs for room in plan.school.rooms):
        found.append(_yes_or_no("elevator", "Elevator", "works", "out of order", said.elevator_out, "elevator_out", at))
    found.append(_longer_ways(plan, day, said, at))
    if bells_on(plan, None).breaks:
        found.append(
            _yes_or_no("planning", "Planning period", "as usual", "lost", said.planning_lost, "planning_lost", at)
        )
    found += [_store(said, at), _gone(day, marks, at)]
    found.append(Topic("testing", "Testing of some grades", "", (), "testing", TESTING_HINT))
    return tuple(found)


TESTING_HINT = "3-5 p1-p3 23 is to the 23rd; w2 walks longer; off"


def _yes_or_no(key: str, name: str, usual: str, other: str, is_other: bool | None, field: str, at: datetime) -> Topic:
    ways = tuple(
        Way(label, (structs.replace(Changed(at=at), **{field: value}),), is_so=bool(is_other) is value)
        for label, value in ((usual, False), (other, True))
    )
    return Topic(key, name, other if is_other else usual, ways, is_changed=bool(is_other))


def _bells(plan: Plan, said: Changed, at: datetime) -> Topic:
    now = bells_on(plan, said).id
    ways = tuple(
        Way(_say_bells(each), (Changed(at=at, bells=each.id),), is_so=each.id == now) for each in plan.school.bells
    )
    return Topic("bells", "Bells", now, ways, is_changed=now != plan.school.bells[0].id)


def _say_bells(bells: Bells) -> str:
    times = sorted(minute_of(period.start) for period in bells.periods)
    ends = sorted(minute_of(period.end) for period in bells.periods)
    named = bells.id.replace("-", " ")
    return f"{named}, {clock(times[0])} to {clock(ends[-1])}" if times else named


def _letter(plan: Plan, day: Day, said: Changed, at: datetime) -> Iterator[Topic]:
    rotation = plan.school.rotation
    days = rotation.days if rotation.kind == "cycle" else tuple(plan.timetable)
    if len(days) > 1:
        kind = "Day of the cycle" if rotation.kind == "cycle" else "Timetable of"
        ways = tuple(Way(f"{each}", (Changed(at=at, day=each),), is_so=each == day.day_name) for each in days)
        yield Topic("day", kind, day.day_name, ways, is_changed=bool(said.day))


def _interruptions(said: Changed, at: datetime) -> Topic:
    now = said.interruptions or ()
    value = join_words(f"{each.why or 'no class'} {each.start}-{each.end}" for each in now)
    ways = (Way("no interruption", (Changed(at=at, interruptions=()),)),) if now else ()
    hint = "from and to, as 930 1030 or 924 940 drill"
    return Topic("interruption", "Assembly or drill", value or "none", ways, "times", hint, is_changed=bool(now))


def _water(plan: Plan, day: Day, said: Changed, at: datetime) -> Topic:
    """Off everywhere, or in one of the rooms visited that have a sink."""
    now = said.water_off or ()
    with_sink = [room for room in dict.fromkeys(visit.room for visit in day.visits) if _has_sink(plan, room)]
    ways = [Way("runs", (Changed(at=at, water_off=()),), is_so=not now)]
    ways.append(Way("off everywhere", (Changed(at=at, water_off=(EVERYWHERE,)),), is_so=now == (EVERYWHERE,)))
    for room in with_sink:
        ways.append(Way(f"off in {say_room(room)}", (Changed(at=at, water_off=(room,)),), is_so=now == (room,)))
    value = "off everywhere" if EVERYWHERE in now else f"off in {join_words(say_room(each) for each in now)}"
    return Topic("water", "Water", value if now else "runs", tuple(ways), is_changed=bool(now))


def _store(said: Changed, at: datetime) -> Topic:
    """It is locked until a time."""
    opens = said.store_opens or ""
    ways = (Way("open whenever you come", (Changed(at=at, store_opens=""),)),) if opens else ()
    value = f"locked until {opens}" if opens else "open"
    hint = "from when on it is open, as 755"
    return Topic("store", "Store", value, ways, "opening", hint, is_changed=bool(opens))


def _longer_ways(plan: Plan, day: Day, said: Changed, at: datetime) -> Topic:
    """A hall is closed, or a way takes longer; all of them are taken back at once, or one with 0."""
    now = {place: minutes for place, minutes in (said.longer_ways or {}).items() if minutes}
    ways = (Way("every way as usual", (Changed(at=at, longer_ways=dict.fromkeys(now, 0)),)),) if now else ()
    value = join_words(f"{say_way(plan, place)} {minutes} min more" for place, minutes in now.items())
    hint = f"where, and minutes more, as {way_example(plan, day)}{'; Enter alone: as usual' if now else ''}"
    return Topic("longer way", "Hall or way closed", value or "none", ways, "longer way", hint, is_changed=bool(now))


def way_example(plan: Plan, day: Day) -> str:
    """How it is typed, with a wing or a room that there is."""
    places = (*wings_of(plan), *(visit.room for visit in day.visits), *plan.rooms)
    return f"{places[0]} +2" if places else "12 +2"


def _gone(day: Day, marks: Marks, at: datetime) -> Topic:
    """She went home in the middle of the day, or was not there: what came after was not taught."""
    missed = [visit.name for visit in day.visits if was_not_taught(visit, marks)]
    value = f"{join_words(missed)} not taught" if missed else "no"
    ways = (Way("nothing was taught", not_taught_from(day, marks, at, 0)),)
    hint = "when, as 1130; Enter alone: before the first visit"
    return Topic("gone", "You went home, ill", value, ways, "gone", hint, is_changed=bool(missed))


def not_taught_from(day: Day, marks: Marks, at: datetime, minute: int) -> tuple[Reported, ...]:
    """Every visit that begins at a minute of the day or later, and of which nobody has told, as not taught."""
    return tuple(
        Reported(at=at, visit=visit.key, outcome="not taught")
        for visit in day.visits
        if visit.start >= minute and is_untold(visit, marks)
    )


def _has_sink(plan: Plan, room: str) -> bool:
    known = plan.room_by_id.get(room)
    return known is None or known.sink is not False


# --------------------------------------------------------------------------------------------------- of one visit


def lessons_for(plan: Plan, day: Day, visit: Visit, changes: Changed | None, at: datetime) -> tuple[Way, ...]:
    """Other lessons that may be taught in a visit, the likeliest first; then, if another one is, the class's own.

    The dry version of what is planned, the filler, what the grade is taught this year, then whatever is for any grade.
    """
    planned = visit.waiting or (visit.steps[0] if visit.steps else None)
    now = visit.steps[0].lesson if visit.steps else ""
    lesson = plan.lesson_by_id.get(planned.lesson) if planned is not None else None
    of_grade = plan.teaching.get(visit.grade, ())
    fitting = (each.id for each in plan.lessons if visit.grade in each.grades)
    order = (lesson.dry_version if lesson is not None else "", plan.school.habits.filler, *of_grade, *fitting)
    others = (each for each in dict.fromkeys(order) if each in plan.lesson_by_id and each != now)
    chosen = (changes.lessons or {}).get(visit.key) if changes is not None else None
    own = (Way("its own lesson again", (Changed(at=at, lessons={visit.key: ""}),)),) if chosen else ()
    return (
        *own,
        *(Way(plan.lesson_by_id[each].title, (Changed(at=at, lessons={visit.key: each}),)) for each in others),
    )


def topics_of_visit(plan: Plan, day: Day, visit: Visit, changes: Changed | None, at: datetime) -> tuple[Topic, ...]:
    """Everything else about a visit that may be different."""
    said = changes or Changed(at=at)
    away = Changed(at=at, away=(*(said.away or ()), visit.class_id))
    found = [Topic("away", "Not visited", "", (Way(f"{visit.class_id} is not visited", (away,)),))]
    found.append(_room(plan, visit, said, at))
    found += _part(plan, visit, said, at)
    found += _together(day, visit, at)
    came = f"{plural(visit.students, 'child')}{', about' if visit.about else ''}"
    found.append(Topic("children", "Children who come", came, (), "children", "how many come on this day, as 25"))
    return tuple(found)


def _room(plan: Plan, visit: Visit, said: Changed, at: datetime) -> Topic:
    own = plan.class_by_id[visit.class_id].room
    rooms = dict.fromkeys((own, *plan.rooms))
    ways = tuple(
        Way(
            say_room(room) + (" as usual" if room == own else ""),
            (Changed(at=at, rooms={visit.key: "" if room == own else room}),),
            is_so=room == visit.room,
        )
        for room in rooms
    )
    return Topic("room", "Room", say_room(visit.room), ways, is_changed=bool((said.rooms or {}).get(visit.key)))


def _part(plan: Plan, visit: Visit, said: Changed, at: datetime) -> Iterator[Topic]:
    """Another part of its own lesson, where it has more than one."""
    lesson = plan.lesson_by_id.get(visit.steps[0].lesson) if visit.steps and visit.moves_on else None
    if lesson is None or len(lesson.parts) < 2:
        return
    now, chosen = visit.steps[0].part, (said.parts or {}).get(visit.key, 0)
    ways = [
        Way(f"part {number}: {part.title}", (Changed(at=at, parts={visit.key: number}),), is_so=number == now)
        for number, part in enumerate(lesson.parts, 1)
    ]
    if chosen:
        ways.insert(0, Way("the part that is next", (Changed(at=at, parts={visit.key: 0}),)))
    yield Topic("part", "Part", f"{now} of {len(lesson.parts)}", tuple(ways), is_changed=bool(chosen))


def _together(day: Day, visit: Visit, at: datetime) -> Iterator[Topic]:
    """Taught together with another class of the day: this one comes to the other's visit. Its own grade comes first."""
    others = [each for each in day.visits if each.class_id != visit.class_id]
    others.sort(key=lambda each: (each.grade != visit.grade, abs(each.number - visit.number)))
    hosts = dict.fromkeys((each.class_id, each.name) for each in others)
    if hosts:
        ways = tuple(
            Way(f"with {host} in {name}", (Changed(at=at, joined={visit.class_id: host}),)) for host, name in hosts
        )
        yield Topic("together", "Taught together", "alone", ways)


def fallen_out(plan: Plan, day: Day, changes: Changed | None, at: datetime) -> tuple[FallsOut, ...]:
    """Planned visits of the day that do not take place, in time order."""
    said = changes or Changed(at=at)
    if not day.school_day:
        return ()
    there = {(visit.period, visit.class_id) for visit in day.visits}
    found = []
    for period, class_id in plan.timetable.get(day.day_name, {}).items():
        if class_id in plan.class_by_id and (period, class_id) not in there:
            why, back = _why_out(plan, said, period, class_id, at)
            found.append(FallsOut(f"out {period} {class_id}", class_id, f"{class_id}, {period}: {why}", back))
    return tuple(found)


def _why_out(plan: Plan, said: Changed, period: str, class_id: str, at: datetime) -> tuple[str, tuple[AnyEntry, ...]]:
    host = (said.joined or {}).get(class_id)
    if host:
        return f"with {host}", (Changed(at=at, joined={class_id: ""}),)
    if class_id in (said.away or ()):
        return "away", (Changed(at=at, away=tuple(each for each in said.away or () if each != class_id)),)
    if all(each.name != period for each in bells_on(plan, said).periods):
        return f"no {period} with these bells", ()
    return "no time is left for it" if said.interruptions else "tested", ()
