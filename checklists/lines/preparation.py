"""Tasks: preparation for the visits of today and of the coming school days, each with the date it falls due.

Some fall due after a visit instead: the kiln is loaded when the clay is dry. By then the class has moved on, so these
follow from where it stands: what came of the part it did last is to be seen to before the part that is next.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from msgspec import Struct, structs

from checklists.class_places import progress_of, waiting_since
from checklists.daybook.state import State
from checklists.lines.ahead import days_ahead
from checklists.lines.car import car_tasks
from checklists.lines.quantities import round_up
from checklists.lines.reasoning import Judged, Reasoning
from checklists.lines.records import Because, Step, Task, Visit
from checklists.plan.records import SchoolClass
from checklists.rules.by_part import may_ask
from checklists.rules.records import Effect, TaskFor
from checklists.visits import next_visit_of, visits_on
from checklists.words import say_date

SHOWN_AHEAD = 2
"""School days ahead of which coming tasks are shown."""


class _Occasion(Struct, frozen=True):
    """What tasks are for: a visit with one part, on a date, and how that is said."""

    visit: Visit
    on: date
    key: str
    """ "prep/class/lesson/part" of the part that must not begin before the task is done."""
    said: str


def tasks_for(reasoning: Reasoning, day: date, judged: Sequence[Judged]) -> tuple[Task, ...]:
    """Tasks not yet done that are due by the school day after next, the earliest first."""
    found: dict[str, Task] = {}
    for task in _tasks_after(reasoning, day):
        found.setdefault(task.key, task)
    for task in car_tasks(reasoning, day, [one.visit for one in judged]):
        found.setdefault(task.key, task)
    for when, visit, step, effects in _visits_ahead(reasoning, day, judged):
        for task in _tasks_before(reasoning, when, visit, step, effects):
            found.setdefault(task.key, task)
    horizon = reasoning.calendar.add_school_days(day, SHOWN_AHEAD) or day
    shown = (task for task in found.values() if task.due <= horizon and task.key not in reasoning.state.prepared)
    moved_to = {each.key: each.not_before for each in reasoning.state.carried if each.kind == "preparation"}
    dated = (structs.replace(task, due=max(task.due, moved_to.get(task.key) or task.due)) for task in shown)
    return tuple(sorted(dated, key=lambda task: (task.due, task.for_date, task.visit, task.key)))


# --------------------------------------------------------------------------------------------- before a visit


def _lead_of_lessons(reasoning: Reasoning) -> int:
    """School days that the longest preparation of a lesson asks for."""
    parts = (part for lesson in reasoning.plan.lessons for part in lesson.parts)
    return max((prep.days_before for part in parts for prep in part.preps), default=0)


def _tasks_of_rules(reasoning: Reasoning) -> tuple[TaskFor, ...]:
    on = (rule for rule in reasoning.rules.rules if rule.id in reasoning.rules.clauses)
    return tuple(task for rule in on for task in rule.tasks)


def _visits_ahead(
    reasoning: Reasoning, day: date, judged: Sequence[Judged]
) -> Iterator[tuple[date, Visit, Step, Sequence[Effect]]]:
    """Today's visits, then those of the coming school days, each class taken to go on by one part a visit.

    Each with the effects among which a rule's tasks are; none beyond the days that rules look ahead. Where nobody has
    told what became of a visit, the class may be at either of two parts, and both are given.
    """
    for one in judged:
        for step, effects in one.by_step:
            yield day, one.visit, step, effects
    of_rules = max((0, *(task.days_before for task in _tasks_of_rules(reasoning)))) + SHOWN_AHEAD
    of_lessons = _lead_of_lessons(reasoning) + SHOWN_AHEAD
    today = [one.visit for one in judged]
    for n, ahead in enumerate(days_ahead(reasoning, day, today, max(of_rules, of_lessons)), 1):
        if n <= of_rules:
            for visit, step, effects in ahead.reasoning.tasks_of(ahead.date, ahead.visits):
                yield ahead.date, visit, step, effects
        else:
            yield from ((ahead.date, visit, step, ()) for visit in ahead.visits for step in visit.steps)


def _days_before(reasoning: Reasoning, when: date, count: int) -> date:
    """So many school days before a date; where the year has not so many, its first."""
    planned = reasoning.calendar.planned
    return reasoning.calendar.add_school_days(when, -count) or (planned[0] if planned else when)


def _tasks_before(
    reasoning: Reasoning, when: date, visit: Visit, step: Step, effects: Sequence[Effect]
) -> Iterator[Task]:
    lesson = reasoning.plan.lesson_by_id[step.lesson]
    said = f"{visit.class_id} has {lesson.title}, part {step.part}, on {say_date(when)}"
    occasion = _Occasion(visit, when, _key_of(visit.class_id, step), said)
    for n, prep in enumerate(lesson.parts[step.part - 1].preps, 1):
        due = _days_before(reasoning, when, prep.days_before)
        because = (Because(said, (visit.key,)),)
        yield Task(
            f"{occasion.key}/{n}", 0, prep.what, prep.minutes, due, when, visit.key, visit.class_id, False, because
        )
    for effect in effects:
        action = effect.action
        if isinstance(action, TaskFor) and not action.is_after:
            due = _days_before(reasoning, when, action.days_before)
            yield _task_of_rule(occasion, effect, action, due)


# ---------------------------------------------------------------------------------------------- after a visit


def _tasks_after(reasoning: Reasoning, day: date) -> Iterator[Task]:
    """What rules ask for once a part was taught, until the part after it is."""
    if not any(task.is_after for task in _tasks_of_rules(reasoning)):
        return
    plan, calendar = reasoning.plan, reasoning.calendar
    known: dict[date, tuple[Visit, ...]] = {}
    for class_ in plan.classes:
        for taught_on, step in _taught_last(reasoning, class_):
            tags = frozenset(plan.lesson_by_id[step.lesson].parts[step.part - 1].tags)
            if not may_ask(reasoning.rules, "tasks after", tags):
                continue
            visit = _visit_of(reasoning, class_, taught_on, known)
            if visit is None:
                continue
            asked: list[tuple[Effect, TaskFor, date]] = []
            for effect in reasoning.tasks_of_step(taught_on, visit, step):
                action = effect.action
                if isinstance(action, TaskFor) and action.is_after:
                    start = calendar.add_school_days(taught_on + timedelta(action.after_days), 0) or taught_on
                    due = calendar.add_school_days(start, -action.days_before) or plan.school.last_day
                    asked.append((effect, action, due))
            if not asked:
                continue
            done_by = max(day, *(due for _, _, due in asked))
            needed = next_visit_of(plan, calendar, class_.id, done_by - timedelta(1), reasoning.state) or done_by
            said = f"{class_.id} did {plan.lesson_by_id[step.lesson].title}, part {step.part}, on {say_date(taught_on)}"
            # It is kept under the part it must be done before: it is behind her once that part was taught.
            occasion = _Occasion(visit, needed, _key_of(class_.id, Step(step.lesson, step.part + 1)), said)
            yield from (_task_of_rule(occasion, effect, action, due) for effect, action, due in asked)


def _taught_last(reasoning: Reasoning, class_: SchoolClass) -> Iterator[tuple[date, Step]]:
    """When the class did which part last, with another one to come; also where nobody has told whether it did."""
    plan, state = reasoning.plan, reasoning.state
    progress = progress_of(plan, state, class_)
    if progress is not None:
        for part, taught_on in waiting_since(progress):
            yield taught_on, Step(progress.lesson, part)
    for each in state.unsure.get(class_.id, ()):
        lesson = plan.lesson_by_id.get(each.lesson)
        if lesson is not None and each.part < len(lesson.parts):
            yield each.date, Step(each.lesson, each.part)


def _visit_of(
    reasoning: Reasoning, class_: SchoolClass, taught_on: date, known: dict[date, tuple[Visit, ...]]
) -> Visit | None:
    """The visit in which the class was taught; where the timetable has moved it since, its next one.

    ``known`` remembers the visits of a date from one class to the next.
    """
    plan, calendar = reasoning.plan, reasoning.calendar
    when: date | None = taught_on
    while when is not None:
        if when not in known:
            known[when] = visits_on(plan, State(), calendar, when, None)
        mine = next((visit for visit in known[when] if visit.class_id == class_.id), None)
        if mine is not None:
            return mine
        when = next_visit_of(plan, calendar, class_.id, when)
    return None


# ------------------------------------------------------------------------------------------------- either way


def _key_of(class_id: str, step: Step) -> str:
    return f"prep/{class_id}/{step.lesson}/{step.part}"


def _task_of_rule(occasion: _Occasion, effect: Effect, action: TaskFor, due: date) -> Task:
    rule, visit = effect.rule, occasion.visit
    which = f"/{rule.tasks.index(action) + 1}" if len(rule.tasks) > 1 else ""
    item = f"/{effect.item}" if effect.item else ""
    because = Because(effect.because, (visit.key,), rule.id, rule.title, effect.facts, rule.private)
    return Task(
        f"{occasion.key}/{rule.id}{which}{item}",
        0,
        effect.text,
        action.minutes + round_up(action.minutes_each * visit.students),
        due,
        occasion.on,
        visit.key,
        visit.class_id,
        action.critical,
        (because, Because(occasion.said, (visit.key,), private=rule.private)),
    )
