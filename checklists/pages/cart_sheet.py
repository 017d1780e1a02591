"""The cart sheet of a day made: what the paper on the cart says of each visit, in order of time.

It is for anybody's eyes: rooms, times, numbers of children and things; no need, no reason, no class-list number. What
is adapted stands there as a thing and a table. ``cart_sheet_text`` and ``cart_sheet_html`` lay it out;
``cart_sheet_json`` has it for scripts. Names are cleaned here: nothing in them is obeyed by a terminal or a printer.
"""

from __future__ import annotations

from datetime import datetime

from checklists.daybook.line_states import state_of
from checklists.daybook.marks import Marks
from checklists.daybook.minutes_left import leave_by_now
from checklists.daybook.reports import went_out
from checklists.daybook.state import State
from checklists.daybook.there_for import needed_by
from checklists.lines.clean_up import clean_up_from, sink_in
from checklists.lines.containers import CART, FOLDER, name_of
from checklists.lines.records import Container, Day, Line, Visit
from checklists.lines.store_stops import StoreStop
from checklists.pages.cart_sheet_records import (
    Ahead,
    Along,
    CartSheet,
    Counted,
    FolderAlong,
    Stop,
    TableThing,
    Taught,
    Trays,
    VisitBlock,
)
from checklists.pages.catch_up_along import say_catch_up_along
from checklists.plan.records import Plan, Room
from checklists.route.day_route import DayRoute
from checklists.route.stops import way_of
from checklists.rules.read import RuleSet
from checklists.rules.records import Rule
from checklists.taught_periods import bells_on
from checklists.walks import STORE, walks_of
from checklists.words import clean


def cart_sheet_of(
    plan: Plan,
    rules: RuleSet,
    day: Day,
    marks: Marks,
    state: State,
    printed: datetime,
    route: DayRoute,
    ahead: int,
) -> CartSheet:
    """The sheet of a day. ``state`` is the opening the day was made from, ``printed`` the moment to put on it.

    ``ahead`` are the minutes that leaving ahead before school still takes.
    """
    leave_by = leave_by_now(day, marks, waits=route.fetched_later)
    way = way_of(plan, bells_on(plan, marks.changes), day, route)
    stops = way.stops
    first_of_leg = {stop.before_visit for stop in stops}
    places = {each.id: _place_of(each, marks) for each in day.containers}
    on_top = _folders_on_top(plan, day, first_of_leg)
    blocks = []
    before: Visit | None = None
    late = [max(0, -each.spare) for each in route.told.ways] if route.told is not None else [0] * len(day.visits)
    helped = frozenset(route.helped)
    for visit, minutes in zip(day.visits, late, strict=True):
        comes_from = None if visit.key in first_of_leg else before
        standing = way.standing.get(visit.key, frozenset())
        blocks.append(
            _block(plan, rules, day, marks, state, visit, comes_from, places, on_top, standing, helped, minutes)
        )
        before = visit
    number_of = {visit.key: visit.number for visit in day.visits}
    return CartSheet(
        school=clean(plan.school.name),
        date=day.date,
        day_name=clean(day.day_name),
        is_cycle=plan.school.rotation.kind == "cycle",
        bells=clean(day.bells),
        leave_by=leave_by,
        ahead_by=leave_by - ahead if leave_by is not None and ahead else None,
        printed=printed,
        substitute=any(visit.substitute for visit in day.visits),
        why_no_visits="" if day.visits else clean(day.why_no_school or "no visits"),
        visits=tuple(blocks),
        stops=tuple(_stop(plan, each, number_of[each.before_visit], day, places, leave_by) for each in stops),
        behind=tuple((clean(name_of(plan, each)), clean(room)) for each, room in way.behind),
    )


def _stop(
    plan: Plan, stop: StoreStop, before_visit: int, day: Day, places: dict[str, str], leave_by: int | None
) -> Stop:
    """``leave_by``: in the morning, with what is still to be fetched."""
    by_id = {each.id: each for each in day.containers}
    return Stop(
        before_visit=before_visit,
        breaks=tuple(clean(each) for each in stop.breaks),
        since=stop.since,
        leave_by=stop.leave_by if stop.since is not None or leave_by is None else leave_by,
        off=tuple(clean(name_of(plan, each)) for each in stop.off),
        on=tuple(_along(by_id[each], places) for each in stop.on),
        half_slots=stop.half_slots,
        holds=plan.school.cart.half_slots,
        too_much=stop.too_much,
        minutes=stop.minutes,
        fetch=tuple((clean(name_of(plan, each)), clean(room), minutes) for each, room, minutes in stop.fetch),
        ahead=tuple(
            Ahead(tuple(clean(name_of(plan, each)) for each in containers), clean(room), minutes)
            for room, containers, minutes in stop.ahead
        ),
        by_hand=tuple(_along(by_id[each], places) for each in stop.by_hand),
        mass_and_trips=stop.mass_and_trips,
        back=tuple(clean(name_of(plan, each)) for each in stop.back),
    )


def _block(
    plan: Plan,
    rules: RuleSet,
    day: Day,
    marks: Marks,
    state: State,
    visit: Visit,
    comes_from: Visit | None,
    places: dict[str, str],
    on_top: set[str],
    standing: frozenset[str],
    helped: frozenset[str],
    late: int,
) -> VisitBlock:
    room = plan.room_by_id.get(visit.room, Room(visit.room))
    class_ = plan.class_by_id[visit.class_id]
    lines = [line for line in day.lines if visit.key in line.visits and goes_along(line, marks)]
    decisions = [each for each in day.decisions if each.visit == visit.key]
    from_store = walks_of(plan, day).minutes(STORE, visit.room)
    return VisitBlock(
        number=visit.number,
        key=visit.key,
        class_id=clean(visit.class_id),
        room=clean(visit.room),
        start=visit.start,
        end=visit.end,
        students=visit.students,
        about=visit.about,
        tables=visit.tables,
        guests=tuple((clean(each.of), each.count) for each in visit.guests),
        taught=tuple(_taught(plan, step.lesson, step.part) for step in visit.steps),
        own_part_waits=bool(visit.instead),
        to_decide=clean(decisions[0].text) if decisions else "",
        packed_meanwhile=not any(each.stops for each in decisions),
        from_room="" if comes_from is None else clean(comes_from.room),
        walk=from_store if comes_from is None and not visit.is_first else visit.walk_before,
        gap=None if comes_from is None else visit.gap_before,
        late=late,
        along=tuple(
            _along(each, places, stands_there=each.id in standing, by_helper=each.id in helped)
            for each in day.containers
            if each.id != CART and visit.key in each.visits
        ),
        folders=tuple(_folder(plan, line, visit, on_top) for line in lines if line.supply.startswith(FOLDER)),
        sink=sink_in(plan, state, visit, day.date),
        projector=room.projector,
        own=tuple(clean(plan.name_of_supply(each)) for each in class_.has),
        at_tables=_at_tables(plan, rules, visit, lines),
        trays=_trays(visit, lines),
        clean_up_from=clean_up_from(plan, rules, state, visit, day.date),
        counted=_counted(day, marks, visit, lines),
        missed=tuple(clean(each) for each in say_catch_up_along(plan, rules, state, visit, lines)),
    )


def goes_along(line: Line, marks: Marks) -> bool:
    """Whether a line's things ride: not what was crossed off or must not come along."""
    return not line.forbidden and state_of(line, marks) != "not needed"


def _taught(plan: Plan, lesson: str, part: int) -> Taught:
    known = plan.lesson_by_id[lesson]
    return Taught(clean(known.title), part, len(known.parts), clean(known.parts[part - 1].title))


def _place_of(container: Container, marks: Marks) -> str:
    said = marks.places.get(container.id)
    place = said.place if said is not None else container.place
    return "" if place == STORE else place


def _along(
    container: Container, places: dict[str, str], *, stands_there: bool = False, by_helper: bool = False
) -> Along:
    place = "" if stands_there else clean(places[container.id])
    return Along(clean(container.name), clean(container.sign), place, stands_there, by_helper)


def _folders_on_top(plan: Plan, day: Day, first_of_leg: set[str]) -> set[str]:
    """Keys of visits whose folders lie on the top tray, "visit line": from one stop to the next as many as it takes."""
    found: set[str] = set()
    room = 0
    for visit in day.visits:
        if visit.key in first_of_leg:
            room = plan.school.cart.folders_on_top
        for line in day.lines:
            if line.supply.startswith(FOLDER) and visit.key in line.visits and room > 0:
                found.add(f"{visit.key} {line.key}")
                room -= 1
    return found


def _folder(plan: Plan, line: Line, visit: Visit, on_top: set[str]) -> FolderAlong:
    rides_in = "" if f"{visit.key} {line.key}" in on_top else clean(name_of(plan, line.container))
    return FolderAlong(clean(line.supply.removeprefix(FOLDER)), line.number, rides_in)


def _at_tables(plan: Plan, rules: RuleSet, visit: Visit, lines: list[Line]) -> tuple[TableThing, ...]:
    """The adapted things of a visit, each with the tables of the class's list where they are wanted."""
    by_id = {rule.id: rule for rule in rules.rules}
    return tuple(
        TableThing(line.number, clean(line.name), count, _tables_for(plan, by_id, visit, line))
        for line in lines
        if line.group == "Differentiation" and not line.catch_up_for and (count := needed_by(line, visit.key))
    )


def _tables_for(plan: Plan, rules: dict[str, Rule], visit: Visit, line: Line) -> tuple[int, ...]:
    behind = [rules[why.rule] for why in line.because if visit.key in why.visits and why.rule in rules]
    asked = {need for rule in behind for need in _needs_asked(rule)}
    needs = (need for need in plan.class_by_id[visit.class_id].needs if need.need in asked)
    return tuple(sorted({table for need in needs for table in need.tables}))


def _needs_asked(rule: Rule) -> set[str]:
    """The needs that a rule asks for, or counts by."""
    said = [*rule.when, *(each.per for each in (*rule.add, *rule.replace))]
    return {each.removeprefix("need ") for each in said if each.startswith("need ")}


def _trays(visit: Visit, lines: list[Line]) -> tuple[Trays, ...]:
    return tuple(
        Trays(line.number, clean(line.name), use.sets)
        for line in lines
        for use in line.uses
        if use.visit == visit.key and use.sets and line.group != "Differentiation"
    )


def _counted(day: Day, marks: Marks, visit: Visit, lines: list[Line]) -> tuple[Counted, ...]:
    """One entry for a supply, wherever it rides: she counts what is in the room, not what is in which box."""
    found = []
    for supply, out in went_out(day, visit.key, marks).items():
        mine = [line for line in lines if line.supply == supply and line.counted]
        if mine:
            found.append(Counted(tuple(line.number for line in mine), supply, clean(mine[0].name), out))
    return tuple(found)
