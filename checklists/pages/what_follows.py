"""What a change of the plan does to a day's list, in sentences: for a note about a class, or a rule of her own."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.daybook.day_change import DayChange, LineChange, compare_days
from checklists.daybook.line_states import has_now
from checklists.daybook.marks import Marks
from checklists.lines.containers import name_of
from checklists.lines.records import Caution, Check, Day, Line, Task
from checklists.pages.reasons import is_hidden, say_forbidden
from checklists.plan.records import Plan
from checklists.words import clock, join_words, say_room


def what_follows(plan: Plan, before: Day, after: Day, marks: Marks, *, private: bool = False) -> tuple[str, ...]:
    """A sentence for each thing that is different now, what must not come along first; () where nothing is.

    ``private``: also what tells of a child's need.
    """
    change = compare_days(plan, before, after, marks)
    stopped = {line.key: line.forbidden for line in before.lines}
    blocked = [line for line in after.lines if line.forbidden and not stopped.get(line.key)]
    allowed = {line.key for line in after.lines if not line.forbidden and stopped.get(line.key)}
    said = [*_of_visits(plan, change), *(_say_stopped(plan, line, marks) for line in blocked)]
    said += [f"{_where(plan, line)} may come along again." for line in after.lines if line.key in allowed]
    said += [words for each in change.lines if (words := _say_line(plan, each))]
    critical = {line.key for line in before.lines if line.critical}
    kept = {line.key for line in before.lines}
    said += [
        f"{_where(plan, line)} is critical now."
        for line in after.lines
        if line.critical and line.key in kept - critical and not line.forbidden
    ]
    return (*said, *_other_things(before, after, private))


def follows_in_short(plan: Plan, before: Day, after: Day, marks: Marks) -> str:
    """The first of it, and how much more there is, in one line."""
    follows = what_follows(plan, before, after, marks)
    if not follows:
        return "Nothing is different that day."
    return f"{follows[0]} And {len(follows) - 1} more." if len(follows) > 1 else follows[0]


def _of_visits(plan: Plan, change: DayChange) -> Iterator[str]:
    yield from (f"{each.class_id} does not come in {each.period}." for each in change.visits_out)
    yield from (f"{each.class_id} comes in {each.period}, at {clock(each.start)}." for each in change.visits_in)
    yield from (f"{each.class_id} comes from {clock(each.start)} to {clock(each.end)}." for each in change.other_times)
    yield from (f"{now.class_id} is in {say_room(now.room)}." for _, now in change.other_rooms)
    for _, now in change.other_lessons:
        steps = [f"{plan.title_of_lesson(step.lesson)}, part {step.part}" for step in now.steps]
        yield f"{now.class_id}: {join_words(steps) or 'no lesson'}."
    if change.containers_out:
        stay = "stays" if len(change.containers_out) == 1 else "stay"
        yield f"{join_words(each.name for each in change.containers_out)} {stay} at the store."


def _other_things(before: Day, after: Day, private: bool) -> Iterator[str]:
    names = {visit.key: f"{visit.name} {visit.class_id}" for visit in after.visits}
    decided = {each.key for each in before.decisions}
    yield from (f"To decide: {each.text}" for each in after.decisions if each.key not in decided)
    stood: tuple[Caution | Check | Task, ...] = (*before.cautions, *before.checks, *before.tasks)
    there = {each.key for each in stood}
    things: tuple[Caution | Check | Task, ...] = (*after.cautions, *after.checks, *after.tasks)
    for each in things:
        if each.key not in there and not is_hidden(each, private):
            noun = "To prepare" if isinstance(each, Task) else "To check" if isinstance(each, Check) else "Caution"
            yield f"{noun}, {names.get(each.visit, each.visit)}: {each.what.rstrip('.')}."


def _where(plan: Plan, line: Line) -> str:
    kit = f" (catch-up kit of {line.catch_up_for})" if line.catch_up_for else ""
    return f"{name_of(plan, line.container)}: {line.name}{kit}"


def _say_stopped(plan: Plan, line: Line, marks: Marks) -> str:
    """What must not come along; not why, where that tells of a child's need: she has just said so."""
    there = has_now(line, marks)
    out = f" Take out the {there} in it." if there else ""
    return f"{_where(plan, line)} {say_forbidden(line, False)}{out}"


def _say_line(plan: Plan, change: LineChange) -> str:
    """What hands have to do about a line, else the number that is different."""
    container = name_of(plan, change.line.container)
    name = _where(plan, change.line).removeprefix(f"{container}: ")
    if change.take_out:
        rest = f", {change.need_now} are needed" if change.need_now else ""
        return f"{container}: take out {change.take_out} {name}{rest}."
    if change.put_in:
        return f"{container}: put in {change.put_in} {name}."
    if not change.need_now:
        return f"{container}: {name} is not needed."
    if change.need_before:
        return f"{container}: {change.need_now} {name} needed instead of {change.need_before}."
    return f"{container}: {change.need_now} {name} needed, {change.has} in it."
