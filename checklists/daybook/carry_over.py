"""Carry over: what is unfinished at the day's end and comes back, with since when.

A kit is unfinished when something in it came up short, it was not put right after use, it stayed in a room, or a
catch-up kit was not handed out. Work for the store stands on the next school day's list, a class's own things on its
next visit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import structs

from checklists.daybook.entries import Reported
from checklists.daybook.line_states import has_now, is_over, state_of
from checklists.daybook.lost_day import packed_for_nothing
from checklists.daybook.marks import Marks, late_key
from checklists.daybook.reports import is_in_use, was_taught, went_out
from checklists.daybook.state import Carried, State
from checklists.lines.catch_up import children_in
from checklists.lines.containers import FOLDER, name_of
from checklists.lines.records import Day, Line, Visit
from checklists.plan.records import Plan
from checklists.walks import STORE
from checklists.words import join_words, plural, say_room


def carried_after(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported], *, only_said: bool = False
) -> tuple[Carried, ...]:
    """Everything carried over out of a day: older matters still open, then the day's own, each under one key.

    With ``only_said`` (a day still to come, looked past, or one of which nothing at all was told) only what she has
    said of the day is carried.
    """
    carried = {each.key: each for each in opening.carried if not _has_ended(each, day, marks, opening)}
    for each in _new(plan, day, marks, opening, reports, only_said):
        before = carried.get(each.key)
        if before is not None and (each.kind != "left in a room" or before.what == each.what):
            each = structs.replace(each, since=before.since, not_before=before.not_before)
        carried[each.key] = each
    for key in marks.let_go:
        carried.pop(key, None)
    return tuple(_moved(each, marks) for each in carried.values())


def _has_ended(carried: Carried, day: Day, marks: Marks, opening: State) -> bool:
    nobody_owed = carried.kind == "catch-up not handed out" and carried.for_class not in opening.owed
    came = carried.keep_for is not None and day.date >= carried.keep_for
    return nobody_owed or came or is_over(carried, day, marks)


def _moved(carried: Carried, marks: Marks) -> Carried:
    said = marks.carried_over.get(carried.key)
    return carried if said is None or said.to is None else structs.replace(carried, not_before=said.to)


def _new(
    plan: Plan, day: Day, marks: Marks, opening: State, reports: Mapping[str, Reported], only_said: bool
) -> Iterator[Carried]:
    yield from packed_for_nothing(plan, day.date, marks, opening)
    for line in day.lines:
        is_short = state_of(line, marks) in ("short", "part packed")
        if is_short and not line.catch_up_for and not line.supply.startswith(FOLDER):
            missing = _missing(day, line, marks)
            short = _short(plan, day, line, missing)
            ticked = marks.seen_to.get(short.key)
            if missing > 0 and (ticked is None or ticked < marks.lines[line.key].at):
                yield short
    for task in day.tasks:
        said = marks.carried_over.get(task.key)
        if said is not None and said.to is not None:
            yield Carried(task.key, "preparation", task.what, day.date, for_class=task.class_id, not_before=said.to)
    for container in day.containers:
        kit = plan.kit_by_id.get(container.id)
        if kit is None or not kit.reset or not is_in_use(kit.id, day, reports):
            continue
        if not marks.put_right.get(kit.id, only_said):
            what = f"{container.name}: {kit.reset}"
            yield Carried(f"put right/{kit.id}", "not put right", what, day.date, container=kit.id)
    for container_id, stands in marks.places.items():
        if stands.place != STORE:
            what = f"{name_of(plan, container_id)} stayed in {say_room(stands.place)}"
            yield Carried(f"left/{container_id}", "left in a room", what, day.date, container=container_id)
    for visit in day.visits:
        lines = [line for line in day.lines if line.catch_up_for == visit.class_id]
        if lines and was_taught(reports[visit.key]) and not marks.handed_out.get(visit.key, only_said):
            yield _not_handed_out(day, visit, lines, opening)
        if was_taught(reports[visit.key]):
            yield from _counts_pending(day, visit, marks, only_said)


def _missing(day: Day, line: Line, marks: Marks) -> int:
    """How many are short; of what is in pails, in all of them together."""
    same = [each for each in day.lines if each.pail and (each.container, each.supply) == (line.container, line.supply)]
    return sum(max(0, each.need - has_now(each, marks)) for each in same or [line])


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


def _counts_pending(day: Day, visit: Visit, marks: Marks, only_said: bool) -> Iterator[Carried]:
    """Sharps and own tools that went out and were not counted back; with ``only_said`` those left for later by word."""
    for supply, out in went_out(day, visit.key, marks).items():
        is_pending = (visit.key, supply) in marks.count_later if only_said else (visit.key, supply) not in marks.sharps
        if is_pending:
            line = next(line for line in day.lines if line.supply == supply and line.counted)
            what = f"{out} {line.name} of {visit.class_id}, {say_room(visit.room)}: not counted back"
            key = late_key((day.date, visit.key, supply))
            yield Carried(key, "count pending", what, day.date, line.container, supply, count=out)
