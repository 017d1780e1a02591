"""What is wrong with this line? Every answer there is to it, what is asked most often first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

from msgspec import structs

from checklists.line_changes.listed import Listed, listed_for, visits_of
from checklists.line_changes.of_lesson import (
    basis_offer,
    container_offer,
    count_offer,
    critical_offer,
    instead_offer,
    not_for_offers,
    out_offer,
)
from checklists.line_changes.of_rules import notes_offer, rule_offers
from checklists.line_changes.of_supply import supply_offers
from checklists.line_changes.records import LineChange, Offer, leads
from checklists.lines.records import Day, Line
from checklists.plan import class_notes
from checklists.plan.class_notes import CannotNote, size_typed
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Plan
from checklists.rules.read import RuleSet
from checklists.words import plural


def offers_for(plan: Plan, rules: RuleSet, day: Day, line: Line, at: datetime) -> tuple[Offer, ...]:
    """The changes a line of a day offers; ``at`` is the moment. Each counts from the day on, and for days after it."""
    listed = listed_for(plan, day, line)

    def of_each(*makers: Callable[[Plan, Listed], Offer]) -> Iterator[Offer]:
        """Where several items make the line, each offer names its own."""
        for each in listed:
            for make in makers:
                offer = make(plan, each)
                yield structs.replace(offer, label=f"{offer.label}, {each.where}") if len(listed) > 1 else offer

    found = [*_size_offers(plan, day, line), *of_each(count_offer)]
    found += [offer for each in listed for offer in not_for_offers(plan, each)]
    found += [*of_each(out_offer), *rule_offers(plan, rules, day, line, day.date)]
    found += of_each(basis_offer, critical_offer, container_offer, instead_offer)
    supply = plan.supply_by_id.get(line.supply)
    if supply is not None:
        found += supply_offers(supply, at)
    led = {each.key for each in found if each.takes == "page"}
    return (*found, *(each for each in _pages(plan, day, line) if each.key not in led))


def _size_offers(plan: Plan, day: Day, line: Line) -> Iterator[Offer]:
    """How many children each class has that the line is for."""
    classes = dict.fromkeys(each for visit in visits_of(day, line) for each in visit.classes)
    for class_ in (plan.class_by_id[each] for each in classes):

        def make(files: PlanFiles, typed: str, reason: str, class_id: str = class_.id) -> LineChange:
            size = size_typed(typed)
            changed = class_notes.size(files.classes, class_id, size)
            if changed == files.classes:
                raise CannotNote(f"{class_id} has {size} children already.")
            return LineChange(f"{class_id}: {size} children", files=structs.replace(files, classes=changed))

        now = f"{'about ' if class_.is_about else ''}{plural(class_.headcount, 'child')}"
        label = f"{class_.id} has {now}: another number"
        hint = "How many children? a24 is about 24."
        yield Offer(f"size {class_.id}", label, f"every visit of {class_.id}", "typed", make, hint=hint)


def _pages(plan: Plan, day: Day, line: Line) -> Iterator[Offer]:
    """Where everything of the supply, the lesson and the class is."""
    visits = visits_of(day, line)
    if line.supply in plan.supply_by_id:
        yield leads("all of the supply", f"everything about {line.name}", "the supply", "supply", line.supply)
    for lesson in dict.fromkeys(step.lesson for visit in visits for step in visit.steps):
        title = plan.title_of_lesson(lesson)
        yield leads(f"all of {lesson}", f"everything about {title}", "the lesson", "lesson", lesson)
    for class_id in dict.fromkeys(visit.class_id for visit in visits):
        yield leads(f"all of {class_id}", f"everything about {class_id}", "the class", "class", class_id)
        yield notes_offer(class_id)
