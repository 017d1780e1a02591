"""What boxes and the cart weigh, and whether everything has room in them, as far as masses and sizes are known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from checklists.daybook.state import State
from checklists.lines.containers import CART, FOLDER
from checklists.lines.records import Container, Line, Visit
from checklists.lines.tied_up import legs_of
from checklists.plan.records import Bells, Box, Kit, Plan
from checklists.words import join_words, say_number


class Load(Struct, frozen=True):
    """A load that is too much: what to say of it, for which visit."""

    key: str
    text: str
    why: str
    visit: Visit
    critical: bool


def grams_of(plan: Plan, line: Line) -> float:
    """Mass of a line packed in full."""
    supply = plan.supply_by_id.get(line.supply)
    return (supply.grams or 0) * max(line.need + line.ahead, line.in_it) if supply is not None else 0


def held_when_packed(state: State, container: str, lines: Sequence[Line]) -> dict[str, int]:
    """Supply -> how many a container holds once its lines are packed, pails beside it left out."""
    held = dict(state.contents.get(container, {}))
    for line in lines:
        if line.container != container:
            continue
        if line.pail:
            held.pop(line.supply, None)
            continue
        count = max(line.need + line.ahead, line.in_it)
        before = held.get(line.supply, 0)
        held[line.supply] = before + count if line.catch_up_for else max(count, before)
    return held


def grams_in(plan: Plan, state: State, container: str, lines: Sequence[Line]) -> float:
    """Mass of a container packed, itself included where anything in it has a mass."""
    held = held_when_packed(state, container, lines)
    supplies = plan.supply_by_id
    inside = sum((supplies[each].grams or 0) * count for each, count in held.items() if each in supplies)
    return inside + box_or_kit(plan, container).empty_grams if inside and container != CART else inside


def litres_in(plan: Plan, state: State, container: str, lines: Sequence[Line]) -> float:
    """Room taken up in a container packed, as far as sizes are known."""
    held = held_when_packed(state, container, lines)
    supplies = plan.supply_by_id
    return sum((supplies[each].litres or 0) * count for each, count in held.items() if each in supplies)


def too_much(
    plan: Plan,
    state: State,
    bells: Bells,
    visits: Sequence[Visit],
    containers: Sequence[Container],
    lines: Sequence[Line],
) -> Iterator[Load]:
    """Boxes over what one person lifts, boxes whose lid comes off, a cart over what she pushes."""
    by_key = {visit.key: visit for visit in visits}
    for container in containers:
        if container.id != CART and container.visits:
            yield from _of_box(plan, state, container, [by_key[key] for key in container.visits], lines)
    yield from _of_cart(plan, state, bells, visits, containers, lines)
    yield from _of_top_tray(plan, bells, visits, lines)


def _of_box(
    plan: Plan, state: State, container: Container, visits: Sequence[Visit], lines: Sequence[Line]
) -> Iterator[Load]:
    habits, visit = plan.school.habits, visits[0]
    kilograms = round(grams_in(plan, state, container.id, lines) / 1000, 1)
    if kilograms > habits.box_limit_kg:
        never = kilograms > habits.never_lift_kg
        how = "nobody lifts that alone" if never else "take some of it by itself"
        yield Load(
            f"heavy/{container.id}",
            f"{container.name} is {say_number(kilograms)} kg packed: {how}.",
            f"your limit for a box is {say_number(habits.box_limit_kg)} kg, and {say_number(habits.never_lift_kg)} kg"
            " is for two; local rules come before that",
            visit,
            critical=never,
        )
    room = box_or_kit(plan, container.id).litres * habits.filled_share
    litres = litres_in(plan, state, container.id, lines)
    if room and litres > room:
        lessons = dict.fromkeys(plan.lesson_by_id[step.lesson].title for each in visits for step in each.steps)
        both = f" for {join_words(lessons)}" if lessons else ""
        yield Load(
            f"full/{container.id}",
            f"{container.name} does not close: about {round(litres)} L{both}, room for {say_number(room)} L.",
            f"a box is filled to {habits.filled_share * 100:g} %",
            visit,
            critical=False,
        )


def _of_cart(
    plan: Plan,
    state: State,
    bells: Bells,
    visits: Sequence[Visit],
    containers: Sequence[Container],
    lines: Sequence[Line],
) -> Iterator[Load]:
    limit = plan.school.cart.limit_kg
    for leg in legs_of(bells, visits):
        along = [each for each in containers if each.id == CART or not leg.keys().isdisjoint(each.visits)]
        grams = sum(grams_in(plan, state, each.id, lines) for each in along)
        grams += sum(grams_of(plan, line) for line in lines if line.pail and not leg.keys().isdisjoint(line.visits))
        if grams > limit * 1000:
            first = next(iter(leg.values()))
            yield Load(
                f"cart/{first.key}",
                f"From {first.name} on the cart carries {round(grams / 1000)} kg: leave a box ahead, or stop"
                " at the store between.",
                f"your limit for what the cart carries is {say_number(limit)} kg",
                first,
                critical=False,
            )


def _of_top_tray(plan: Plan, bells: Bells, visits: Sequence[Visit], lines: Sequence[Line]) -> Iterator[Load]:
    """More folders in a leg than lie on top: the later ones ride in their boxes."""
    most = plan.school.cart.folders_on_top
    for leg in legs_of(bells, visits):
        folders = [line for line in lines if line.supply.startswith(FOLDER) and not leg.keys().isdisjoint(line.visits)]
        in_order = sorted(folders, key=lambda line: min(leg[key].number for key in line.visits if key in leg))
        below = [line.supply.removeprefix(FOLDER) for line in in_order[most:]]
        if below:
            first = next(iter(leg.values()))
            many = "folder" if len(below) == 1 else "folders"
            yield Load(
                f"top tray/{first.period}",
                f"{len(folders)} folders from {first.name} on: {most} lie on top, the {many} of {join_words(below)}"
                f" {'rides' if len(below) == 1 else 'ride'} in the box.",
                f"the top tray takes {most} folders beside your own tray",
                first,
                critical=False,
            )


def box_or_kit(plan: Plan, container: str) -> Box | Kit:
    """The box or kit; a grade without an entry has a usual box all the same."""
    grade = container.removeprefix("box-")
    return plan.kit_by_id.get(container) or plan.box_by_grade.get(grade) or Box(grade)
