"""Who is in the room in a visit: the class, the classes taught together with it, guests; what they need and avoid."""

from __future__ import annotations

from checklists.lines.records import Visit
from checklists.plan.records import Plan, SchoolClass, grade_number


def classes_in(plan: Plan, visit: Visit) -> tuple[SchoolClass, ...]:
    """The classes that are there as a whole, the visit's own first."""
    return tuple(plan.class_by_id[each] for each in visit.classes)


def needs_in(plan: Plan, visit: Visit) -> dict[str, int]:
    """Need -> how many children of these classes have it."""
    found: dict[str, int] = {}
    for class_ in classes_in(plan, visit):
        of_class = {need.need: need.count for need in class_.needs}
        found |= {need: found.get(need, 0) + count for need, count in of_class.items()}
    return found


def avoided_in(plan: Plan, visit: Visit) -> frozenset[str]:
    """What must not come along because a class avoids it; of guests nobody knows which of their class they are."""
    guests = (plan.class_by_id.get(each.of) for each in visit.guests)
    there = (*classes_in(plan, visit), *(each for each in guests if each is not None))
    return frozenset(word for class_ in there for word in class_.avoid)


def have_of_their_own(plan: Plan, visit: Visit, supply: str) -> bool:
    """Whether everybody has a supply already."""
    return all(supply in class_.has for class_ in classes_in(plan, visit))


def youngest_grade_in(plan: Plan, visit: Visit) -> int:
    """The grade that what is safe goes by."""
    return min(grade_number(class_.grade) for class_ in classes_in(plan, visit))
