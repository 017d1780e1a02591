"""When cleaning up begins in a visit: by how wet its part is, the grade, and whether the room has a sink.

The minutes are habits, hers to change. Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checklists.daybook.state import State
from checklists.lines.facts import Surroundings, facts_of
from checklists.lines.records import Visit
from checklists.plan.records import Plan, Room, grade_number
from checklists.rules.apply import tags_for
from checklists.rules.read import RuleSet, narrowed_to
from checklists.rules.vocabulary import marks_of_supply

YOUNG_GRADE = 1
"""Up to this grade children need longer."""


def clean_up_from(plan: Plan, rules: RuleSet, state: State, visit: Visit, day: date) -> int:
    """Minute of the day at which cleaning up begins; of two parts that may be taught, for the one that takes longer."""
    habits = plan.school.habits
    minutes = habits.clean_up_dry
    for tags in _tags_by_part(plan, rules, state, visit, day):
        if "long clean-up" in tags:
            minutes = max(minutes, habits.clean_up_long)
        elif "wet" in tags:
            minutes = max(minutes, habits.clean_up_wet)
    if grade_number(visit.grade) <= YOUNG_GRADE:
        minutes += habits.clean_up_young
    if sink_in(plan, state, visit, day) is not True:
        minutes += habits.clean_up_no_sink
    return max(visit.start, visit.end - minutes)


def sink_in(plan: Plan, state: State, visit: Visit, day: date) -> bool | None:
    """Whether there is a sink to use in the visit; None where nobody has said. It is what the rules are told."""
    if not visit.steps:
        return plan.room_by_id.get(visit.room, Room(visit.room)).sink
    tags = facts_of(plan, state, visit, visit.steps[0], day, Surroundings()).tags
    return True if "sink" in tags else False if "no sink" in tags else None


def _tags_by_part(plan: Plan, rules: RuleSet, state: State, visit: Visit, day: date) -> Iterator[frozenset[str]]:
    def marks_of(supply: str) -> frozenset[str]:
        known = plan.supply_by_id.get(supply)
        return marks_of_supply(known) if known is not None else frozenset()

    for step in visit.steps:
        facts = facts_of(plan, state, visit, step, day, Surroundings())
        yield tags_for(narrowed_to(rules, "gives"), facts, date=day, marks_of=marks_of)
