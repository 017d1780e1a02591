"""What rides in a visit for those who missed a part or are not done with one: numbers of children, never who."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checklists.daybook.state import Owed, State
from checklists.lines.catch_up import children_owed, how_made_up, part_of
from checklists.lines.records import Line, Visit
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from checklists.words import plural


def say_catch_up_along(
    plan: Plan, rules: RuleSet, state: State, visit: Visit, lines: Sequence[Line]
) -> tuple[str, ...]:
    """A sentence for each part that is owed to the class and can be made up here. ``lines`` are those of the visit."""
    where = "in the box" if any(line.catch_up_for == visit.class_id for line in lines) else ""
    reserve = "reserve along" if lines else ""  # it shares the margin of the ordinary lines
    return (*_missed(plan, rules, state, visit, where, reserve), *_unfinished(plan, state, visit, where))


def _missed(plan: Plan, rules: RuleSet, state: State, visit: Visit, where: str, reserve: str) -> Iterator[str]:
    for owed in state.owed.get(visit.class_id, ()):
        part = part_of(plan, owed.lesson, owed.part)
        how = "none" if part is None else how_made_up(plan, owed, part, visit, rules.vocabulary.media)
        if how not in ("full", "short"):
            continue
        of_part = _of_part(plan, visit, owed.lesson, owed.part)
        if owed.unknown:
            yield _with(f"{of_part}, nobody could say by whom", reserve)
        elif children_owed(owed):
            yield _with(_say_owed(owed, of_part), f"short version {where}" if where and how == "short" else where)


def _with(said: str, where: str) -> str:
    return f"{said}: {where}" if where else said


def _say_owed(owed: Owed, of_part: str) -> str:
    children = children_owed(owed)
    if owed.broken:
        return f"{of_part}, {plural(children, 'piece')} to make again"
    if owed.new:
        return f"{of_part}, {plural(children, 'new child')}"
    return f"{of_part}, {plural(children, 'child')}"


def _unfinished(plan: Plan, state: State, visit: Visit, where: str) -> Iterator[str]:
    for each in state.unfinished.get(visit.class_id, ()):
        if part_of(plan, each.lesson, each.part) is not None and each.count:
            of_part = _of_part(plan, visit, each.lesson, each.part)
            said = f"not done with {of_part}, {plural(each.count, 'child')}"
            yield _with(said, where)


def _of_part(plan: Plan, visit: Visit, lesson: str, part: int) -> str:
    """ "part 1", with its lesson where the visit has another one."""
    same = any(step.lesson == lesson for step in visit.steps)
    return f"part {part}" if same else f"part {part} of {plan.title_of_lesson(lesson)}"
