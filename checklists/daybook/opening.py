"""The state a year opens with, before anything happened."""

from __future__ import annotations

from checklists.daybook.state import State
from checklists.lines.containers import full_contents
from checklists.plan.records import Plan


def first_state(plan: Plan) -> State:
    """Containers full, stock as the plan's supplies say, every class at its grade's first lesson."""
    return State(
        contents=full_contents(plan),
        on_hand={each.id: each.on_hand for each in plan.supplies if isinstance(each.on_hand, int)},
        levels={each.id: each.on_hand for each in plan.supplies if isinstance(each.on_hand, str)},
        counted={each.id: each.counted for each in plan.supplies if each.counted is not None},
    )
