"""What is to be looked at: what rules ask for, and once a week the standing set of each box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from checklists.calendar import Calendar
from checklists.daybook.state import State
from checklists.lines.containers import box_of, name_of
from checklists.lines.need import because_of
from checklists.lines.reasoning import Judged
from checklists.lines.records import Because, Check, Container
from checklists.plan.records import Plan
from checklists.rules.records import CheckFor
from checklists.words import join_words

STANDING = "check/standing/"
"""How the key of a check of a standing set begins; the container's id follows."""


def checks_of(
    plan: Plan,
    state: State,
    calendar: Calendar,
    day: date,
    judged: Sequence[Judged],
    containers: Sequence[Container],
    number: int,
) -> tuple[Check, ...]:
    """The checks of a day, numbered from ``number``."""
    found: dict[str, Check] = {}
    for one in judged:
        for step, effects in one.by_step:
            for effect in effects:
                if not isinstance(effect.action, CheckFor):
                    continue
                item = f"/{effect.item}" if effect.item else ""
                rule = effect.rule
                which = f"/{rule.checks.index(effect.action) + 1}" if len(rule.checks) > 1 else ""
                key = f"check/{one.visit.key}/{rule.id}{which}{item}"
                if key in found and found[key].what != effect.text:
                    key += f"/{step.lesson} {step.part}"  # either part may be taught, and each asks for something else
                action, because = effect.action, because_of(effect, one.visit)
                found.setdefault(
                    key,
                    Check(key, number + len(found), effect.text, one.visit.key, action.at, action.critical, because),
                )
    for container, what, why in _standing_sets(plan, state, calendar, day, containers):
        key = f"{STANDING}{container}"
        found[key] = Check(key, number + len(found), what, "", "store", False, (Because(why),))
    return tuple(found.values())


def _standing_sets(
    plan: Plan, state: State, calendar: Calendar, day: date, containers: Sequence[Container]
) -> Iterator[tuple[str, str, str]]:
    """Box, what stands in it, why it is asked for: on the last school day of a week, until it was looked through.

    A later day asks only for the boxes it takes along.
    """
    week_ends = _newest_week_end(calendar, day)
    if week_ends is None:
        return
    along = {each.id for each in containers}
    for box in plan.boxes:
        container = box_of(box.grade)
        seen = state.standing_seen.get(container, date.min)
        if not box.standing or seen >= week_ends or (day != week_ends and container not in along):
            continue
        names = {each: plan.supply_by_id[each].name for each in box.standing if each in plan.supply_by_id}
        said = join_words(f"{count} {names[each]}" for each, count in box.standing.items() if each in names)
        yield container, f"Standing set of {name_of(plan, container)}: {said}", "looked through once a week"


def _newest_week_end(calendar: Calendar, day: date) -> date | None:
    """The newest school day up to ``day`` that was the last one of its week, among the week before and this one."""
    for each in ([day] if calendar.is_school_day(day) else []) + list(_days_before(calendar, day)):
        following = calendar.next_school_day(each)
        if following is None or following.isocalendar()[:2] != each.isocalendar()[:2]:
            return each
    return None


def _days_before(calendar: Calendar, day: date) -> Iterator[date]:
    for n, each in enumerate(calendar.school_days_before(day)):
        if n == 5:
            return
        yield each
