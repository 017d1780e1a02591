"""What goes into the car for the visits of the next school day that are in another building."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from checklists.lines.ahead import days_ahead
from checklists.lines.containers import box_of, folder_of, name_of
from checklists.lines.needs import need_of_item
from checklists.lines.reasoning import Reasoning
from checklists.lines.records import Because, Task, Visit
from checklists.plan.records import Building, Plan
from checklists.words import join_words, plural, say_date, say_number

CAR = "prep/car/"
"""How the key of such a task begins; date and building follow."""
MINUTES_A_THING = 1
"""To carry one container to the car. Common practice, no source."""


def car_tasks(reasoning: Reasoning, day: date, visits: Sequence[Visit]) -> Iterator[Task]:
    """One task for each other building that today's visits, or those of the next school day, are in.

    What today's visits need was due the school day before.
    """
    if not reasoning.plan.school.buildings:
        return
    before = next(reasoning.calendar.school_days_before(day), day)
    yield from _tasks_on(reasoning.plan, before, day, visits)
    for ahead in days_ahead(reasoning, day, visits, 1):
        yield from _tasks_on(reasoning.plan, day, ahead.date, ahead.visits)


def is_driven(key: str, day: date) -> bool:
    """Whether a task of this key was for a day that is over by the evening of ``day``."""
    return key.startswith(CAR) and key.removeprefix(CAR).partition("/")[0] <= day.isoformat()


def _tasks_on(plan: Plan, due: date, when: date, visits: Sequence[Visit]) -> Iterator[Task]:
    for building in plan.school.buildings:
        there = [visit for visit in visits if visit.room in building.rooms and visit.steps]
        if there:
            yield _task(plan, building, due, when, there)


def _task(plan: Plan, building: Building, due: date, when: date, visits: Sequence[Visit]) -> Task:
    things = _things(plan, visits)
    paper = _paper_kilograms(plan, visits)
    more = f", {say_number(round(paper, 1))} kg paper" if paper >= 0.1 else ""
    first = visits[0]
    why = f"{plural(len(visits), 'visit')} in {building.name} on {say_date(when)}, {building.drive_minutes} min by car"
    return Task(
        key=f"{CAR}{when.isoformat()}/{building.name}",
        number=0,
        what=f"In the car for {building.name}: {join_words(things)}{more}",
        minutes=MINUTES_A_THING * len(things),
        due=due,
        for_date=when,
        visit=first.key,
        class_id=first.class_id,
        critical=True,
        because=(Because(why, tuple(visit.key for visit in visits)),),
    )


def _things(plan: Plan, visits: Sequence[Visit]) -> tuple[str, ...]:
    """Kits, boxes and class folders, each once, in the order of the visits."""
    names: list[str] = []
    for visit in visits:
        kits = [kit for step in visit.steps for kit in plan.lesson_by_id[step.lesson].kits]
        names += [name_of(plan, each) for each in (*kits, box_of(visit.grade))]
        names.append(folder_of(visit.class_id))
    return tuple(dict.fromkeys(names))


def _paper_kilograms(plan: Plan, visits: Sequence[Visit]) -> float:
    """Mass of the paper that the parts list, where a sheet's is known; without spare."""
    grams = 0.0
    for visit in visits:
        for step in visit.steps[:1]:
            for item in plan.lesson_by_id[step.lesson].parts[step.part - 1].items:
                supply = plan.supply_by_id.get(item.supply)
                if supply is not None and supply.kind == "paper" and supply.grams and item.is_for(*visit.classes):
                    grams += supply.grams * need_of_item(plan, visit, step.lesson, item).amount
    return grams / 1000
