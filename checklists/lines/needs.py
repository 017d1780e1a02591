"""What one visit needs of each supply: the part's items, what rules add, with replacements and prohibitions applied."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct, structs

from checklists.lines.quantities import larger_spare, round_up, units_of
from checklists.lines.records import Because, Step, Visit
from checklists.plan.records import Group, Item, Plan, Spare
from checklists.rules.records import Add, Effect, Forbid, Quantity, Raise, Replace
from checklists.rules.vocabulary import marks_of_supply
from checklists.words import plural, say_number


class Need(Struct, frozen=True):
    """An amount of one supply for one visit, before spare and before visits are added up."""

    supply: str
    visit: str
    amount: float
    spared: float
    """The part of the amount that spare is added on."""
    per_student: bool
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
    reserve: int = 0
    """How many more to have for children nobody could say were absent; shares the margin with the spare."""
    container: str = ""
    because: tuple[Because, ...] = ()


def needs_of(
    plan: Plan, visit: Visit, step: Step, effects: Sequence[Effect]
) -> tuple[tuple[Need, ...], tuple[str, ...]]:
    """The needs of a visit if ``step`` is taught, one for each supply, and notes about what could not be met."""
    part = plan.lesson_by_id[step.lesson].parts[step.part - 1]
    needs: dict[str, Need] = {}
    if not visit.substitute or step.lesson == plan.school.habits.filler:
        for item in part.items:
            _put(needs, need_of_item(plan, visit, step.lesson, item), adding=True)
        for item in plan.lesson_by_id[step.lesson].extension:
            _put(needs, _need_of_extension(plan, visit, item), adding=True)
    notes: list[str] = []
    for effect in effects:
        if isinstance(effect.action, Add):
            _put(needs, _need_of_add(plan, visit, step.lesson, effect, effect.action), adding=False)
    for effect in effects:
        if isinstance(effect.action, Replace):
            notes.extend(_replace(plan, needs, visit, effect, effect.action))
    for effect in effects:
        match effect.action:
            case Raise():
                _raise(plan, needs, visit, effect, effect.action)
            case Forbid():
                _forbid(plan, needs, visit, effect, effect.action)
    return tuple(needs.values()), tuple(notes)


def need_of_item(plan: Plan, visit: Visit, lesson: str, item: Item) -> Need:
    """A part's own item as a need."""
    units = units_of(item.per, visit.students, visit.tables)
    amount = units * item.count
    said = _say_amount(visit, item.per, item.count, amount)
    group: Group | None = "Demo" if item.demo else None
    if item.supply in plan.class_by_id[visit.class_id].has and not item.demo:
        amount = round_up(amount * 0.2)
        said = f"{visit.class_id} has its own; a fifth as back-up"
    spared = amount if item.per in ("student", "pair") and not item.demo else 0
    if item.note:
        said = f"{said}; {item.note}"
    return Need(
        supply=item.supply,
        visit=visit.key,
        amount=amount,
        spared=spared,
        per_student=item.per in ("student", "pair"),
        lesson_wide=lesson if item.per == "lesson" else "",
        once=amount if item.per == "lesson" else 0,
        critical=item.critical,
        group=group,
        into=item.into,
        because=(Because(said, (visit.key,)),),
    )


def _need_of_extension(plan: Plan, visit: Visit, item: Item) -> Need:
    habits = plan.school.habits
    early = round_up(
        visit.students * (habits.early_share_young if visit.grade in ("PK", "K", "1") else habits.early_share)
    )
    said = f"about {plural(early, 'child')} done early"
    return Need(
        item.supply,
        visit.key,
        early * item.count,
        0,
        per_student=False,
        into=item.into,
        because=(Because(said, (visit.key,)),),
    )


def _say_amount(visit: Visit, per: str, count: float, amount: float) -> str:
    children = plural(visit.students, "child")
    if visit.about:
        children = f"about {children}"
    match per:
        case "student":
            return children if count == 1 else f"{children}, {say_number(count)} each: {say_number(amount)}"
        case "pair":
            each = "per pair" if count == 1 else f"{say_number(count)} per pair"
            return f"{children}, {each}: {say_number(amount)}"
        case "table":
            each = "" if count == 1 else f", {say_number(count)} each: {say_number(amount)}"
            return f"{plural(visit.tables, 'table')}{each}"
        case "lesson":
            return f"{say_number(amount)} for all classes of the lesson"
    return f"{say_number(amount)} for the class"


def _put(needs: dict[str, Need], need: Need, *, adding: bool) -> None:
    """Take a need in. A part's own items of one supply add up; of what rules add to it the largest counts."""
    before = needs.get(need.supply)
    if before is None:
        needs[need.supply] = need
        return
    larger = before if before.amount >= need.amount else need
    needs[need.supply] = structs.replace(
        before,
        amount=before.amount + need.amount if adding else larger.amount,
        spared=before.spared + need.spared if adding else larger.spared,
        per_student=before.per_student and need.per_student if adding else larger.per_student,
        lesson_wide=before.lesson_wide or need.lesson_wide if adding else larger.lesson_wide,
        once=before.once + need.once if adding else larger.once,
        critical=before.critical or need.critical,
        group=_group_of_both(before.group, need.group, adding),
        spare=before.spare or need.spare,
        into=before.into or need.into,
        because=before.because + need.because,
    )


def _group_of_both(before: Group | None, after: Group | None, adding: bool) -> Group | None:
    """What the children use and the teacher shows stands where the children's does; a rule's group counts."""
    if before == after or adding:
        return before if before == after else None
    return before or after


def _because(effect: Effect, visit: Visit, text: str = "") -> tuple[Because, ...]:
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


def _amount_of(plan: Plan, visit: Visit, quantity: Quantity) -> float:
    class_ = plan.class_by_id[visit.class_id]
    pieces = max((plan.lesson_by_id[step.lesson].parts[step.part - 1].pieces_each for step in visit.steps), default=1)
    needs = {need.need: need.count for need in class_.needs}
    units = units_of(quantity.per, visit.students, visit.tables, pieces, needs)
    return round_up((units * quantity.count + quantity.plus) / (quantity.each_holds or 1))


def _need_of_add(plan: Plan, visit: Visit, lesson: str, effect: Effect, add: Add) -> Need:
    amount = _amount_of(plan, visit, add)
    return Need(
        supply=add.supply,
        visit=visit.key,
        amount=amount,
        spared=0 if add.spare == "none" else amount,
        per_student=add.per in ("student", "pair"),
        lesson_wide=lesson if add.per == "lesson" else "",
        once=amount if add.per == "lesson" else 0,
        spare=add.spare if isinstance(add.spare, Spare) else None,
        critical=add.critical,
        group=add.group or None,
        into=add.into,
        because=_because(effect, visit),
    )


def _matching(plan: Plan, needs: dict[str, Need], what: str, item: str) -> list[Need]:
    """Needs of ordinary supplies that a rule speaks of: those so marked, or "item", the one its conditions found."""
    if what == "item":
        return [needs[item]] if item in needs else []
    return [
        need
        for need in needs.values()
        if not need.adapted
        and need.supply in plan.supply_by_id
        and (what == need.supply or what in marks_of_supply(plan.supply_by_id[need.supply]))
    ]


def _replace(plan: Plan, needs: dict[str, Need], visit: Visit, effect: Effect, action: Replace) -> Iterable[str]:
    """Move an amount from ordinary supplies to the one that takes their place; the total stays."""
    pool = [need for need in _matching(plan, needs, action.what, effect.item) if need.supply != action.supply]
    total = sum(need.amount for need in pool)
    if not total:
        return
    wanted = total if action.everything else _amount_of(plan, visit, action)
    left = min(wanted, total)
    if wanted > total:
        yield (
            f"{visit.name} {visit.class_id}: {effect.rule.title.lower()} asks for {say_number(wanted)}, "
            f"but there are only {say_number(total)} to replace."
        )
    taken_from: list[Need] = []
    for need in pool:
        taken = min(left, need.amount)
        if taken <= 0:
            continue
        left -= taken
        taken_from.append(need)
        if taken >= need.amount:
            del needs[need.supply]
        else:
            left_over = need.amount - taken
            because = (*need.because, *_because(effect, visit))
            needs[need.supply] = structs.replace(
                need, amount=left_over, once=min(need.once, left_over), because=because
            )
    if not taken_from:
        return
    whole = taken_from[0]
    if action.everything:
        for need in taken_from[1:]:
            whole = _together(whole, need)
    moved = structs.replace(
        whole,
        supply=action.supply,
        amount=min(wanted, total),
        spared=whole.spared if action.everything else 0,
        once=whole.once if action.everything else 0,
        critical=action.critical or (whole.critical and action.everything),
        group=action.group or whole.group,
        into="",
        adapted=not action.everything,
        because=(*(whole.because if action.everything else ()), *_because(effect, visit)),
    )
    before = needs.get(action.supply)
    needs[action.supply] = moved if before is None else _together(before, moved, of=moved)


def _together(one: Need, other: Need, of: Need | None = None) -> Need:
    """Two needs of a visit as one: amounts add up, reasons are stacked. What else there is stays as in ``of``."""
    return structs.replace(
        of or one,
        amount=one.amount + other.amount,
        spared=one.spared + other.spared,
        per_student=one.per_student and other.per_student,
        lesson_wide=one.lesson_wide or other.lesson_wide,
        once=one.once + other.once,
        critical=one.critical or other.critical,
        because=one.because + other.because,
    )


def _raise(plan: Plan, needs: dict[str, Need], visit: Visit, effect: Effect, action: Raise) -> None:
    for need in _matching(plan, needs, action.what, effect.item):
        needs[need.supply] = structs.replace(
            need,
            amount=need.amount * action.times,
            spared=need.spared * action.times,
            once=need.once * action.times,
            raised=larger_spare(need.raised, action.spare),
            because=(*need.because, *_because(effect, visit)),
        )


def _forbid(plan: Plan, needs: dict[str, Need], visit: Visit, effect: Effect, action: Forbid) -> None:
    """Mark what must not come along, and put what to use in its place on the list where that is known."""
    for need in _matching(plan, needs, action.what, effect.item):
        supply = plan.supply_by_id[need.supply]
        instead = need.instead or action.instead or supply.instead or ""
        needs[need.supply] = structs.replace(
            need, forbidden=effect.because, instead=instead, because=(*need.because, *_because(effect, visit))
        )
        if need.instead or instead not in plan.supply_by_id:
            continue  # a second rule against the same thing does not ask for its replacement twice
        said = f"in place of {supply.name}: {effect.because}"
        replacing = structs.replace(need, supply=instead, into="", forbidden="", because=_because(effect, visit, said))
        before = needs.get(instead)
        needs[instead] = replacing if before is None else _together(before, replacing)
