"""What may be wrong with what a lesson says: how many, for whom, whether at all, how urgent, where it rides."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checklists.line_changes.listed import Listed, with_item
from checklists.line_changes.records import LineChange, Offer, Way
from checklists.lines.containers import name_of
from checklists.plan.class_notes import CannotNote
from checklists.plan.plan_files import PlanFiles
from checklists.plan.records import Basis, Item, Plan
from checklists.words import join_words, say_number

MOST = 1000
"""More than this for one child, pair, table or class is mistyped."""
FOR_EACH: dict[Basis, str] = {
    "student": "for each child",
    "pair": "for each pair",
    "table": "for each table",
    "class": "for the class",
    "lesson": "for all classes of the lesson",
}


def count_offer(plan: Plan, listed: Listed) -> Offer:
    """Another number for each child, pair, table or class."""
    name, item = plan.name_of_supply(listed.item.supply), listed.item

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        count = amount_typed(typed)
        changed = with_item(files, listed, lambda each: structs.replace(each, count=count))
        return LineChange(f"{listed.where}: {say_number(count)} {name} {FOR_EACH[item.per]}", files=changed)

    return Offer(
        f"count {listed.key}",
        f"{say_number(item.count)} {FOR_EACH[item.per]}: another number",
        f"{listed.where}, in every class",
        "typed",
        make,
        hint=f"How many {FOR_EACH[item.per]}? 0.5 is half of one.",
    )


def not_for_offers(plan: Plan, listed: Listed) -> Iterator[Offer]:
    """Left out for one class."""
    name = plan.name_of_supply(listed.item.supply)
    for class_id in listed.classes:

        def make(files: PlanFiles, typed: str, reason: str, class_id: str = class_id) -> LineChange:
            def leave_out(each: Item) -> Item:
                return structs.replace(each, not_for=(*each.not_for, class_id))

            return LineChange(f"{listed.where}: no {name} for {class_id}", files=with_item(files, listed, leave_out))

        counts = f"{listed.where}, {class_id} alone"
        yield Offer(f"not for {class_id} {listed.key}", f"not for {class_id}", counts, "nothing", make)


def out_offer(plan: Plan, listed: Listed) -> Offer:
    """Out of the part for everybody."""
    name = plan.name_of_supply(listed.item.supply)

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        return LineChange(f"{listed.where}: no {name} any more", files=with_item(files, listed, lambda _: None))

    return Offer(f"out {listed.key}", "not any more", f"{listed.where}, in every class", "nothing", make)


def basis_offer(plan: Plan, listed: Listed) -> Offer:
    """Counted by something else."""
    name, item = plan.name_of_supply(listed.item.supply), listed.item

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        per = next((each for each in FOR_EACH if each == typed), item.per)
        changed = with_item(files, listed, lambda each: structs.replace(each, per=per))
        return LineChange(f"{listed.where}: {say_number(item.count)} {name} {FOR_EACH[per]}", files=changed)

    ways = tuple(Way(per, f"{say_number(item.count)} {words}") for per, words in FOR_EACH.items() if per != item.per)
    counts = f"{listed.where}, in every class"
    return Offer(f"per {listed.key}", f"{FOR_EACH[item.per]}: counted otherwise", counts, "choice", make, ways=ways)


def critical_offer(plan: Plan, listed: Listed) -> Offer:
    """Whether the part can begin without it."""
    name, now = plan.name_of_supply(listed.item.supply), listed.item.critical

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        changed = with_item(files, listed, lambda each: structs.replace(each, critical=not now))
        return LineChange(f"{listed.where}: {name} {'not critical' if now else 'critical'}", files=changed)

    label = "not critical: the part can begin without it" if now else "critical: the part cannot begin without it"
    return Offer(f"critical {listed.key}", label, f"{listed.where}, in every class", "nothing", make)


def container_offer(plan: Plan, listed: Listed) -> Offer:
    """Where it rides."""
    name, item = plan.name_of_supply(listed.item.supply), listed.item
    names = {"": "as usual: the lesson's kit that holds it, the cart, or the grade's box", "box": "the grade's box"}
    names |= {"cart": "the cart", **{kit.id: name_of(plan, kit.id) for kit in plan.kits}}

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        if typed not in names:
            raise CannotNote(f"It can ride in {join_words(list(names.values())[1:], 'or')}.")
        changed = with_item(files, listed, lambda each: structs.replace(each, into=typed))
        return LineChange(f"{listed.where}: {name} in {names[typed] if typed else 'its usual place'}", files=changed)

    ways = tuple(Way(key, label) for key, label in names.items() if key != item.into)
    return Offer(
        f"into {listed.key}", "in another container", f"{listed.where}, in every class", "choice", make, ways=ways
    )


def instead_offer(plan: Plan, listed: Listed) -> Offer:
    """Another supply in this part."""
    name = plan.name_of_supply(listed.item.supply)

    def make(files: PlanFiles, typed: str, reason: str) -> LineChange:
        if typed not in plan.supply_by_id:
            raise CannotNote(f'There is no supply "{typed}" in the catalogue.')
        changed = with_item(files, listed, lambda each: structs.replace(each, supply=typed))
        return LineChange(f"{listed.where}: {plan.name_of_supply(typed)} in place of {name}", files=changed)

    ways = tuple(Way(each.id, each.name) for each in plan.supplies if each.id != listed.item.supply)
    return Offer(
        f"instead {listed.key}", "something else instead", f"{listed.where}, in every class", "choice", make, ways=ways
    )


def amount_typed(typed: str) -> float:
    """ "2", "0.5" or ".5". Raises CannotNote."""
    digits = typed.replace(",", ".")
    if digits.isascii() and digits.replace(".", "", 1).isdigit() and len(digits) <= 8 and 0 < float(digits) <= MOST:
        return float(digits)
    raise CannotNote(f"A number above 0 and at most {MOST}, like 2 or 0.5. None of it at all: not any more.")
