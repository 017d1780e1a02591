"""What is done about a child who missed much of a lesson: excused, the short version, or its set taken home."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime

from checklists.daybook.entries import Excused, Settled
from checklists.daybook.marks import Marks
from checklists.daybook.matters import MISSED, Choice, OpenMatter
from checklists.daybook.state import Owed
from checklists.lines.catch_up import part_of
from checklists.lines.containers import catch_up_kit_of
from checklists.lines.missed_often import say_behind
from checklists.lines.quantities import round_up, units_of
from checklists.lines.records import Day
from checklists.plan.records import Item, Plan

Contents = dict[str, dict[str, int]]
"""Container -> supply -> how many are in it."""
LABELS: dict[Settled, str] = {"excused": "excuse", "short version": "short version", "at home": "take home"}


def choices_for_child(class_id: str, number: int, lesson: str, at: datetime, *, has_short: bool) -> tuple[Choice, ...]:
    """What can be decided: each an entry. The short version only where the lesson has one."""
    return tuple(
        Choice(label, (Excused(at=at, class_id=class_id, number=number, lesson=lesson, how=how),))
        for how, label in LABELS.items()
        if has_short or how != "short version"
    )


def ask_what_to_do(plan: Plan, day: Day, marks: Marks, at: datetime) -> Iterator[OpenMatter]:
    """A question for each child of the day's classes who missed three parts or more, those decided today included."""
    for each in day.behind:
        yield OpenMatter(
            key=_key_of(each.class_id, each.lesson, each.number),
            section=MISSED,
            text=f"{say_behind(plan, each)}: what to do?",
            critical=False,
            choices=choices_for_child(each.class_id, each.number, each.lesson, at, has_short=each.has_short),
            visit=each.visit,
        )
    visited = {visit.class_id for visit in day.visits}
    open_still = {(each.class_id, each.lesson, each.number) for each in day.behind}
    decided = {
        (entry.class_id, entry.lesson, entry.number): entry for entry in marks.children if isinstance(entry, Excused)
    }
    for (class_id, lesson, number), entry in decided.items():
        if class_id in visited and (class_id, lesson, number) not in open_still:
            title = plan.title_of_lesson(lesson)
            yield OpenMatter(
                key=_key_of(class_id, lesson, number),
                section=MISSED,
                text=f"{class_id}, no. {number}, what was missed of {title}",
                critical=False,
                choices=choices_for_child(class_id, number, lesson, at, has_short=_has_short(plan, lesson)),
                answer=LABELS[entry.how],
            )


def _key_of(class_id: str, lesson: str, number: int) -> str:
    return f"missed much/{class_id}/{lesson}/{number}"


def _has_short(plan: Plan, lesson: str) -> bool:
    known = plan.lesson_by_id.get(lesson)
    return known is not None and any(part.short_version for part in known.parts)


# ------------------------------------------------------------------------------------------------- sets taken home


def take_home(
    plan: Plan, marks: Marks, owed: Mapping[str, tuple[Owed, ...]], held: Contents, on_hand: dict[str, int]
) -> tuple[Contents, dict[str, int]]:
    """Contents and stock without the sets that went home today; ``owed`` is what was owed before that."""
    held, on_hand = {container: dict(inside) for container, inside in held.items()}, dict(on_hand)
    for entry in marks.children:
        if not isinstance(entry, Excused) or entry.how != "at home":
            continue
        kit = held.get(catch_up_kit_of(entry.class_id), {})
        for each in owed.get(entry.class_id, ()):
            if each.lesson == entry.lesson and entry.number in each.numbers:
                for supply, amount in _set_of(plan, entry.class_id, each):
                    for counts in (kit, on_hand):
                        if supply in counts:
                            counts[supply] = max(0, counts[supply] - amount)
    return {container: inside for container, inside in held.items() if any(inside.values())}, on_hand


def _set_of(plan: Plan, class_id: str, owed: Owed) -> Iterator[tuple[str, int]]:
    """Supply and amount that one child needs at home: what is used up, in the version that would have been packed."""
    part = part_of(plan, owed.lesson, owed.part)
    items: tuple[Item, ...] = ()
    if part is not None:
        is_short = (owed.short or part.catch_up in ("short", "by rule")) and bool(part.short_version)
        items = part.short_version if is_short else part.items
    for item in items:
        supply = plan.supply_by_id.get(item.supply)
        if supply is not None and not supply.comes_back and not item.demo and item.is_for(class_id):
            yield item.supply, round_up(item.count * units_of(item.per, 1, tables=1))
