"""The coming school days as planned: each class goes on by one part a visit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import islice

from msgspec import Struct

from checklists.class_places import place_after, progress_of
from checklists.daybook.state import Progress, State
from checklists.lines.reasoning import Reasoning
from checklists.lines.records import Visit
from checklists.plan.records import Plan
from checklists.visits import visits_on


class DayAhead(Struct, frozen=True):
    """One coming school day: its visits, and the rules at work on the places the classes have reached by then."""

    date: date
    visits: tuple[Visit, ...]
    reasoning: Reasoning


def days_ahead(reasoning: Reasoning, day: date, visits: Sequence[Visit], count: int) -> Iterator[DayAhead]:
    """The ``count`` school days after ``day``, whose own visits are given. Of changes only testing is known ahead."""
    plan, calendar = reasoning.plan, reasoning.calendar
    state, when, now = reasoning.state, day, tuple(visits)
    for following in islice(calendar.school_days_after(day), count):
        progress = progress_after(plan, state, now, when)
        known = reasoning.state
        state = State(progress=progress, owed=known.owed, unsure=known.unsure, testing=known.testing)
        ahead = Reasoning(plan, reasoning.rules, state, calendar)
        now = ahead.placed(following, visits_on(plan, state, calendar, following, None))
        yield DayAhead(following, now, ahead)
        when = following


def progress_after(plan: Plan, state: State, visits: Sequence[Visit], when: date) -> dict[str, Progress]:
    """Where the classes are after a day's visits if each went on by its part."""
    progress = dict(state.progress)
    for visit in visits:
        for class_id in (visit.class_id, *visit.go_on_too):
            class_ = plan.class_by_id[class_id]
            now = progress_of(plan, State(progress=progress), class_)
            if now is not None and visit.steps and visit.moves_on and not visit.split:
                taught = visit.steps[0].part if visit.next_part else now.part
                progress[class_.id] = place_after(plan, class_, now, (taught,), when)
    return progress
