"""The changeover of one container when lessons change: what to take out, what to put in, what to leave and for whom."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checklists.class_places import progress_of
from checklists.daybook.line_states import has_now, left_to_take, state_of
from checklists.daybook.marks import Marks
from checklists.daybook.state import State
from checklists.daybook.taking_out import held_now
from checklists.lines.containers import box_of, catch_up_kit_of, container_for, name_of, standing_in
from checklists.lines.records import Day, Line, TakeOut
from checklists.plan.records import Plan
from checklists.words import plural

STANDING = "standing set"


class Staying(Struct, frozen=True):
    """So many of a supply stay in the container, and for whom in words."""

    supply: str
    name: str
    count: int
    whom: tuple[str, ...]


class Changeover(Struct, frozen=True):
    """One container: what goes out of it, what comes in, what stays."""

    container: str
    name: str
    take_out: tuple[TakeOut, ...]
    """What no coming visit needs; what is out already is left away."""
    forbidden: tuple[Line, ...]
    """What must not come along and is in it."""
    put_in: tuple[Line, ...]
    leave: tuple[Staying, ...]


def changeover_of(plan: Plan, day: Day, marks: Marks, opening: State, container: str) -> Changeover:
    """What changes in a container on a day. ``opening`` is how things stood when the day opened."""
    lines = [line for line in day.lines if line.container == container]
    out = tuple(each for each in day.take_out if each.container == container and left_to_take(each, marks))
    forbidden = tuple(line for line in lines if state_of(line, marks) == "forbidden" and has_now(line, marks))
    settled = ("forbidden", "not needed", "short")
    put_in = tuple(line for line in lines if missing_of(line, marks) and state_of(line, marks) not in settled)
    gone = {each.supply for each in out} | {line.supply for line in forbidden if not line.catch_up_for}
    leave = (
        *(each for each in _staying(plan, day, marks, opening, container) if each.supply not in gone),
        *_catch_up_kits(plan, day, marks, opening, container),
    )
    return Changeover(container, name_of(plan, container), out, forbidden, put_in, leave)


def missing_of(line: Line, marks: Marks) -> int:
    """How many are still to be put in, for later visits too where the container is filled for them."""
    return max(0, line.need + line.ahead - has_now(line, marks))


def _staying(plan: Plan, day: Day, marks: Marks, opening: State, container: str) -> Iterator[Staying]:
    known = {line.supply for line in day.lines if line.container == container and not line.catch_up_for}
    known |= set(opening.contents.get(container, {}))
    for supply in sorted(known, key=lambda each: plan.name_of_supply(each).casefold()):
        count = held_now(container, supply, day, marks, opening.contents)
        if count and supply in plan.supply_by_id:
            whom = tuple(_for_whom(plan, day, opening, container, supply))
            yield Staying(supply, plan.name_of_supply(supply), count, whom or ("a rule asks for it now and then",))


def _for_whom(plan: Plan, day: Day, opening: State, container: str, supply: str) -> Iterator[str]:
    """Who needs it: the classes whose coming parts list it, those who catch up with it, the standing set."""
    today = {
        visit.class_id
        for line in day.lines
        if (line.container, line.supply, line.catch_up_for) == (container, supply, "")
        for visit in day.visits
        if visit.key in line.visits
    }
    for class_ in plan.classes:
        progress = progress_of(plan, opening, class_)
        lesson = plan.lesson_by_id.get(progress.lesson) if progress is not None else None
        part = None
        if progress is not None and lesson is not None:
            numbers = (n for n in range(progress.part, len(lesson.parts) + 1) if n not in progress.done_ahead)
            items = ((n, item) for n in numbers for item in lesson.parts[n - 1].items)
            listed = (n for n, item in items if item.supply == supply and item.is_for(class_.id))
            part = next(listed, None)
            if part is not None and container_for(plan, supply, class_.grade, lesson, "") != container:
                part = None
        when = " today" if class_.id in today else ""
        if part is not None and lesson is not None:
            yield f"{class_.id}{when} ({lesson.title}, part {part})"
        elif when:
            yield f"{class_.id}{when}"
        if container == box_of(class_.grade) and _catches_up_with(plan, opening, class_.id, supply):
            yield f"catch-up of {class_.id}"
    if supply in standing_in(plan, container):
        yield STANDING


def _catches_up_with(plan: Plan, opening: State, class_id: str, supply: str) -> bool:
    owed = [(each.lesson, each.part) for each in opening.owed.get(class_id, ())]
    owed += [(each.lesson, each.part) for each in opening.unfinished.get(class_id, ())]
    for lesson_id, number in owed:
        lesson = plan.lesson_by_id.get(lesson_id)
        if lesson is not None and 1 <= number <= len(lesson.parts):
            part = lesson.parts[number - 1]
            items = (*part.items, *part.short_version)
            if any(item.supply == supply and item.is_for(class_id) for item in items):
                return True
    return False


def _catch_up_kits(plan: Plan, day: Day, marks: Marks, opening: State, container: str) -> Iterator[Staying]:
    """What is packed already for those who catch up: their kits ride in the grade's box."""
    for class_ in plan.classes:
        kit = catch_up_kit_of(class_.id)
        if container != box_of(class_.grade):
            continue
        held = dict(opening.contents.get(kit, {}))
        held |= {supply: count for (place, supply), count in marks.contents.items() if place == kit}
        for line in day.lines:
            if line.catch_up_for == class_.id:
                held[line.supply] = has_now(line, marks)
        for supply, count in held.items():
            if count and supply in plan.supply_by_id:
                yield Staying(supply, plan.name_of_supply(supply), count, (f"catch-up kit of {class_.id}",))


def say_changeover(changeover: Changeover) -> str:
    """ "2 things to take out, 5 to put in, 7 stay"."""
    out = len(changeover.take_out) + len(changeover.forbidden)
    said = [f"{plural(out, 'thing')} to take out", f"{len(changeover.put_in)} to put in"]
    return ", ".join([*said, f"{len(changeover.leave)} to leave"])
