"""What a class is owed: catch-up kits for those who missed a part, reserve where nobody knows, finish-up sets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from msgspec import Struct

from checklists.daybook.state import Owed, State, Unfinished
from checklists.lines.need import Need
from checklists.lines.quantities import reserve_for, round_up, units_of
from checklists.lines.records import Because, Step, Visit
from checklists.plan.records import Item, Part, Plan
from checklists.words import join_words, plural, say_date

What = Literal["missed", "reserve", "remake", "finish"]
MadeUp = Literal["full", "short", "none", "held"]
MISSED_OFTEN = 3
"""Parts of one lesson missed by one child from which on she is asked what to do. Common practice, no source."""


class OwedNeeds(Struct, frozen=True):
    """What one part that is owed, or not finished, needs in a visit."""

    what: What
    step: Step
    needs: tuple[Need, ...]


def needs_owed(plan: Plan, state: State, visit: Visit, media: Sequence[str]) -> tuple[OwedNeeds, ...]:
    """Catch-up, reserve and finish-up of the visit's class, part by part.

    ``media`` are the tags of parts that are never made up beside another part: wet, hot, of clay, printed.
    """
    found: list[OwedNeeds] = []
    for owed in state.owed.get(visit.class_id, ()):
        part = part_of(plan, owed.lesson, owed.part)
        how = "none" if part is None else how_made_up(plan, owed, part, visit, media)
        if part is None or how not in ("full", "short"):
            continue
        listed = part.short_version if how == "short" else part.items
        items = tuple(item for item in listed if item.is_for(visit.class_id))
        needs = _reserve(plan, visit, owed, items) if owed.unknown else _catch_up(plan, visit, owed, items, how)
        what: What = "remake" if owed.broken else "reserve" if owed.unknown else "missed"
        found.append(OwedNeeds(what, Step(owed.lesson, owed.part), tuple(needs)))
    for unfinished in state.unfinished.get(visit.class_id, ()):
        part = part_of(plan, unfinished.lesson, unfinished.part)
        if part is not None:
            step = Step(unfinished.lesson, unfinished.part)
            found.append(OwedNeeds("finish", step, tuple(_finish_up(plan, visit, unfinished, part))))
    return tuple(found)


def how_made_up(plan: Plan, owed: Owed, part: Part, visit: Visit, media: Sequence[str]) -> MadeUp:
    """How a missed part is made up in a visit. What is held waits for a visit with the same medium.

    A piece that broke is made again as it was, so never in a short version.
    """
    medium = set(part.tags).intersection(media)
    same = any(medium.intersection(plan.lesson_by_id[step.lesson].parts[step.part - 1].tags) for step in visit.steps)
    if owed.broken:
        return "full" if same or not medium else "held"
    if owed.short and part.short_version:
        return "short"
    if part.catch_up != "by rule":
        return part.catch_up
    if not medium:
        return "full"
    if part.short_version:
        return "short"
    return "full" if same else "held"


def part_of(plan: Plan, lesson: str, part: int) -> Part | None:
    """A part by lesson and number; None where the plan no longer has it."""
    known = plan.lesson_by_id.get(lesson)
    return known.parts[part - 1] if known is not None and 0 < part <= len(known.parts) else None


def children_owed(owed: Owed) -> int:
    """How many children missed the part: the listed ones, and those counted without a number read as further ones."""
    return len(owed.numbers) + owed.count


def children_in(owed: Iterable[Owed]) -> int:
    """How many children are owed anything: a listed one is one whatever it missed, the counted are the worst case."""
    every = tuple(owed)
    return len({number for each in every for number in each.numbers}) + sum(each.count for each in every)


def say_owed(owed: tuple[Owed, ...]) -> str:
    """Who is owed what, in words: "11: parts 1, 2 and 3; 2 without a number: part 2"."""
    parts_of: dict[tuple[int, bool, bool], list[int]] = {}
    for each in owed:
        for number in each.numbers:
            parts_of.setdefault((number, each.broken, each.new), []).append(each.part)
    listed = [
        f"{number}{', new' if new else ''}: {'remake ' if broken else ''}{_say_parts(parts)}"
        for (number, broken, new), parts in sorted(parts_of.items())
    ]
    counted = [
        f"{each.count} without a number: {'remake ' if each.broken else ''}part {each.part}"
        for each in owed
        if each.count
    ]
    unknown = [f"nobody could say who missed part {each.part}" for each in owed if each.unknown]
    return "; ".join([*listed, *counted, *unknown])


def _say_parts(parts: list[int]) -> str:
    return f"{'part' if len(parts) == 1 else 'parts'} {join_words(str(part) for part in sorted(parts))}"


def missed_often(owed: tuple[Owed, ...]) -> tuple[int, ...]:
    """Class-list numbers of children who missed three parts or more of one lesson, and nothing is decided about them.

    A broken piece was not missed, and where the short version was chosen it is decided.
    """
    missed: dict[tuple[str, int], int] = {}
    decided = {(each.lesson, number) for each in owed if each.short for number in each.numbers}
    for each in owed:
        for number in each.numbers if not each.broken else ():
            missed[each.lesson, number] = missed.get((each.lesson, number), 0) + 1
    often = {of for of, parts in missed.items() if parts >= MISSED_OFTEN}
    return tuple(sorted({number for _, number in often - decided}))


def _catch_up(plan: Plan, visit: Visit, owed: Owed, items: Sequence[Item], how: MadeUp) -> Iterator[Need]:
    children = children_owed(owed)
    who = join_words(
        [*(f"no. {number}" for number in owed.numbers), *([plural(owed.count, "more child")] if owed.count else [])]
    )
    title = plan.lesson_by_id[owed.lesson].title
    of_part = f"part {owed.part} of {title}"
    if owed.broken:
        said = f"remake {children}: {'a piece' if children == 1 else 'pieces'} of {of_part} broke"
    elif owed.new:
        said = f"{plural(children, 'new child')}: {of_part} was taught before"
        said += "; the short version" if how == "short" else ""
    else:
        said = f"{plural(children, 'child')} missed {of_part} on {say_date(owed.since)}"
        said += "; the short version" if how == "short" else ""
    because = (Because(said, (visit.key,), facts=(who,) if who else (), private=False),)
    for item in items:
        if item.demo or not children:
            continue
        units = units_of(item.per, children, tables=1)  # one table is enough for them to sit at
        yield Need(
            item.supply,
            visit.key,
            round_up(item.count * units),
            0,
            per_student=False,
            group="Catch-up",
            catch_up_for=visit.class_id,
            because=because,
        )


def _reserve(plan: Plan, visit: Visit, owed: Owed, items: Sequence[Item]) -> Iterator[Need]:
    habits = plan.school.habits
    children = reserve_for(visit.students, habits.attendance, habits.reserve_certainty)
    title = plan.lesson_by_id[owed.lesson].title
    said = f"reserve {children}: nobody could say who missed part {owed.part} of {title} on {say_date(owed.since)}"
    for item in items:
        supply = plan.supply_by_id.get(item.supply)
        if item.per == "student" and not item.demo and supply is not None and not supply.comes_back:
            yield Need(
                item.supply,
                visit.key,
                0,
                0,
                per_student=False,
                group="Catch-up",
                into=item.into,
                reserve=round_up(item.count * children),
                because=(Because(said, (visit.key,)),),
            )


def _finish_up(plan: Plan, visit: Visit, unfinished: Unfinished, part: Part) -> Iterator[Need]:
    """A set for the children not done, and the larger of 1 and 10 % more. Common practice, no source."""
    children = unfinished.count + max(1, round_up(unfinished.count * 0.1))
    title = plan.lesson_by_id[unfinished.lesson].title
    not_done = f"{plural(unfinished.count, 'child')} not done with part {unfinished.part} of {title}"
    said = f"{not_done}, and {children - unfinished.count} more"
    for item in part.items:
        if item.per == "student" and not item.demo and item.is_for(visit.class_id):
            yield Need(
                item.supply,
                visit.key,
                round_up(item.count * children),
                0,
                per_student=False,
                group="Catch-up",
                catch_up_for=visit.class_id,
                because=(Because(said, (visit.key,)),),
            )
