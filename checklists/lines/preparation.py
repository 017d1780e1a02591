"""Tasks: preparation for the visits of today and of the coming school days, each with the date it falls due."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import islice

from msgspec import structs

from checklists.daybook.records import State
from checklists.lines.quantities import round_up
from checklists.lines.reasoning import Judged, Reasoning
from checklists.lines.records import Because, Step, Task, Visit
from checklists.rules.records import Effect, TaskFor
from checklists.visits import advance, progress_of, visits_on
from checklists.words import say_date

SHOWN_AHEAD = 2
"""School days ahead of which coming tasks are shown."""


def tasks_for(reasoning: Reasoning, day: date, judged: Sequence[Judged]) -> tuple[Task, ...]:
    """Tasks not yet done that are due by the school day after next, the earliest first."""
    found: dict[str, Task] = {}
    for when, visit, step, effects in _visits_ahead(reasoning, day, judged):
        for task in _tasks_of(reasoning, when, visit, step, effects):
            found.setdefault(task.key, task)
    horizon = reasoning.calendar.add_school_days(day, SHOWN_AHEAD) or day
    shown = (task for task in found.values() if task.due <= horizon and task.key not in reasoning.state.prepared)
    moved_to = {each.key: each.not_before for each in reasoning.state.carried if each.kind == "preparation"}
    dated = (structs.replace(task, due=max(task.due, moved_to.get(task.key) or task.due)) for task in shown)
    return tuple(sorted(dated, key=lambda task: (task.due, task.for_date, task.visit, task.key)))


def _lead_of_lessons(reasoning: Reasoning) -> int:
    """School days that the longest preparation of a lesson asks for."""
    parts = (part for lesson in reasoning.plan.lessons for part in lesson.parts)
    return max((prep.days_before for part in parts for prep in part.preps), default=0)


def _lead_of_rules(reasoning: Reasoning) -> int:
    on = (rule for rule in reasoning.rules.rules if rule.id in reasoning.rules.clauses)
    return max((task.days_before for rule in on for task in rule.tasks), default=0)


def _visits_ahead(
    reasoning: Reasoning, day: date, judged: Sequence[Judged]
) -> Iterator[tuple[date, Visit, Step, Sequence[Effect]]]:
    """Today's visits, then those of the coming school days, each class taken to go on by one part a visit.

    Each with the effects among which a rule's tasks are; none beyond the days that rules look ahead.
    """
    plan, calendar = reasoning.plan, reasoning.calendar
    for one in judged:
        for step, effects in one.by_step:
            yield day, one.visit, step, effects
    of_rules, of_lessons = _lead_of_rules(reasoning) + SHOWN_AHEAD, _lead_of_lessons(reasoning) + SHOWN_AHEAD
    progress, state = dict(reasoning.state.progress), reasoning.state
    visits: Sequence[Visit] = [one.visit for one in judged]
    when = day
    for days_ahead, following in enumerate(islice(calendar.school_days_after(day), max(of_rules, of_lessons)), 1):
        for visit in visits:
            class_ = plan.class_by_id[visit.class_id]
            now = progress_of(plan, state, class_)
            if now is not None and visit.steps and not visit.substitute:
                progress[class_.id] = advance(plan, class_, now, when)
        state = State(progress=progress, owed=reasoning.state.owed)
        visits = visits_on(plan, state, calendar, following, None)
        if days_ahead <= of_rules:
            ahead = Reasoning(plan, reasoning.rules, state, calendar)
            for visit, step, effects in ahead.tasks_of(following, visits):
                yield following, visit, step, effects
        else:
            yield from ((following, visit, step, ()) for visit in visits for step in visit.steps)
        when = following


def _tasks_of(reasoning: Reasoning, when: date, visit: Visit, step: Step, effects: Sequence[Effect]) -> Iterator[Task]:
    lesson = reasoning.plan.lesson_by_id[step.lesson]
    base = f"prep/{visit.class_id}/{step.lesson}/{step.part}"
    said = f"{visit.class_id} has {lesson.title}, part {step.part}, on {say_date(when)}"
    for n, prep in enumerate(lesson.parts[step.part - 1].preps, 1):
        due = reasoning.calendar.add_school_days(when, -prep.days_before) or when
        yield Task(
            f"{base}/{n}",
            0,
            prep.what,
            prep.minutes,
            due,
            when,
            visit.key,
            visit.class_id,
            False,
            (Because(said, (visit.key,)),),
        )
    for effect in effects:
        action = effect.action
        if not isinstance(action, TaskFor):
            continue
        due = reasoning.calendar.add_school_days(when, -action.days_before) or when
        minutes = action.minutes + round_up(action.minutes_each * visit.students)
        because = Because(
            effect.because, (visit.key,), effect.rule.id, effect.rule.title, effect.facts, effect.rule.private
        )
        yield Task(
            f"{base}/{effect.rule.id}",
            0,
            effect.text,
            minutes,
            due,
            when,
            visit.key,
            visit.class_id,
            action.critical,
            (because, Because(said, (visit.key,))),
        )
