"""Containers: their ids and names, what they hold at first, and which one a supply rides in."""

from __future__ import annotations

from checklists.plan.records import Lesson, Plan

CART = "cart"
FOLDER_SUPPLY = "class-folder"
"""The built-in supply a rule adds to have a class's folder along; every class has its own."""


FOLDER = "folder "
"""How the ids of class folders begin."""
CATCH_UP_KIT = "catch-up "
"""How the names begin under which the contents of catch-up kits are kept."""


def box_of(grade: str) -> str:
    """Id of the box of a grade."""
    return f"box-{grade}"


def folder_of(class_id: str) -> str:
    """Id of the folder of a class: its unfinished work."""
    return f"{FOLDER}{class_id}"


def catch_up_kit_of(class_id: str) -> str:
    """Name under which the contents of a class's catch-up kit are kept; the kit rides in the grade's box."""
    return f"{CATCH_UP_KIT}{class_id}"


def name_of(plan: Plan, container: str) -> str:
    """What a container is called on screen and on paper."""
    if container == CART:
        return "Cart"
    if container.startswith("box-"):
        return f"Box {container.removeprefix('box-')}"
    kit = plan.kit_by_id.get(container)
    if kit is not None:
        return kit.name if "kit" in kit.name.casefold().split() else f"{kit.name} kit"
    return container[:1].upper() + container[1:]


def kits_along(plan: Plan, lesson: Lesson, part: int, grade: str) -> tuple[str, ...]:
    """Kits of a lesson that a part of it needs: those it takes something from, and those no part says a thing of."""

    def takes_from(kit: str, number: int) -> bool:
        each = lesson.parts[number - 1]
        items = (*each.items, *each.short_version)
        return any(container_for(plan, item.supply, grade, lesson, item.into) == kit for item in items)

    numbers = range(1, len(lesson.parts) + 1)
    return tuple(
        kit
        for kit in lesson.kits
        if takes_from(kit, part) or not any(takes_from(kit, number) for number in numbers if number != part)
    )


def container_for(plan: Plan, supply: str, grade: str, lesson: Lesson | None, into: str = "") -> str:
    """Where a supply rides: as the lesson says, else the lesson's kit that holds it, the cart, or the grade's box."""
    if into == "box":
        return box_of(grade)
    if into:
        return into
    if lesson is not None:
        for kit in lesson.kits:
            if kit in plan.kit_by_id and supply in plan.kit_by_id[kit].holds:
                return kit
    return CART if supply in plan.school.cart.standing else box_of(grade)


def home_of(plan: Plan, supply: str) -> str | None:
    """The container a supply stands in when everything is where it belongs; None for the shelf."""
    if supply in plan.school.cart.standing:
        return CART
    kits = (kit.id for kit in plan.kits if supply in kit.holds)
    boxes = (box_of(box.grade) for box in plan.boxes if supply in box.standing)
    return next(kits, next(boxes, None))


def standing_in(plan: Plan, container: str) -> dict[str, int]:
    """What stands in a container all the time: supply -> how many."""
    if container == CART:
        return plan.school.cart.standing
    if container in plan.kit_by_id:
        return plan.kit_by_id[container].holds
    box = plan.box_by_grade.get(container.removeprefix("box-"))
    return box.standing if box is not None else {}


def full_contents(plan: Plan) -> dict[str, dict[str, int]]:
    """What every container holds when it is full: the start of the year."""
    held = {CART: dict(plan.school.cart.standing)}
    held |= {box_of(box.grade): dict(box.standing) for box in plan.boxes}
    held |= {kit.id: dict(kit.holds) for kit in plan.kits}
    return {container: supplies for container, supplies in held.items() if supplies}
