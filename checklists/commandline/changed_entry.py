"""What a request says of a day, as the entry that is put into its record."""

from __future__ import annotations

from datetime import date, datetime

from checklists.calendar import calendar_of
from checklists.commandline.day_values import NOBODY, OWN, UNINTERRUPTED
from checklists.commandline.finding import find_bells, find_class, find_cycle_day, find_place, find_visit
from checklists.commandline.request import NotUnderstood, Request
from checklists.daybook.entries import EVERYWHERE, Changed, Guests, Interruption
from checklists.lines.records import Day
from checklists.plan.records import Lesson, Plan
from checklists.walks import STORE, way_named, wings_of
from checklists.words import join_words, minute_of, nearest, plural, say_date


def changed_entry(request: Request, plan: Plan, before: Day, at: datetime, known: Changed | None = None) -> Changed:
    """The change of the day ``before`` that is asked for; refused where it cannot be, or where nothing is.

    ``known`` is what the day was changed to so far.
    """
    _refuse_day_off(plan, before.date)
    away = None if request.away is None else tuple(dict.fromkeys(find_class(each, plan) for each in request.away))
    entry = Changed(
        at=at,
        no_school=True if request.no_school else False if request.school else None,
        day=find_cycle_day(request.day, plan) if request.day else None,
        bells=find_bells(request.bells, plan) if request.bells else None,
        substitute=request.substitute,
        away=away,
        guests=_guests(request, plan, before, away or ()) if request.guests else None,
        students=_students(request, plan, before) if request.students_of else None,
        adults=_adults(request, plan, before) if request.adults_of else None,
        lessons=(_lessons(request, plan, before) | _own_again(request, before)) or None,
        parts=_parts(request, plan, before) if request.parts else None,
        rooms=_rooms(request, plan, before) if request.rooms else None,
        joined=_joined(request, plan, before) if request.joined else None,
        split={find_visit(visit, before).key: half for visit, half in request.halves} or None,
        interruptions=_interruptions(request, known) if request.interruptions else None,
        water_off=None if request.water_off is None else _water_off(request.water_off, plan),
        elevator_out=request.elevator_out,
        longer_ways=_longer_ways(request, plan, known) or None,
        no_cart=request.no_cart,
        planning_lost=request.planning_lost,
        store_opens=request.store_opens,
        fill=request.fill or None,  # type: ignore[arg-type]
        no_mess=request.no_mess,
    )
    if entry == Changed(at=at):
        raise NotUnderstood(
            f"Say what is different about {say_date(before.date)}, like trundle change --no-school;"
            f" trundle change --help shows everything that can be."
        )
    return entry


def _refuse_day_off(plan: Plan, day: date) -> None:
    planned = calendar_of(plan.school)
    if not planned.is_school_day(day):
        why = planned.why_no_school(day)
        raise NotUnderstood(f"{say_date(day)} is no school day in the plan ({why}). Say the day with --date.")


def _guests(request: Request, plan: Plan, before: Day, away: tuple[str, ...]) -> tuple[Guests, ...]:
    found: list[Guests] = []
    for said in request.guests:
        if said == NOBODY:
            continue
        of, join, count = find_class(said[0], plan), find_class(said[1], plan), said[2]
        if of == join:
            raise NotUnderstood(f"--with: {of} cannot join itself. Write --with 3-B:3-K=2 for two of 3-B in 3-K.")
        if join in away:
            raise NotUnderstood(f"--with: {join} is away itself, so nobody can join it.")
        _refuse_unvisited("--with", join, before)
        most = plan.class_by_id[of].headcount
        if count > most:
            raise NotUnderstood(f"--with: {of} has {plural(most, 'child')}, so {count} cannot join {join}.")
        found.append(Guests(of, join, count))
    return tuple(found)


def _students(request: Request, plan: Plan, before: Day) -> dict[str, int]:
    said = {find_class(word, plan): count for word, count in request.students_of}
    for class_id, count in said.items():
        _refuse_unvisited("--students", class_id, before)
        if count > 400:
            raise NotUnderstood(f"--students: {count} children are not one class.")
    return said


def _adults(request: Request, plan: Plan, before: Day) -> dict[str, int]:
    said = {find_class(word, plan): count for word, count in request.adults_of}
    for class_id, count in said.items():
        _refuse_unvisited("--adults", class_id, before)
        if not count:
            raise NotUnderstood(f"--adults: you are in the room yourself, so {class_id} has at least 1.")
    return said


def _refuse_unvisited(option: str, class_id: str, before: Day) -> None:
    """Only of a day with visits: what comes in by the same change has none before."""
    if before.visits and all(visit.class_id != class_id for visit in before.visits):
        there = join_words(f"{visit.name} {visit.class_id}" for visit in before.visits)
        raise NotUnderstood(f"{option}: {class_id} is not visited on {say_date(before.date)}; the visits are {there}.")


def _lessons(request: Request, plan: Plan, before: Day) -> dict[str, str]:
    return {
        find_visit(visit, before).key: "" if lesson.casefold() == OWN else find_lesson(lesson, plan).id
        for visit, lesson in request.lessons
    }


def _parts(request: Request, plan: Plan, before: Day) -> dict[str, int]:
    """Only parts that the class's lesson has; a part taught before may be taught again."""
    said: dict[str, int] = {}
    for word, part in request.parts:
        visit = find_visit(word, before)
        step = visit.waiting or (visit.steps[0] if visit.steps and not visit.instead else None)
        lesson = plan.lesson_by_id.get(step.lesson) if step is not None else None
        if lesson is not None and part > len(lesson.parts):
            raise NotUnderstood(
                f"--part: {visit.class_id} has {lesson.title}, which has {plural(len(lesson.parts), 'part')};"
                f" there is no part {part}."
            )
        if not visit.steps:
            raise NotUnderstood(
                f"--part: {visit.name} {visit.class_id} has no lesson, so no part of one can be chosen."
            )
        said[visit.key] = part
    return said


def _own_again(request: Request, before: Day) -> dict[str, str]:
    """A part of the class's own lesson is chosen for a visit in which another lesson was to be taught."""
    visits = [find_visit(word, before) for word, part in request.parts if part]
    return {visit.key: "" for visit in visits if visit.instead == "chosen"}


def _rooms(request: Request, plan: Plan, before: Day) -> dict[str, str]:
    return {
        find_visit(visit, before).key: "" if room.casefold() == OWN else _find_room("--room", room, plan)
        for visit, room in request.rooms
    }


def _find_room(option: str, word: str, plan: Plan) -> str:
    room = find_place(word, plan)
    if room == STORE:
        raise NotUnderstood(f"{option}: no class is taught at the store. Write a room's number.")
    return room


def _longer_ways(request: Request, plan: Plan, known: Changed | None) -> dict[str, int]:
    """Minutes more by place; "0" alone is every way that was said to be longer as usual again."""
    said = {place: minutes for place, minutes in ((known and known.longer_ways) or {}).items() if minutes}
    found: dict[str, int] = {}
    for word, minutes in request.longer_ways:
        if not word and not said:
            raise NotUnderstood("--longer-way 0: every way is as usual already.")
        found |= {_find_way(word, plan): minutes} if word else dict.fromkeys(said, 0)
    return found


def _find_way(word: str, plan: Plan) -> str:
    place = way_named(plan, word)
    if place is None:
        known = [*wings_of(plan), *plan.rooms]
        near = nearest(word, known)
        meant = f"Did you mean {near}?" if near else f"There are {join_words(known)}."
        raise NotUnderstood(f"--longer-way: {word} is no wing or room of the plan. {meant}")
    return place


def _joined(request: Request, plan: Plan, before: Day) -> dict[str, str]:
    found: dict[str, str] = {}
    for class_, other in request.joined:
        class_id, host = find_class(class_, plan), "" if other.casefold() == OWN else find_class(other, plan)
        if class_id == host:
            raise NotUnderstood(f"--join: {host} cannot join itself. Write --join 3-B:3-K for 3-B in the visit of 3-K.")
        if host:
            _refuse_unvisited("--join", host, before)
        found[class_id] = host
    chain = next(((each, host) for each, host in found.items() if found.get(host)), None)
    if chain is not None:
        raise NotUnderstood(f"--join: {chain[1]} joins {found[chain[1]]} itself. Let both join that class.")
    return found


def _interruptions(request: Request, known: Changed | None) -> tuple[Interruption, ...]:
    """Those said before and now; of two that begin at the same time the newer one."""
    before = () if UNINTERRUPTED in request.interruptions or known is None else known.interruptions or ()
    said = [Interruption(*each) for each in request.interruptions if each != UNINTERRUPTED]
    by_start = {minute_of(each.start): each for each in (*before, *said)}
    return tuple(by_start[start] for start in sorted(by_start))


def _water_off(words: tuple[str, ...], plan: Plan) -> tuple[str, ...]:
    if EVERYWHERE in [each.casefold() for each in words]:
        return (EVERYWHERE,)
    return tuple(dict.fromkeys(_find_room("--water-off", each, plan) for each in words))


def find_lesson(word: str, plan: Plan) -> Lesson:
    """A lesson by its id or title; a part of the title is enough where only one has it."""
    typed = word.casefold().strip()
    spoken = typed.replace("-", " ")
    for each in plan.lessons:
        if typed == each.id.casefold() or spoken == each.title.casefold():
            return each
    within = [each for each in plan.lessons if typed in each.id.casefold() or spoken in each.title.casefold()]
    if len(within) == 1:
        return within[0]
    if within:
        raise NotUnderstood(f"{word} may be {join_words((each.title for each in within[:6]), 'or')}. Say which.")
    near = nearest(word, [name for each in plan.lessons for name in (each.id, each.title)])
    titles = join_words(each.title for each in plan.lessons[:8])
    meant = f"Did you mean {near}?" if near else f"There are {titles}{' and more' if len(plan.lessons) > 8 else ''}."
    raise NotUnderstood(f"There is no lesson {word} in the plan. {meant}")
