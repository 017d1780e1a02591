"""The visits of a date: which class, when, where, and which part of which lesson it has reached."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from typing import Literal

from msgspec import Struct

from checklists.calendar import Calendar
from checklists.class_places import advance, progress_of
from checklists.daybook.entries import EVERYWHERE, Changed, Guests
from checklists.daybook.state import Progress, State, Unsure
from checklists.lines.records import Step, Visit
from checklists.plan.records import Plan, SchoolClass
from checklists.taught_periods import Taught, is_tested, periods_taught, walk_more
from checklists.walks import STORE, DayWalks, is_upstairs, walks_of
from checklists.words import minute_of

MOST_STEPS = 3
"""Parts packed for one visit while outcomes are unknown: beyond three nobody finds anything in the box."""


def steps_for(plan: Plan, state: State, class_: SchoolClass, day: date, visits_before: int = 0) -> tuple[Step, ...]:
    """The part that is next, and after visits of unknown outcome the parts it might be instead.

    ``visits_before`` of the class on the same day are taken to go on by one part each.
    """
    progress = progress_of(plan, state, class_)
    steps: list[Step] = []
    unsure = [each for each in state.unsure.get(class_.id, ()) if progress is None or not _is_ahead(each, progress)]
    for n in range(visits_before + min(len(unsure), MOST_STEPS - 1) + 1):
        if progress is None or progress.lesson not in plan.lesson_by_id:
            break
        if n >= visits_before:
            steps.append(Step(progress.lesson, progress.part))
        progress = advance(plan, class_, progress, day)
    return tuple(dict.fromkeys(steps))


def _is_ahead(unsure: Unsure, progress: Progress) -> bool:
    """Whether a later part was chosen for the visit nobody has told of: the next one is the same for either answer."""
    return unsure.chosen and unsure.lesson == progress.lesson and unsure.part > progress.part


def visits_on(plan: Plan, state: State, calendar: Calendar, day: date, change: Changed | None) -> tuple[Visit, ...]:
    """The day's visits in time order, numbered V1, V2 …; none where there is no school or no class has a lesson."""
    change = change or Changed(at=datetime.combine(day, time()))
    taught = periods_taught(plan, state, calendar, day, change)
    walks = walks_of(plan, change)
    visits: list[Visit] = []
    place, free_since = STORE, minute_of(plan.school.habits.arrival)
    for at, each in enumerate(taught):
        part = _part_of(plan, state, change, day, each, visits)
        came = _who_comes(plan, change, each)
        room = (change.rooms or {}).get(each.key) or each.class_.room
        more = walk_more(state, day, each.period)
        to_store = walks.minutes(place, STORE) + plan.school.habits.swap_minutes
        after = taught[at + 1].start - each.end if at + 1 < len(taught) else 24 * 60 - each.end
        visits.append(
            Visit(
                key=each.key,
                number=at + 1,
                class_id=each.class_.id,
                grade=each.class_.grade,
                period=each.period,
                room=room,
                start=each.start,
                end=each.end,
                students=came.students,
                about=came.about,
                tables=each.class_.tables,
                steps=part.steps,
                walk_before=walks.minutes(place, room) + (more if place != room else 0),
                gap_before=max(0, each.start - free_since),
                gap_after=max(0, after),
                swap_minutes_before=to_store + walks.minutes(STORE, room) + 2 * more,
                is_first=at == 0,
                is_last=at == len(taught) - 1,
                substitute=bool(change.substitute),
                instead=part.instead,
                insisted=part.insisted,
                adults=came.adults,
                no_water=not {room, EVERYWHERE}.isdisjoint(change.water_off or ()),
                walk_more=more,
                by_hand=_minutes_by_hand(walks, change, room),
                left_ahead=(change.left_ahead or {}).get(each.key),
                guests=came.guests,
                joined=came.joined,
                go_on_too=part.go_on_too,
                split=part.split,
                done_ahead=part.done_ahead,
                next_part=part.next_part,
            )
        )
        place, free_since = room, each.end
    return tuple(visits)


class _PartTaught(Struct, frozen=True):
    """What a visit is about: its part or parts, and how they stand to the class's own next one."""

    steps: tuple[Step, ...]
    instead: Literal["", "chosen"]
    insisted: bool
    split: bool
    done_ahead: tuple[int, ...]
    next_part: int
    go_on_too: tuple[str, ...]
    """Classes taught together with it that stand at the very same part, and go on with it."""


def _part_of(
    plan: Plan, state: State, change: Changed, day: date, taught: Taught, before: Sequence[Visit]
) -> _PartTaught:
    """The class's own next part after the day's visits ``before``, or what was chosen for the visit in its place."""
    class_, key = taught.class_, taught.key
    instead = _taught_instead(plan, change, key)
    progress = progress_of(plan, state, class_)
    gone_on = visits_that_go_on(before, class_.id)
    own = steps_for(plan, state, class_, day, gone_on)
    following = own[0] if own and instead is None else None
    chosen = _part_chosen(plan, change, key, following)
    with_it = (plan.class_by_id[other] for other in taught.joined)
    same = [one for one in with_it if own and steps_for(plan, state, one, day, gone_on) == own]
    ahead = progress.done_ahead if progress is not None else ()
    own = (chosen,) if chosen is not None else own
    return _PartTaught(
        steps=own if instead is None else instead,
        instead="chosen" if instead is not None and not change.substitute else "",
        insisted=(change.lessons or {}).get(key) == "" or chosen is not None,
        split=bool((change.split or {}).get(key)) and instead is None,
        done_ahead=_done_ahead_of(progress, following),
        next_part=following.part if following is not None and chosen not in (None, following) else 0,
        go_on_too=tuple(one.id for one in same if _is_ahead_by(plan, state, one, ahead)),
    )


class _Came(Struct, frozen=True):
    """Who is in the room."""

    students: int
    about: bool
    adults: int
    guests: tuple[Guests, ...]
    joined: tuple[Guests, ...]


def _who_comes(plan: Plan, change: Changed, taught: Taught) -> _Came:
    """The class with its guests, and whole classes that are taught together with it."""
    class_, with_it = taught.class_, [plan.class_by_id[other] for other in taught.joined]
    guests = tuple(some for some in change.guests or () if some.join == class_.id and some.count)
    joined = tuple(Guests(one.id, class_.id, _students_on(one, change)) for one in with_it)
    return _Came(
        students=_students_on(class_, change) + sum(some.count for some in (*guests, *joined)),
        about=any(one.is_about and one.id not in (change.students or {}) for one in (class_, *with_it)),
        adults=_adults_on(class_, change) + sum(_adults_on(one, change) - 1 for one in with_it),
        guests=guests,
        joined=joined,
    )


def _taught_instead(plan: Plan, change: Changed, visit: str) -> tuple[Step, ...] | None:
    """What a substitute teaches, or the lesson she has chosen for the visit; None for the class's own part."""
    if change.substitute:
        filler = plan.school.habits.filler
        return (Step(filler, 1),) if filler in plan.lesson_by_id else ()
    chosen = (change.lessons or {}).get(visit, "")
    return (Step(chosen, 1),) if chosen in plan.lesson_by_id else None


def visits_that_go_on(visits: Sequence[Visit], class_id: str) -> int:
    """How many of the day's earlier visits bring the class from its next part to the one after it."""
    return sum(each.class_id == class_id and each.moves_on and not each.next_part for each in visits)


def _part_chosen(plan: Plan, change: Changed, visit: str, following: Step | None) -> Step | None:
    """The part of the class's own lesson that she has chosen for a visit, or its next one; None: not chosen."""
    part = (change.parts or {}).get(visit, 0)
    if following is None or not 0 < part <= len(plan.lesson_by_id[following.lesson].parts):
        return None
    return Step(following.lesson, part)


def _done_ahead_of(progress: Progress | None, following: Step | None) -> tuple[int, ...]:
    """Parts later than the one that follows which the class has done already."""
    if progress is None or following is None or progress.lesson != following.lesson:
        return ()
    return tuple(n for n in progress.done_ahead if n > following.part)


def _is_ahead_by(plan: Plan, state: State, class_: SchoolClass, parts: tuple[int, ...]) -> bool:
    """Whether these are the later parts that a class has done already."""
    progress = progress_of(plan, state, class_)
    return progress is not None and progress.done_ahead == parts


def _minutes_by_hand(walks: DayWalks, change: Changed, room: str) -> int:
    """One way from the store where no cart gets there: by the stairs, or the usual walk."""
    if change.elevator_out and is_upstairs(walks.plan, room):
        return max(1, walks.by_stairs(room))
    return max(1, walks.minutes(STORE, room)) if change.no_cart else 0


def _adults_on(class_: SchoolClass, change: Changed) -> int:
    return (change.adults or {}).get(class_.id, class_.adults)


def _students_on(class_: SchoolClass, change: Changed) -> int:
    """How many of a class's own children come: as said for the day, less those who are with another class."""
    said = (change.students or {}).get(class_.id, class_.headcount)
    return max(0, said - sum(each.count for each in change.guests or () if each.of == class_.id))


def next_visit_of(
    plan: Plan, calendar: Calendar, class_id: str, after: date, state: State | None = None
) -> date | None:
    """The date of a class's next visit later than ``after``, as planned; None where the year holds none.

    ``state`` has the times of testing that are known: in these it does not come.
    """
    class_ = plan.class_by_id.get(class_id)
    timetable = plan.timetable.items()
    periods = {name: [each for each, other in day.items() if other == class_id] for name, day in timetable}

    def comes(day: date) -> bool:
        mine = periods.get(calendar.day_name(day), [])
        if class_ is None or state is None or not state.testing:
            return bool(mine)
        return any(not is_tested(state, day, class_.grade, each) for each in mine)

    return next((day for day in calendar.school_days_after(after) if comes(day)), None)
