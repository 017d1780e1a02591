"""Carry over: what is unfinished at the day's end and comes back, with since when.

A kit is unfinished when something in it came up short, it was not put right after use, it stayed in a room, or a
catch-up kit was not handed out. Work for the store stands on the next school day's list, a class's own things on its
next visit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import structs

from checklists.daybook.marks import Marks, has_now, state_of
from checklists.daybook.records import Carried, Reported, State
from checklists.daybook.reports import is_in_use, was_taught
from checklists.lines.catch_up import children_in
from checklists.lines.containers import name_of
from checklists.lines.records import Day, Line, Visit
from checklists.plan.records import Plan
from checklists.visits import STORE
from checklists.words import join_words, plural, say_room


def carried_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported], *, as_planned: bool = False
) -> tuple[Carried, ...]:
    """Everything carried over out of a day: older matters still open, then the day's own, each under one key.

    With ``as_planned`` (a day still to come, looked past) only what she has said of the day is carried.
    """
    carried = {each.key: each for each in opening.carried if not _is_over(each, day, marks, opening)}
    for each in _new(plan, day, marks, opening, reports, as_planned):
        before = carried.get(each.key)
        if before is not None:
            each = structs.replace(each, since=before.since, not_before=before.not_before)
        carried[each.key] = each
    for key in marks.let_go:
        carried.pop(key, None)
    return tuple(_moved(each, marks) for each in carried.values())


def _moved(carried: Carried, marks: Marks) -> Carried:
    said = marks.carried_over.get(carried.key)
    return carried if said is None or said.to is None else structs.replace(carried, not_before=said.to)


def _is_over(carried: Carried, day: Day, marks: Marks, opening: State) -> bool:
    """Whether an older matter has come to its end on this day."""
    if carried.key in marks.seen_to or carried.key in marks.let_go:
        return True
    match carried.kind:
        case "short":
            line = next(
                (each for each in day.lines if (each.container, each.supply) == (carried.container, carried.supply)),
                None,
            )
            return line is not None and state_of(line, marks) in ("packed", "met")
        case "not put right":
            return bool(marks.put_right.get(carried.container))
        case "left in a room":
            said = marks.places.get(carried.container)
            return said is not None and said.place == STORE
        case "catch-up not handed out":
            mine = [visit.key for visit in day.visits if visit.class_id == carried.for_class]
            return any(marks.handed_out.get(key) for key in mine) or carried.for_class not in opening.owed
        case "preparation":
            task = next((each for each in day.tasks if each.key == carried.key), None)
            return task is None or task.for_date <= day.date
        case "count pending":
            return any(_count_key(day, visit, supply) == carried.key for visit, supply in marks.sharps)
    return False


def _count_key(day: Day, visit: str, supply: str) -> str:
    return f"count/{day.date.isoformat()}/{visit}/{supply}"


def _new(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported], as_planned: bool
) -> Iterator[Carried]:
    for line in day.lines:
        if not line.catch_up_for and state_of(line, marks) in ("short", "part packed"):
            missing = line.need - has_now(line, marks)
            if missing > 0:
                yield _short(plan, day, line, missing)
    for task in day.tasks:
        said = marks.carried_over.get(task.key)
        if said is not None and said.to is not None:
            yield Carried(task.key, "preparation", task.what, day.date, for_class=task.class_id, not_before=said.to)
    for container in day.containers:
        kit = plan.kit_by_id.get(container.id)
        if kit is None or not kit.reset or not is_in_use(kit.id, day, reports):
            continue
        if not marks.put_right.get(kit.id, as_planned):
            what = f"{container.name}: {kit.reset}"
            yield Carried(f"put right/{kit.id}", "not put right", what, day.date, container=kit.id)
    for container_id, stands in marks.places.items():
        if stands.place != STORE:
            what = f"{name_of(plan, container_id)} stayed in {say_room(stands.place)}"
            yield Carried(f"left/{container_id}", "left in a room", what, day.date, container=container_id)
    for visit in day.visits:
        lines = [line for line in day.lines if line.catch_up_for == visit.class_id]
        if lines and was_taught(reports[visit.key]) and not marks.handed_out.get(visit.key, as_planned):
            yield _not_handed_out(day, visit, lines, opening)
        if was_taught(reports[visit.key]) and not as_planned:
            yield from _counts_pending(day, visit, marks)


def _short(plan: Plan, day: Day, line: Line, missing: int) -> Carried:
    return Carried(
        f"short/{line.container}/{line.supply}",
        "short",
        f"{name_of(plan, line.container)}: {missing} {line.name} short",
        day.date,
        container=line.container,
        supply=line.supply,
        count=missing,
    )


def _not_handed_out(day: Day, visit: Visit, lines: list[Line], opening: State) -> Carried:
    children = children_in(opening.owed.get(visit.class_id, ()))
    for_whom = f" for {plural(children, 'child')}" if children else ""
    names = join_words(dict.fromkeys(line.name for line in lines[:3]))
    return Carried(
        f"catch-up/{visit.class_id}",
        "catch-up not handed out",
        f"Catch-up kit of {visit.class_id}{for_whom} not handed out: {names}",
        day.date,
        container=lines[0].container,
        for_class=visit.class_id,
    )


def _counts_pending(day: Day, visit: Visit, marks: Marks) -> Iterator[Carried]:
    """Sharps and own tools that went out and were not counted back."""
    for line in day.lines:
        if line.counted and visit.key in line.visits and (visit.key, line.supply) not in marks.sharps:
            if state_of(line, marks) == "not needed":
                continue
            what = f"{line.name} of {visit.name} {visit.class_id}, {say_room(visit.room)}: not counted back"
            yield Carried(
                _count_key(day, visit.key, line.supply),
                "count pending",
                what,
                day.date,
                container=line.container,
                supply=line.supply,
            )
