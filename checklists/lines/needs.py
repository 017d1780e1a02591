"""What one visit needs of each supply: the part's items, what rules add, with replacements and prohibitions applied."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import structs

from checklists.class_places import parts_done, parts_done_before
from checklists.daybook.state import Progress
from checklists.lines.amending import forbid_all, raise_need, replace_part
from checklists.lines.containers import FOLDER_SUPPLY
from checklists.lines.in_the_room import have_of_their_own
from checklists.lines.need import Need, amount_of, because_of
from checklists.lines.quantities import larger_spare, round_up, units_of
from checklists.lines.records import Because, Step, Visit
from checklists.plan.records import Group, Item, Plan, Spare
from checklists.rules.records import Add, Effect, Raise, Replace
from checklists.words import plural, say_number


def needs_of(
    plan: Plan, visit: Visit, step: Step, effects: Sequence[Effect]
) -> tuple[tuple[Need, ...], tuple[str, ...]]:
    """The needs of a visit if ``step`` is taught, one for each supply, and notes about what could not be met."""
    part = plan.lesson_by_id[step.lesson].parts[step.part - 1]
    needs: dict[str, Need] = {}
    if not visit.substitute or step.lesson == plan.school.habits.filler:
        in_work = kept_in_work(plan, visit.class_id, step.lesson, parts_done_before(visit, step))
        for item in part.items:
            if item.is_for(*visit.classes) and not (item.stays_in_work and item.supply in in_work):
                _put(needs, need_of_item(plan, visit, step.lesson, item), adding=True)
        for item in plan.lesson_by_id[step.lesson].extension:
            if item.is_for(*visit.classes):
                _put(needs, need_of_extension(plan, visit, item), adding=True)
    notes: list[str] = []
    for effect in effects:
        if isinstance(effect.action, Add):
            _put(needs, _need_of_add(plan, visit, step.lesson, effect, effect.action), adding=False)
    for effect in effects:
        if isinstance(effect.action, Replace):
            notes.extend(replace_part(plan, needs, visit, effect, effect.action))
    for effect in effects:
        if isinstance(effect.action, Raise):
            raise_need(plan, needs, visit, effect, effect.action)
    forbid_all(plan, needs, visit, effects)
    return tuple(needs.values()), tuple(notes)


def kept_in_work(plan: Plan, class_id: str, lesson: str, parts: Iterable[int]) -> frozenset[str]:
    """Tools that have stayed in the work of a class's children since they did these parts of a lesson."""
    known = plan.lesson_by_id[lesson].parts
    done = (known[n - 1] for n in parts if n <= len(known))
    items = (item for part in done for item in part.items)
    return frozenset(item.supply for item in items if item.stays_in_work and item.is_for(class_id))


def folders_of_others(visit: Visit, step: Step, found: Sequence[Need], at: Mapping[str, Progress]) -> Iterator[Need]:
    """The folders of other classes whose children are there and go on with their own work, or begin it.

    ``found`` is what the visit needs for its own class; ``at`` has the place of each class.
    """
    for others in (*visit.guests, *visit.joined):
        own = at.get(others.of)
        if own is None or own.lesson != step.lesson:
            continue
        if parts_done(own):
            said = f"{plural(others.count, 'child')} of {others.of} with {visit.class_id}: take their work out of it"
            yield _folder(visit, others.of, (Because(said, (visit.key,)),))
        elif others in visit.joined and own.part == step.part:
            yield from (_folder(visit, others.of, each.because) for each in found if each.supply == FOLDER_SUPPLY)


def _folder(visit: Visit, class_id: str, because: tuple[Because, ...]) -> Need:
    return Need(FOLDER_SUPPLY, visit.key, 1, 0, per_student=False, critical=True, of_class=class_id, because=because)


def need_of_item(plan: Plan, visit: Visit, lesson: str, item: Item) -> Need:
    """A part's own item as a need."""
    units = units_of(item.per, visit.students, visit.tables)
    amount = units * item.count
    said = _say_amount(visit, item.per, item.count, amount)
    group: Group | None = "Demo" if item.demo else None
    if not item.demo and have_of_their_own(plan, visit, item.supply):
        share = plan.school.habits.back_up_share
        amount = round_up(amount * share)
        said = f"{visit.class_id} has its own; {share * 100:g} % as back-up"
    spared = amount if item.per in ("student", "pair") and not item.demo else 0
    if item.note:
        said = f"{said}; {item.note}"
    if visit.next_part:
        said = f"{said}; part {visit.steps[0].part} was chosen for {visit.name}, part {visit.next_part} stays next"
    return Need(
        supply=item.supply,
        visit=visit.key,
        amount=amount,
        spared=spared,
        per_student=item.per in ("student", "pair"),
        each=item.count if spared else 0,
        lesson_wide=lesson if item.per == "lesson" else "",
        once=amount if item.per == "lesson" else 0,
        critical=item.critical,
        group=group,
        into=item.into,
        stays_in_work=item.stays_in_work,
        because=(Because(said, (visit.key,)),),
    )


def need_of_extension(plan: Plan, visit: Visit, item: Item) -> Need:
    """An item for those who finish early as a need."""
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
    if not need.amount:
        return  # of what comes to nothing there is no line, and it changes none
    before = needs.get(need.supply)
    if before is None:
        needs[need.supply] = need
        return
    larger = before if before.amount >= need.amount else need
    needs[need.supply] = structs.replace(
        before,
        amount=before.amount + need.amount if adding else larger.amount,
        spared=before.spared + need.spared if adding else max(before.spared, need.spared),
        per_student=before.per_student and need.per_student if adding else larger.per_student,
        each=before.each + need.each,
        stays_in_work=before.stays_in_work or need.stays_in_work,
        lesson_wide=before.lesson_wide or need.lesson_wide if adding else larger.lesson_wide,
        once=before.once + need.once if adding else larger.once,
        critical=before.critical or need.critical,
        group=_group_of_both(before.group, need.group, adding),
        spare=larger_spare(before.spare, need.spare),
        into=before.into or need.into,
        because=before.because + need.because,
    )


def _group_of_both(before: Group | None, after: Group | None, adding: bool) -> Group | None:
    """What the children use and the teacher shows stands where the children's does; a rule's group counts."""
    if before == after or adding:
        return before if before == after else None
    return before or after


def _need_of_add(plan: Plan, visit: Visit, lesson: str, effect: Effect, add: Add) -> Need:
    amount = amount_of(plan, visit, add)
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
        because=because_of(effect, visit),
    )
