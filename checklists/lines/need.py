"""A need: an amount of one supply for one visit, and what an effect's numbers and reasons amount to for it."""

from __future__ import annotations

from msgspec import Struct

from checklists.lines.in_the_room import needs_in
from checklists.lines.quantities import round_up, units_of
from checklists.lines.records import Because, Visit
from checklists.plan.records import Group, Plan, Spare
from checklists.rules.records import Effect, Quantity


class Need(Struct, frozen=True):
    """An amount of one supply for one visit, before spare and before visits are added up."""

    supply: str
    visit: str
    amount: float
    spared: float
    """The part of the amount that spare is added on."""
    per_student: bool
    each: float = 0
    """What one child, or one pair, gets of a part's own items."""
    lesson_wide: str = ""
    """Lesson of what is one for all the day's visits of that lesson."""
    once: float = 0
    """The part of the amount that is one for all visits of ``lesson_wide``."""
    spare: Spare | None = None
    """A spare other than the usual."""
    raised: Spare | None = None
    """What rules raise the spare to at least."""
    critical: bool = False
    group: Group | None = None
    into: str = ""
    adapted: bool = False
    """Takes the place of ordinary things: not itself replaced, and without spare of its own."""
    forbidden: str = ""
    instead: str = ""
    catch_up_for: str = ""
    """Class whose catch-up kit this goes into."""
    shared: bool = False
    """Comes only because another class must not meet the usual thing in this container."""
    stays_in_work: bool = False
    of_class: str = ""
    """Class whose folder this is, where it is not that of the visit's own class."""
    reserve: int = 0
    """How many more to have for children nobody could say were absent; shares the margin with the spare."""
    container: str = ""
    because: tuple[Because, ...] = ()


def because_of(effect: Effect, visit: Visit, text: str = "") -> tuple[Because, ...]:
    return (
        Because(
            text=text or effect.because,
            visits=(visit.key,),
            rule=effect.rule.id,
            rule_title=effect.rule.title,
            facts=effect.facts,
            private=effect.rule.private,
        ),
    )


def amount_of(plan: Plan, visit: Visit, quantity: Quantity) -> float:
    pieces = max((plan.lesson_by_id[step.lesson].parts[step.part - 1].pieces_each for step in visit.steps), default=1)
    units = units_of(quantity.per, visit.students, visit.tables, pieces, needs_in(plan, visit))
    return round_up((units * quantity.count + quantity.plus) / (quantity.each_holds or 1))
